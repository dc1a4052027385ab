"""What a corrected sheet measures on paper, and what it says of its printer."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from compare import in_order
from pdf_reader import read_pdf
from printers_read import every_paper, printer
from printing import Press, measured
from svg_reader import read_svg

from layouts.affine import Affine
from layouts.drawing.marks import Annulus, Circle, Draft, Drawing, Line, Polyline, Text
from layouts.drawing.pens import Role
from layouts.errors import DoesNotFit, OutOfRange
from layouts.pages.page import Content, Field, Page, Setup
from layouts.pages.paper import Paper, find_paper
from layouts.pages.sheet import compose
from layouts.render.pdf import write_pdf
from layouts.render.svg import write_svg

# --- on the sheet -------------------------------------------------------------------------------------------

DISCS_MM = (3.0, 5.0, 12.7)


def gauges(field: Field) -> list[Drawing]:
    drawings = []
    for size in DISCS_MM:
        draft = Draft()
        draft.disc(size / 2, size / 2, size / 2)
        drawings.append(draft.drawing(size, size, "disc"))
    draft = Draft()
    draft.annulus(10, 10, 10, 8)
    draft.bar(24, 2, 6, 4)
    draft.line(0, 21, 40, 21, Role.CUT)
    return [*drawings, draft.drawing(40, 22, "ring and bar")]


CONTENT = Content(title="Gauges", facts=(("wire", "1 mm"),), draw=gauges)
PRESS = Press(across=0.985, along=1.0123, skew_deg=0.4, turn_deg=0.7, shift=2 - 3j, spread_mm=0.06)


def sheet(paper: Paper, press: Press = PRESS) -> Page:
    (page,) = compose(CONTENT, Setup(paper=paper, printer=measured(press)))
    return page


def _printed_discs(page: Page, form: str, paper: Paper) -> list[float]:
    """Diameters on paper of the filled round shapes of a file, from independent readers and the simulated press."""
    (read,) = read_pdf(write_pdf([page])) if form == "pdf" else [in_order(page, read_svg(write_svg(page)))]
    found = []
    for path in read.paths:
        if not (path.filled and path.shade == 0 and all(part.curved for part in path.subpaths)):
            continue
        outer = path.subpaths[0].points
        where = PRESS.prints(outer, landscape=paper.landscape)
        middle = (where.real.max() + where.real.min() + 1j * (where.imag.max() + where.imag.min())) / 2
        distances = np.abs(where - middle)
        assert np.ptp(distances) < 0.005
        found.append(2 * (float(distances.mean()) + PRESS.spread_mm))
    return found


@every_paper
@pytest.mark.parametrize("form", ["pdf", "svg"])
def test_discs_of_a_corrected_file_are_true_on_paper_ink_spread_and_all(paper: Paper, form: str) -> None:
    found = _printed_discs(sheet(paper), form, paper)
    assert sorted(found) == pytest.approx([*DISCS_MM, 20.0], abs=0.005)


def _check_bars(page: Page) -> list[Line]:
    lines = [mark for mark in page.marks() if isinstance(mark, Line) and mark.role is Role.TICK]
    return [line for line in lines if math.hypot(line.x2 - line.x1, line.y2 - line.y1) > 99]


@every_paper
def test_both_check_bars_of_a_corrected_page_are_true_on_paper(paper: Paper) -> None:
    page = sheet(paper)
    bars = _check_bars(page)
    assert len(bars) == 2
    for bar in bars:
        wanted = math.hypot(bar.x2 - bar.x1, bar.y2 - bar.y1)
        ends = [complex(*page.correction.apply(*end)) for end in ((bar.x1, bar.y1), (bar.x2, bar.y2))]
        assert PRESS.length(*ends, landscape=paper.landscape) == pytest.approx(wanted, abs=1e-9)


def test_lines_keep_their_middle_and_filled_gauges_are_drawn_in() -> None:
    page = sheet(find_paper("a4"))
    marks = list(page.marks())
    radii = sorted(mark.r for mark in marks if isinstance(mark, Circle))
    assert radii == pytest.approx([size / 2 - 0.06 for size in DISCS_MM])
    (ring,) = [mark for mark in marks if isinstance(mark, Annulus)]
    assert (ring.r_outer, ring.r_inner) == (pytest.approx(9.94), pytest.approx(8.06))
    (bar,) = [m for m in marks if isinstance(m, Polyline) and m.filled and 3 < m.box[3] - m.box[1] < 4]
    left, bottom, right, top = bar.box
    assert (right - left, top - bottom) == (pytest.approx(5.88), pytest.approx(3.88))


def test_the_sheet_names_printer_stock_date_and_factors() -> None:
    words = " ".join(mark.string for mark in sheet(find_paper("a4")).marks() if isinstance(mark, Text))
    assert "printer: office, 0.9850 × 1.0123" in words
    assert "Corrected for office on plain 80 g, measured 2026-11-25 with a steel rule" in words
    assert "leans +0.40°, ink grows +0.060 mm an edge." in words
    assert "uncorrected" not in words


def test_a_drawing_that_comes_twice_stays_one_when_it_is_corrected() -> None:
    draft = Draft()
    draft.disc(3, 3, 3)
    disc = draft.drawing(6, 6)
    (page,) = compose(
        Content(title="Two", facts=(), draw=lambda field: [disc, disc]),
        Setup(paper=find_paper("a4"), printer=measured(PRESS)),
    )
    assert page.placed[1].drawing is page.placed[2].drawing


def test_the_order_of_marks_does_not_matter() -> None:
    def content(*, backwards: bool) -> Content:
        def draw(field: Field) -> list[Drawing]:
            (*_, block) = gauges(field)
            return [replace(block, marks=block.marks[::-1] if backwards else block.marks)]

        return CONTENT._replace(draw=draw)

    setup = Setup(paper=find_paper("a4"), printer=measured(PRESS))
    (one,), (other,) = (compose(content(backwards=turned), setup) for turned in (False, True))
    assert set(map(repr, one.marks())) == set(map(repr, other.marks()))
    assert one.correction == other.correction


def test_ink_that_the_correction_pushes_over_the_safe_edge_is_refused() -> None:
    def draw(field: Field) -> list[Drawing]:
        draft = Draft()
        draft.line(0, 5, field.width_mm + 1, 5, Role.CUT)  # out of its frame
        return [draft.drawing(field.width_mm, 10, "strip")]

    setup = Setup(paper=find_paper("a4"), printer=measured(Press(across=0.99)))
    with pytest.raises(DoesNotFit, match=r"strip needs .* the correction pushes it 1.1. mm over the safe edge"):
        compose(CONTENT._replace(draw=draw), setup)


def test_a_strip_that_just_fits_is_refused_for_a_printer_that_shrinks() -> None:
    def draw(field: Field) -> list[Drawing]:
        draft = Draft()
        draft.line(0, 5, 175.9, 5, Role.CUT)
        return [draft.drawing(176.0, 10, "strip")]

    strip, paper = CONTENT._replace(draw=draw), find_paper("a4")
    assert compose(strip, Setup(paper=paper))
    with pytest.raises(DoesNotFit, match=r"strip needs 176.0 x 10.0 mm"):
        compose(strip, Setup(paper=paper, printer=measured(Press(across=0.99))))


def test_a_sheet_has_a_printer_or_a_correction_of_its_own() -> None:
    with pytest.raises(OutOfRange, match="give one of them"):
        Setup(paper=find_paper("a4"), printer=printer(), correction=Affine(a=1.01))


def test_a_sheet_that_measures_the_printer_says_that_it_is_corrected() -> None:
    setup = Setup(paper=find_paper("a4"), printer=printer(0.99))
    (page,) = compose(CONTENT._replace(measures_printer=True), setup)
    words = " ".join(mark.string for mark in page.marks() if isinstance(mark, Text))
    assert "This sheet is corrected: it shows what is left." in words
