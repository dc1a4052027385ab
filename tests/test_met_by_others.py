"""Files as other programs meet them: what they say of themselves, what a reader aloud finds, what a checker says."""

from __future__ import annotations

import io
from xml.etree import ElementTree

import cairosvg
import numpy as np
import pikepdf
import pypdf
import pytest
from every_sheet import NASTY, SHEETS, Case, pages, pdf, svgs
from PIL import Image

from layouts.drawing.marks import Drawing, Line, Mark, Polyline, Text
from layouts.drawing.pens import Role
from layouts.pages.page import Page, Placed
from layouts.pages.paper import find_paper
from layouts.pages.sheet import repeated
from layouts.render.pdf import write_pdf
from layouts.render.svg import style_sheet, write_svg

SVG = "{http://www.w3.org/2000/svg}"
every_sheet = pytest.mark.parametrize("sheet", SHEETS)


def case_of(sheet: str) -> Case:
    return Case(sheet=sheet, variant="every-mark" if sheet == "frame" else "usual", paper="a4")


@every_sheet
def test_a_pdf_checker_finds_nothing(sheet: str) -> None:
    assert pikepdf.Pdf.open(io.BytesIO(pdf(case_of(sheet)))).check_pdf_syntax() == []


def test_the_checker_can_find_something() -> None:
    """A stream whose packed content is spoilt."""
    data = bytearray(pdf(case_of(SHEETS[0])))
    at = data.index(b"stream", data.index(b"/FlateDecode")) + 20
    data[at : at + 40] = bytes(40)
    assert pikepdf.Pdf.open(io.BytesIO(bytes(data))).check_pdf_syntax() != []


@every_sheet
def test_a_pdf_says_what_is_so_and_nothing_else(sheet: str) -> None:
    reader = pypdf.PdfReader(io.BytesIO(pdf(case_of(sheet))), strict=True)
    facts = dict(reader.metadata or {})
    assert set(facts) == {"/Title", "/Creator", "/Producer"}
    assert facts["/Title"] == pages(case_of(sheet))[0].title
    root = reader.trailer["/Root"]
    assert root["/Lang"] == "en"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert reader.page_labels == [str(number) for number in range(1, len(reader.pages) + 1)]


def test_the_outline_names_every_sheet_where_it_starts() -> None:
    card, dowel = (pages(case_of(sheet)) for sheet in ("ring-card", "dowel"))
    reader = pypdf.PdfReader(io.BytesIO(write_pdf([*repeated(card, 3), *dowel])))
    entries = [(entry.title, reader.get_destination_page_number(entry)) for entry in reader.outline]
    assert entries == [(card[0].title, 0), (dowel[0].title, 3 * len(card))]


@every_sheet
def test_a_screen_reader_finds_the_sheet_and_its_words(sheet: str) -> None:
    for page, data in zip(pages(case_of(sheet)), svgs(case_of(sheet)), strict=True):
        root = ElementTree.fromstring(data)
        assert root.get("role") == "graphics-document document"
        assert root.get("{http://www.w3.org/XML/1998/namespace}lang") == "en"
        title, description = root[0], root[1]
        assert (title.tag, title.text) == (f"{SVG}title", page.title)
        assert all(placed.drawing.name in (description.text or "") for placed in page.placed)
        said = [element.get("aria-label") for element in root.iter() if element.get("role") == "img"]
        assert said == [mark.string for mark in page.marks() if isinstance(mark, Text)]
        assert len(root.findall(f".//{SVG}title")) == 1


def small(*marks: Mark) -> Page:
    drawing = Drawing(marks=marks, width_mm=100.0, height_mm=100.0)
    return Page(paper=find_paper("a5"), placed=(Placed(drawing=drawing, x=20.0, y=50.0),), title="Order")


def drawn(data: bytes, dpi: int = 300) -> np.ndarray:
    picture = cairosvg.svg2png(bytestring=data, output_width=round(148 / 25.4 * dpi), background_color="white")
    return np.asarray(Image.open(io.BytesIO(picture)).convert("L")).astype(int)


BLACK = Line(x1=10, y1=50, x2=90, y2=50, role=Role.CUT)
GREY = Polyline(points=((45, 20), (55, 20), (55, 80), (45, 80)), role=Role.AID, closed=True, filled=True)
THIN = Line(x1=50, y1=10, x2=50, y2=90, role=Role.AID)
OTHER = Line(x1=10, y1=60, x2=90, y2=60, role=Role.CUT)


@pytest.mark.parametrize(
    ("marks", "black"),
    [
        ((BLACK, GREY), False),
        ((GREY, BLACK), True),
        ((OTHER, GREY, BLACK), True),
        ((BLACK, GREY, OTHER), False),
        ((BLACK, THIN, GREY), False),
    ],
)
def test_what_is_drawn_later_lies_on_top(marks: tuple[Mark, ...], black: bool) -> None:
    """At (50, 50) of the drawing: 70 mm from the left and 110 mm from the top of A5."""
    picture = drawn(write_svg(small(*marks)))
    px = 300 / 25.4
    shade = picture[round(110 * px) - 1 : round(110 * px) + 2, round(71 * px)].min()
    assert bool(shade < 40) is black


def test_strokes_of_a_role_are_one_path_where_nobody_sees_it() -> None:
    apart = Line(x1=10, y1=70, x2=40, y2=70, role=Role.CUT)
    classes = [path.get("class") for path in _paths(write_svg(small(BLACK, GREY, apart)))]
    assert classes == ["cut", "aid-ink"]
    classes = [path.get("class") for path in _paths(write_svg(small(BLACK, GREY, OTHER)))]
    assert classes == ["cut", "aid-ink", "cut"]


def _paths(data: bytes) -> list[ElementTree.Element]:
    return [path for path in ElementTree.fromstring(data).iter(f"{SVG}path") if path.get("class")]


def test_the_page_of_the_web_shows_the_same() -> None:
    """Words as one path a line, with the rules that the page of the web gives: pixel for pixel but for smoothing."""
    (page,) = pages(Case(sheet="frame", variant="discs", paper="a5"))
    embedded = write_svg(page, embedded=True)
    assert b"<use" not in embedded
    assert b"<style" not in embedded
    assert NASTY in [element.get("aria-label") for element in ElementTree.fromstring(embedded).iter()]
    ruled = embedded.replace(b"<defs", f"<style>{style_sheet()}</style><defs".encode(), 1)
    assert np.abs(drawn(ruled) - drawn(write_svg(page))).max() <= 40
    assert np.abs(drawn(embedded) - drawn(write_svg(page))).max() > 40  # the comparison can fail
