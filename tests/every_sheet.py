"""Every sheet on every paper, in one place: usual inputs and nasty ones. Composed and rendered once a run."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from jigs.guides.bench_pin import bench_pin
from jigs.guides.dowel import dowel_sheet
from jigs.guides.ring_card import ring_card
from jigs.guides.ruler import ruler_sheet
from jigs.making.anchor import Anchor, Dowel
from jigs.making.pin import Pin
from jigs.stock.blade import find_blade
from jigs.stock.wire import parse_wire
from layouts.affine import Affine
from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.pens import Role
from layouts.errors import DoesNotFit
from layouts.pages.page import Content, Field, Page, Setup
from layouts.pages.paper import find_paper
from layouts.pages.sheet import compose
from layouts.printing.check_sheet import printer_check
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


def _ring_cards() -> dict[tuple[str, str], Callable[[], Content]]:
    wire, swg, thin, thick = (parse_wire(words) for words in ("16 AWG", "18 SWG", "0.4 mm", "3.2 mm"))
    halves = [3 + 0.5 * step for step in range(11)]
    return {
        ("ring-card", "usual"): lambda: ring_card([wire], [5.0], 0.1),
        ("ring-card", "corrected"): lambda: ring_card([wire], [5.0, 6.5], 0.1),
        ("ring-card", "many"): lambda: ring_card([wire, swg], halves),
        ("ring-card", "nasty"): lambda: ring_card([thin, wire, thick], [1.501, 7.9375, 12.7, 21.37], 0.05),
    }


def _dowels() -> dict[tuple[str, str], Callable[[], Content]]:
    wire, thin, thick = (parse_wire(words) for words in ("16 AWG", "24 SWG", "2 mm"))
    usual = Anchor(dowel=Dowel(diameter_mm=7.9, second_diameter_mm=8.0), wire=wire)
    odd = (
        Anchor(dowel=Dowel(diameter_mm=4.31), wire=thin, series="number", turns=25, second="hole"),
        Anchor(dowel=Dowel(diameter_mm=12.71, second_diameter_mm=12.4), wire=thick, series="inch", second="slot"),
        Anchor(dowel=Dowel(diameter_mm=6.0), wire=wire, paper_mm=0.25, from_end_mm=14.0, pitch_mm=1.5, turns=6),
    )
    return {
        ("dowel", "usual"): lambda: dowel_sheet([usual]),
        ("dowel", "nasty"): lambda: dowel_sheet(odd),
        ("dowel", "corrected"): lambda: dowel_sheet([usual]),
        ("dowel", "many"): lambda: dowel_sheet([*odd, usual] * 2),
    }


def _tiles() -> dict[tuple[str, str], Callable[[], Content]]:
    thick = Anchor(dowel=Dowel(diameter_mm=90.0), wire=parse_wire("2 mm"))
    return {
        ("ruler", "usual"): lambda: ruler_sheet(100.0),
        ("ruler", "corrected"): lambda: ruler_sheet(100.0),
        ("ruler", "nasty"): lambda: ruler_sheet(61.3),
        ("ruler", "tiled"): lambda: ruler_sheet(777.7),
        ("dowel", "tiled"): lambda: dowel_sheet([thick]),
    }


def _pins() -> dict[tuple[str, str], Callable[[], Content]]:
    def pin(**given: Any) -> Callable[[], Content]:
        wood = {"length_mm": 120.0, "width_mm": 75.0, "thickness_mm": 19.0, "coil_outside_mm": 8.0}
        return lambda: bench_pin(Pin(**{**wood, "blade": find_blade("2"), **given}))

    return {
        ("bench-pin", "usual"): pin(),
        ("bench-pin", "corrected"): pin(),
        ("bench-pin", "left"): pin(hand="left"),
        ("bench-pin", "nasty"): pin(
            length_mm=127.013, width_mm=63.5, thickness_mm=22.2, coil_outside_mm=11.37, blade=find_blade("8/0")
        ),
        ("bench-pin", "vee"): pin(layouts=("vee",)),
        ("bench-pin", "groove-and-guide"): pin(layouts=("groove", "guide"), hand="left"),
        ("bench-pin", "kerfs"): pin(layouts=("kerfs",), blade=find_blade("8")),
    }


@cache
def contents() -> dict[tuple[str, str], Callable[[], Content]]:
    """What there is to draw, by sheet and variant."""
    check = {("printer-check", variant): printer_check for variant in ("usual", "nasty", "corrected")}
    return {**_frames(), **check, **_ring_cards(), **_dowels(), **_tiles(), **_pins()}


FULL = ("usual", "nasty", "every-mark")  # on every paper, both ways; the others on the two usual papers
SHEETS = ("printer-check", "ring-card", "dowel", "bench-pin", "ruler")


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
    return compose(contents()[case.sheet, case.variant](), setup(case))


@cache
def pdf(case: Case) -> bytes:
    """The PDF of a case, written once."""
    return write_pdf(pages(case))


@cache
def svgs(case: Case) -> tuple[bytes, ...]:
    """The SVG of each page of a case, written once."""
    return tuple(write_svg(page) for page in pages(case))


def _wanted() -> list[Case]:
    return [
        Case(sheet=sheet, variant=variant, paper=paper, landscape=landscape)
        for sheet, variant in contents()
        for paper in (PAPERS if variant in FULL else PAPERS[:2])
        for landscape in ((False, True) if variant in FULL else (False,))
    ]


def _fits(case: Case) -> bool:
    try:
        return bool(pages(case))
    except DoesNotFit:
        return False


@cache
def every_case() -> tuple[Case, ...]:
    """Every case that fits its paper."""
    return tuple(case for case in _wanted() if _fits(case))


@cache
def too_small() -> tuple[Case, ...]:
    """Every case that its paper is too small for."""
    return tuple(case for case in _wanted() if not _fits(case))
