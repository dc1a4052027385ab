"""Measure: sheets as a printer would get them, at 1200 dpi. Discs by their area, bars by the middle of their ticks.

Wanted: 0.01 mm. pdfium stretches a page to whole pixels, so a pixel's size is taken from the page it made; it also
snaps upright and level filled rectangles outwards, so none is measured here (measured of the library).
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

import numpy as np
import pypdfium2
import pytest
from every_sheet import SHEETS, Case, pages, pdf
from numpy.typing import NDArray

from layouts.affine import Affine
from layouts.drawing.marks import Annulus, Circle, Draft, Line, Mark, Text
from layouts.drawing.pens import Role
from layouts.pages.page import Page, Placed
from layouts.pages.paper import find_paper
from layouts.render.pdf import write_pdf

DPI = 1200
WITHIN_MM = 0.01
INCH = 127 / 5  # mm, exact


@dataclass(frozen=True, slots=True, kw_only=True)
class Raster:
    """One page of a PDF as pdfium renders it; crops in mm from the lower left corner of the page."""

    page: pypdfium2.PdfPage
    width_mm: float
    height_mm: float

    @property
    def pixel_mm(self) -> tuple[float, float]:
        """Width and height of a pixel: the page is stretched to whole pixels."""
        scale = DPI / 72
        wide, high = (math.ceil(side * scale) for side in self.page.get_size())
        return self.width_mm / wide, self.height_mm / high

    def ink(self, left: float, bottom: float, right: float, top: float) -> tuple[NDArray[np.float64], float, float]:
        """How black each pixel of a crop is, 0 to 1, top row first; and where its left and top edges are, mm."""
        px, py = self.pixel_mm
        wide, high = round(self.width_mm / px), round(self.height_mm / py)
        x0, x1 = math.floor(left / px), math.ceil(right / px)
        y0, y1 = math.floor(bottom / py), math.ceil(top / py)
        crop = tuple(max(0, side - 0.5) * 72 / DPI for side in (x0, y0, wide - x1, high - y1))  # rounded up there
        bitmap = self.page.render(scale=DPI / 72, crop=crop, grayscale=True, draw_annots=False)
        array = bitmap.to_numpy().reshape(bitmap.height, bitmap.width).astype(float)
        assert array.shape == (y1 - y0, x1 - x0)
        return 1 - array / 255, x0 * px, y1 * py


@contextmanager
def rastered(data: bytes, page: Page, number: int = 0) -> Iterator[Raster]:
    """One page of a PDF, open."""
    document = pypdfium2.PdfDocument(data)
    try:
        yield Raster(page=document[number], width_mm=page.paper.width_mm, height_mm=page.paper.height_mm)
    finally:
        document.close()


def area_mm2(raster: Raster, left: float, bottom: float, right: float, top: float) -> float:
    """Ink in a crop, mm2."""
    ink, _, _ = raster.ink(left, bottom, right, top)
    px, py = raster.pixel_mm
    return float(ink.sum()) * px * py


def middle_mm(raster: Raster, left: float, bottom: float, right: float, top: float) -> tuple[float, float]:
    """The centroid of the ink in a crop, mm from the lower left corner of the page."""
    ink, x0, y1 = raster.ink(left, bottom, right, top)
    px, py = raster.pixel_mm
    total = ink.sum()
    xs, ys = (np.arange(size) + 0.5 for size in (ink.shape[1], ink.shape[0]))
    return x0 + px * float(ink.sum(0) @ xs / total), y1 - py * float(ink.sum(1) @ ys / total)


def disc_mm(raster: Raster, x: float, y: float, reach: float) -> float:
    """Diameter of the disc about (x, y) whose ink all lies within `reach` of it, by area."""
    return math.sqrt(4 / math.pi * area_mm2(raster, x - reach, y - reach, x + reach, y + reach))


def lone(marks: list[Mark], kind: type[Mark], gap: float = 0.15) -> list[Mark]:
    """Filled discs or rings with nothing else printed in the square around them."""
    boxes = [mark.inked for mark in marks]
    found = []
    for mark, (left, bottom, right, top) in zip(marks, boxes, strict=True):
        if type(mark) is kind and getattr(mark, "filled", True) and mark.role is Role.GAUGE:
            near = [
                box
                for box in boxes
                if box[0] < right + gap and box[2] > left - gap and box[1] < top + gap and box[3] > bottom - gap
            ]
            found += [mark] if len(near) == 1 else []
    return found


CARDS = [
    Case(sheet="ring-card", variant=variant, paper=paper)
    for variant in ("usual", "nasty")
    for paper in ("a4", "letter")
]
CHECKS = [Case(sheet="printer-check", variant="usual", paper=paper) for paper in ("a4", "letter")]


@pytest.mark.parametrize("case", [*CARDS, *CHECKS], ids=str)
def test_discs_come_back_with_their_diameter(case: Case) -> None:
    page = pages(case)[0]
    discs = [mark for mark in lone(list(page.marks()), Circle) if isinstance(mark, Circle)]
    assert len(discs) >= 1
    with rastered(pdf(case), page) as raster:
        for disc in discs:
            assert 2 * disc.r == pytest.approx(disc_mm(raster, disc.x, disc.y, disc.r + 0.1), abs=WITHIN_MM)


@pytest.mark.parametrize("case", [*CARDS, *CHECKS], ids=str)
def test_rings_come_back_with_their_area(case: Case) -> None:
    """A ring of OD and ID; the diameter of a disc of the same area is right within 0.01 mm."""
    page = pages(case)[0]
    rings = [mark for mark in lone(list(page.marks()), Annulus) if isinstance(mark, Annulus)]
    with rastered(pdf(case), page) as raster:
        for ring in rings:
            wanted = 2 * math.sqrt(ring.r_outer**2 - ring.r_inner**2)
            assert wanted == pytest.approx(disc_mm(raster, ring.x, ring.y, ring.r_outer + 0.1), abs=WITHIN_MM)


def test_the_cards_have_discs_and_rings_to_measure() -> None:
    marks = list(pages(CARDS[0])[0].marks())
    assert len(lone(marks, Circle)) >= 3  # small, nominal, large
    assert len(lone(marks, Annulus)) >= 1


def _ticks(page: Page, apart: float) -> Iterator[tuple[str, Line, Line]]:
    """The longest ticks of the frame's bars at zero and at `apart`, across and along, the inch ones for inches."""
    lines = [mark for mark in page.placed[0].drawing.marks if isinstance(mark, Line) and mark.role is Role.TICK]
    for way in ("across", "along"):
        level = way == "along"
        ticks = [line for line in lines if (line.y1 == line.y2) == level and _length(line) < 10]
        longest = max(_length(line) for line in ticks if (line.y1 == line.y2) == level)
        inner = [line for line in ticks if abs(_length(line) - (longest if apart == 100 else 2.4)) < 1e-6]
        places = {round(line.y1 if level else line.x1, 6): line for line in inner}
        first = min(places)
        yield way, places[first], places[round(first + apart, 6)]


def _length(line: Line) -> float:
    return math.hypot(line.x2 - line.x1, line.y2 - line.y1)


def _tip(raster: Raster, line: Line, base: float) -> tuple[float, float]:
    """The middle of the far half of a tick, where no other ink is near."""
    x0, x1, y0, y1 = (*sorted((line.x1, line.x2)), *sorted((line.y1, line.y2)))
    if line.x1 == line.x2:
        return middle_mm(raster, x0 - base, (y0 + y1) / 2 - 0.3, x1 + base, (y0 + y1) / 2 + 0.3)
    return middle_mm(raster, (x0 + x1) / 2 - 0.3, y0 - base, (x0 + x1) / 2 + 0.3, y1 + base)


@pytest.mark.parametrize("apart", [100.0, 4 * INCH])
@pytest.mark.parametrize("paper", ["a4", "letter", "a3"])
@pytest.mark.parametrize("sheet", SHEETS)
def test_the_check_bars_come_back_with_their_length(sheet: str, paper: str, apart: float) -> None:
    case = Case(sheet=sheet, variant="usual", paper=paper)
    page = pages(case)[0]
    with rastered(pdf(case), page) as raster:
        for way, first, last in _ticks(page, apart):
            (x0, y0), (x1, y1) = (_tip(raster, line, 0.4) for line in (first, last))
            assert apart == pytest.approx(y1 - y0 if way == "along" else x1 - x0, abs=WITHIN_MM)


def _disc_page(r: float, x: float = 60.0, correction: Affine | None = None) -> Page:
    draft = Draft()
    draft.disc(x, 70.123, r)
    placed = Placed(drawing=draft.drawing(148, 210))
    return Page(paper=find_paper("a5"), placed=(placed,), title="disc", correction=correction or Affine())


@pytest.mark.parametrize("r", [0.5, 1.6, 5, 12.5])
def test_a_disc_twenty_micrometres_off_is_caught(r: float) -> None:
    page = _disc_page(r + 0.01)
    with rastered(write_pdf([page]), page) as raster:
        measured = disc_mm(raster, 60, 70.123, r + 0.3)
    assert 2 * r + 0.02 == pytest.approx(measured, abs=WITHIN_MM / 2)
    assert 2 * r != pytest.approx(measured, abs=WITHIN_MM)


def test_a_disc_that_moves_twenty_micrometres_is_seen_to_move() -> None:
    found = []
    for x in (60.0, 60.02):
        page = _disc_page(3, x)
        with rastered(write_pdf([page]), page) as raster:
            found.append(middle_mm(raster, 56, 66, 64, 74)[0])
    assert found[1] - found[0] == pytest.approx(0.02, abs=0.003)


def test_a_correction_is_in_the_pixels() -> None:
    """Across 1 % larger, along 2 % smaller, about the lower left corner: an ellipse, by its middle and its area."""
    page = _disc_page(5, correction=Affine(a=1.01, d=0.98))
    with rastered(write_pdf([page]), page) as raster:
        x, y = middle_mm(raster, 54, 62, 67, 75)
        area = area_mm2(raster, 54, 62, 67, 75)
    assert pytest.approx((x, y), abs=0.005) == (60 * 1.01, 70.123 * 0.98)
    assert math.pi * 25 * 1.01 * 0.98 == pytest.approx(area, rel=0.001)


def test_words_are_where_they_should_be() -> None:
    """A full stop is a small disc or square: its middle comes back where the font's outline puts it."""
    from ink import word_box

    dot = Text(x=60, y=70, string=".", size_mm=20)
    draft = Draft()
    draft.add([dot])
    page = Page(paper=find_paper("a5"), placed=(Placed(drawing=draft.drawing(148, 210)),), title="dot")
    box = word_box(dot)
    assert box is not None
    wanted = complex(np.mean(box.corners))
    with rastered(write_pdf([page]), page) as raster:
        assert (wanted.real, wanted.imag) == pytest.approx(middle_mm(raster, 58, 67, 70, 76), abs=0.03)
