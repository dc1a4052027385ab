"""Every sheet on every paper, in one place: usual inputs and nasty ones. Composed, rendered and read once a run."""

from __future__ import annotations

import io
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache

import pypdf
from compare import in_order
from pdf_reader import read_pdf
from readers import Sheet
from svg_reader import read_svg

from jigs.guides import catalogue
from jigs.guides.catalogue import Words, find_sheet, sheets
from layouts.affine import Affine
from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.pens import Role
from layouts.lengths import said_in
from layouts.pages.page import Content, Field, Page, Setup
from layouts.pages.paper import find_paper
from layouts.pages.sheet import compose
from layouts.render.pdf import write_pdf
from layouts.render.svg import write_svg

PAPERS = ("a4", "letter", "a5", "a3", "legal")
NASTY = "<b>&\"x' ]]> {0} %s \\ (½″ → Ø) --> &amp;"
CORRECTION = Affine(a=1.0021, b=0.0004, c=-0.0007, d=0.9968, e=0.3, f=-0.2)


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One sheet with one set of inputs on one paper."""

    sheet: str
    variant: str
    paper: str
    landscape: bool = False

    def __str__(self) -> str:
        way = "-landscape" if self.landscape else ""
        return f"{self.sheet}-{self.variant}-{self.paper}{way}"


def _every_mark(field: Field) -> Sequence[Drawing]:
    """One of each mark, in odd places and sizes, none across another's words."""
    draft = Draft()
    draft.disc(12.3456, 12.34567, 10 / 3)
    draft.circle(30, 12, 9.99999, Role.CUT)
    draft.annulus(52, 12, 10.00001, 8.123456)
    draft.annulus(72.00000499, 12.00001499, 6.4567849, 0.05)
    for number, (start, sweep) in enumerate(((0, 360), (10, -350), (-730.5, 180), (90, 1), (45, 91), (300, -180))):
        draft.arc(10 + 16 * number, 34, 7.7777, start, sweep, Role.FOLD)
    draft.line(0.3, 44, 99.9, 46, Role.AID)
    draft.polyline(((2, 48), (30, 50.5), (60, 48.25), (99, 52)), Role.TICK)
    draft.polyline(((2, 54), (30, 56.5), (33, 54)), Role.HOLE, closed=True)
    draft.patch(((40, 54), (60, 56.5), (63, 54)), Role.TINT)
    draft.bar(70, 54, 20, 1.5)
    draft.text(2, 60, NASTY[:20], 2.6)
    draft.text(99, 64, NASTY[20:], 2.6, anchor="end", bold=True, role=Role.AID)
    draft.text(3, 68, "Füße, Ø 5 × ½ ″ µ π", 3.3)
    draft.text(60, 68, "twenty", 3.1, anchor="middle", angle_deg=20)
    draft.text(95, 68, "upright", 2.4, angle_deg=90)
    return [draft.drawing(100, 79, "every mark")]


def _plain(field: Field) -> Sequence[Drawing]:
    return [_disc(r) for r in (2.5, 4.0, 1.25, 8.0, 6.35)] * 9


@cache
def _disc(r: float) -> Drawing:
    draft = Draft()
    draft.disc(r + 0.5, r + 0.5, r)
    return draft.drawing(2 * r + 1, 2 * r + 1, "disc")


def _frame(title: str, draw: Callable[[Field], Sequence[Drawing]]) -> Content:
    facts = (("wire", "16 AWG (1.291 mm)"), ("inside", "5.0 mm"), ("label", NASTY))
    return Content(title=title, facts=facts, draw=draw, notes=("One note.",), cautions=("wire ends cut fingers.",))


def _frames() -> dict[tuple[str, str], Callable[[], Content]]:
    return {
        ("frame", "discs"): lambda: _frame("Discs", _plain),
        ("frame", "every-mark"): lambda: _frame("Every mark", _every_mark),
        ("frame", "corrected"): lambda: _frame("Every mark, corrected", _every_mark),
    }


_ODD_DOWELS: dict[str, Words] = {
    "diameter": ("4.31 mm", "12.71 mm"),
    "second_diameter": ("4.31 mm", "12.4 mm"),
    "wire": ("24 SWG", "2 mm"),
    "turns": ("25", "10"),
    "drills": ("number", "inch"),
    "second": ("hole", "slot"),
}
_MORE: dict[tuple[str, str], Mapping[str, Words]] = {  # beside each sheet's own first example
    ("ring-card", "corrected"): {"wire": "16 AWG", "inside": ("5 mm", "6.5 mm"), "tolerance": "0.1 mm"},
    ("ring-card", "many"): {"wire": ("16 AWG", "18 SWG"), "inside": "3 mm..8 mm by 0.5 mm"},
    ("ring-card", "nasty"): {
        "wire": ("0.4 mm", "16 AWG", "3.2 mm"),
        "inside": ("1.501 mm", "5/16 in", "12.7 mm", "21.37 mm"),
        "tolerance": "0.05 mm",
    },
    ("ring-card", "inch-many"): {"wire": ("16 AWG", "1.2 mm"), "inside": "3 mm..8 mm by 0.5 mm", "tolerance": "0.1 mm"},
    ("dowel", "nasty"): _ODD_DOWELS,
    ("dowel", "inch-odd"): _ODD_DOWELS,
    ("dowel", "many"): {
        **_ODD_DOWELS,
        "diameter": ("4.31 mm", "12.71 mm", "4.31 mm", "12.71 mm", "6 mm"),
        "second_diameter": (),
        "wire": ("24 SWG", "2 mm", "24 SWG", "2 mm", "16 AWG"),
        "turns": ("25", "10", "25", "10", "6"),
        "drills": ("number", "inch", "number", "inch", "metric"),
        "second": ("hole", "slot", "hole", "slot", "hole"),
        "paper_thickness": "0.25 mm",
        "from_end": "14 mm",
    },
    ("dowel", "tiled"): {"diameter": "90 mm", "wire": "2 mm"},
    ("measuring", "nasty"): {
        "wire": ("0.4 mm", "24 SWG", "1.201 mm", "2.9 mm"),
        "paper_thickness": "0.287 mm",
        "inside": "7.31 mm",
        "rings": "17",
    },
    ("ruler", "usual"): {"length": "100 mm"},
    ("ruler", "corrected"): {"length": "100 mm"},
    ("ruler", "nasty"): {"length": "61.3 mm"},
    ("ruler", "tiled"): {"length": "777.7 mm"},
    ("bench-pin", "left"): {"hand": "left"},
    ("bench-pin", "nasty"): {
        "length": "127.013 mm",
        "width": "63.5 mm",
        "thickness": "22.2 mm",
        "coil_outside": "11.37 mm",
        "blade": "8/0",
    },
    ("bench-pin", "vee"): {"layout": "vee"},
    ("bench-pin", "groove-and-guide"): {"layout": ("groove", "guide"), "hand": "left"},
    ("bench-pin", "kerfs"): {"layout": "kerfs", "blade": "8"},
}


def _made(sheet: catalogue.Sheet, given: Mapping[str, Words]) -> Callable[[], Content]:
    return lambda: sheet.make(given).content


@cache
def contents() -> dict[tuple[str, str], Callable[[], Content]]:
    """What there is to draw, by sheet and variant: every sheet of the catalogue, and drawings of no sheet."""
    given: dict[tuple[str, str], Mapping[str, Words]] = {
        (sheet.name, variant): sheet.example()
        for sheet in sheets()
        for variant in ("usual", "nasty", "corrected", "inch")
    }
    made = {case: _made(find_sheet(case[0]), words) for case, words in {**given, **_MORE}.items()}
    return {**_frames(), **made}


FULL = ("usual", "nasty", "every-mark")  # on every paper, both ways; the others on the two usual papers
SHEETS = tuple(sheet.name for sheet in sheets())


def setup(case: Case) -> Setup:
    """The paper of a case, with a title and a date that no mark-up may be made of."""
    nasty = case.variant != "usual"
    return Setup(
        paper=find_paper(case.paper, landscape=case.landscape),
        title=NASTY if nasty else "Tuesday class",
        date="2026-11-25" if nasty else "",
        correction=CORRECTION if case.variant == "corrected" else Affine(),
        tile=case.variant == "tiled",
    )


@cache
def pages(case: Case) -> tuple[Page, ...]:
    """The pages of a case, composed once."""
    with said_in("inch" if case.variant.startswith("inch") else "mm"):
        return compose(contents()[case.sheet, case.variant](), setup(case))


@cache
def pdf(case: Case) -> bytes:
    """The PDF of a case, written once."""
    return write_pdf(pages(case))


@cache
def svgs(case: Case) -> tuple[bytes, ...]:
    """The SVG of each page of a case, written once."""
    return tuple(write_svg(page) for page in pages(case))


@lru_cache(maxsize=8)  # all tests of a case follow one another
def parsed(case: Case) -> pypdf.PdfReader:
    """The PDF of a case as pypdf has it."""
    return pypdf.PdfReader(io.BytesIO(pdf(case)))


@lru_cache(maxsize=8)  # all tests of a case follow one another
def from_pdf(case: Case) -> list[Sheet]:
    """What the PDF of a case draws, read back once."""
    return read_pdf(pdf(case))


@lru_cache(maxsize=8)  # all tests of a case follow one another
def from_svg(case: Case) -> list[Sheet]:
    """What its SVGs draw, in the order of the page's marks."""
    return [in_order(page, read_svg(data)) for page, data in zip(pages(case), svgs(case), strict=True)]


def _wanted() -> list[Case]:
    return [
        Case(sheet=sheet, variant=variant, paper=paper, landscape=landscape)
        for sheet, variant in contents()
        for paper in (PAPERS if variant in FULL else PAPERS[:2])
        for landscape in ((False, True) if variant in FULL else (False,))
    ]


# What its paper is too small for. Named, and not found by composing: the tests are collected twice and more a run.
_TOO_SMALL = (
    "frame-every-mark-a5-landscape",
    "dowel-nasty-a5-landscape",
    "bench-pin-usual-a5",
    "bench-pin-usual-a5-landscape",
    "bench-pin-nasty-a5",
    "bench-pin-nasty-a5-landscape",
)


@cache
def every_case() -> tuple[Case, ...]:
    """Every case that fits its paper."""
    return tuple(case for case in _wanted() if str(case) not in _TOO_SMALL)


@cache
def too_small() -> tuple[Case, ...]:
    """Every case that its paper is too small for."""
    return tuple(case for case in _wanted() if str(case) in _TOO_SMALL)
