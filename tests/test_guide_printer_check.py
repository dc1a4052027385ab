"""The printer check: base lines, card outline, ink bars and markers on every paper."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from click.testing import CliRunner
from golden import assert_drawn_as_golden

from jigs.cli.sheet import sheet_command
from jigs.guides.catalogue import find_sheet
from layouts.affine import Affine
from layouts.drawing.marks import Annulus, Arc, Box, Circle, Drawing, Line, Mark, Polyline, Text
from layouts.drawing.pens import Role
from layouts.errors import DoesNotFit, OutOfRange
from layouts.pages.page import Field, Page, Setup
from layouts.pages.paper import Paper, find_paper
from layouts.pages.sheet import compose
from layouts.printing.causes import Cause, causes, fits
from layouts.printing.check_blocks import card_edge_mm
from layouts.printing.check_sheet import markers_on, printer_check
from layouts.printing.plate import Base, Marker, base_for, markers

command = sheet_command(find_sheet("printer-check"))
PAPERS = [
    find_paper(name, landscape=turned) for name in ("a4", "letter", "legal", "a3", "a5") for turned in (False, True)
]
ROOMY = [paper for paper in PAPERS if paper.name != "a5"]

every_paper = pytest.mark.parametrize("paper", PAPERS, ids=lambda paper: paper.label)
every_roomy_paper = pytest.mark.parametrize("paper", ROOMY, ids=lambda paper: paper.label)


def sheet(paper: Paper, **setup: str) -> Page:
    (page,) = compose(printer_check(), Setup(paper=paper, **setup))
    return page


def plate(paper: Paper) -> Drawing:
    _, placed = sheet(paper).placed
    return placed.drawing


def lines(paper: Paper) -> list[Line]:
    return [mark for mark in plate(paper).marks if isinstance(mark, Line)]


def base_of(paper: Paper) -> Base:
    drawing = plate(paper)
    return base_for(Field(drawing.width_mm, drawing.height_mm))


def corners(paper: Paper) -> list[tuple[float, float]]:
    """Where the long lines cross, worked from the lines alone: A, B, C, D."""
    base, tick = base_of(paper), [line for line in lines(paper) if line.role is Role.TICK]
    ys = sorted(line.y1 for line in tick if line.y1 == line.y2 and abs(line.x2 - line.x1) > base.across_mm)
    xs = sorted(line.x1 for line in tick if line.x1 == line.x2 and abs(line.y2 - line.y1) > base.along_mm)
    assert len(xs) == len(ys) == 2
    return [(xs[0], ys[0]), (xs[1], ys[0]), (xs[1], ys[1]), (xs[0], ys[1])]


def words(paper: Paper) -> list[str]:
    return [mark.string for mark in plate(paper).marks if isinstance(mark, Text)]


# --- one page


@every_paper
def test_it_is_one_page_even_with_a_title_and_a_date(paper: Paper) -> None:
    assert len(compose(printer_check(), Setup(paper=paper, title="Tuesday class", date="2026-11-25"))) == 1


def test_a_field_too_small_for_any_base_is_refused_with_both_sizes() -> None:
    with pytest.raises(
        DoesNotFit, match=r"needs 104\.0 x 132\.0 mm and the space is 90\.0 x 90\.0 mm; try a5 or a larger"
    ):
        base_for(Field(90, 90))


@every_paper
def test_all_ink_is_inside_the_frame_of_its_drawing(paper: Paper) -> None:
    drawing = plate(paper)
    left, bottom, right, top = drawing.extent
    assert left >= 0
    assert bottom >= 0
    assert right <= drawing.width_mm + 1e-9
    assert top <= drawing.height_mm + 1e-9


# --- base lines


@every_paper
def test_crosses_are_as_far_apart_as_the_sheet_says(paper: Paper) -> None:
    a, b, c, d = corners(paper)
    base = base_of(paper)
    measured = [math.dist(*ends) for ends in ((a, b), (a, d), (a, c), (b, d))]
    assert measured == pytest.approx([length for _, _, length in base.lines], abs=1e-9)
    for _, _, length in base.lines:
        assert f"{length:.2f}" in words(paper)


@every_paper
def test_printed_lengths_of_the_base_lines_hide_nothing_under_a_hundredth(paper: Paper) -> None:
    for _, _, length in base_of(paper).lines:
        assert length == pytest.approx(round(length, 2), abs=1e-9)


def test_on_a4_the_base_is_150_by_200_with_diagonals_of_250() -> None:
    assert [length for _, _, length in base_of(find_paper("a4")).lines] == [150, 200, 250, 250]


@every_paper
def test_every_corner_carries_the_start_of_its_diagonal(paper: Paper) -> None:
    around = corners(paper)
    for corner, opposite in zip(around, around[2:] + around[:2], strict=True):
        slanted = [line for line in lines(paper) if (line.x1, line.y1) == pytest.approx(corner)]
        way = math.atan2(opposite[1] - corner[1], opposite[0] - corner[0])
        (stub,) = [line for line in slanted if line.x1 != line.x2 and line.y1 != line.y2]
        assert math.atan2(stub.y2 - stub.y1, stub.x2 - stub.x1) == pytest.approx(way, abs=1e-9)


@every_paper
def test_each_base_line_has_a_box_to_write_in(paper: Paper) -> None:
    boxes = [m for m in plate(paper).marks if isinstance(m, Polyline) and m.role is Role.LABEL and not m.filled]
    wide = [box for box in boxes if box.box[2] - box.box[0] >= 14]
    assert len(wide) == 4


def test_sides_and_diagonal_that_do_not_go_together_are_refused() -> None:
    with pytest.raises(OutOfRange, match="squares add up"):
        Base(across_mm=150, along_mm=200, diagonal_mm=251, margin_mm=10)


# --- bank card: ISO/IEC 7810 ID-1, 85.60 x 53.98 mm, corner radius 3.18


@every_paper
def test_card_outline_is_an_id_1_card_at_the_middle_of_its_line(paper: Paper) -> None:
    arcs = [mark for mark in plate(paper).marks if isinstance(mark, Arc)]
    assert [(arc.r, arc.sweep_deg) for arc in arcs] == [(3.18, 90)] * 4
    boxes = [arc.box for arc in arcs]
    width = max(box[2] for box in boxes) - min(box[0] for box in boxes)
    height = max(box[3] for box in boxes) - min(box[1] for box in boxes)
    assert sorted((width, height)) == pytest.approx([53.98, 85.60], abs=1e-9)


@every_paper
def test_card_outline_is_closed(paper: Paper) -> None:
    arcs = [mark for mark in plate(paper).marks if isinstance(mark, Arc)]
    ends = sorted((round(x, 6), round(y, 6)) for arc in arcs for x, y in (arc.at(0), arc.at(1)))
    on_lines = {(round(x, 6), round(y, 6)) for n in lines(paper) for x, y in ((n.x1, n.y1), (n.x2, n.y2))}
    assert len(set(ends)) == 8
    assert set(ends) <= on_lines


def test_a_card_on_a_print_of_95_percent_reaches_to_the_tick_of_95() -> None:
    # A card of 85.60 mm covers 85.60 / 0.95 = 90.105 mm of drawing when the drawing is printed at 95 %.
    assert card_edge_mm(85.60, 95) == pytest.approx(90.105, abs=0.001)
    assert card_edge_mm(85.60, 100) == 85.60


def test_card_scale_of_no_size_is_refused() -> None:
    with pytest.raises(OutOfRange, match="a size of print"):
        card_edge_mm(85.60, 0)


# --- ink bars


@every_roomy_paper
def test_each_ink_bar_is_as_wide_as_its_gap_both_ways(paper: Paper) -> None:
    bars = [m.box for m in plate(paper).marks if isinstance(m, Polyline) and m.filled and m.role is Role.GAUGE]
    assert len(bars) == 18
    for upright, three in by_threes(bars):
        low, high = (0, 2) if upright else (1, 3)
        alone, first, second = three
        bar, gap = alone[high] - alone[low], second[low] - first[high]
        assert bar == pytest.approx(gap, abs=1e-9)
        assert min(abs(bar - size) for size in (0.5, 1.0, 2.0)) < 1e-9


def by_threes(bars: list[Box]) -> list[tuple[bool, list[Box]]]:
    """The bars by threes: a bar alone and two blocks; the first nine stand upright."""
    return [(start < 9, bars[start : start + 3]) for start in range(0, 18, 3)]


@every_roomy_paper
def test_fine_bars_for_a_scan_are_not_drawn_smaller_by_the_ink(paper: Paper) -> None:
    fine = [m.box for m in plate(paper).marks if isinstance(m, Polyline) and m.filled and m.role is Role.LABEL]
    assert len(fine) == 8
    for start, low, high in ((0, 0, 2), (4, 1, 3)):
        widths = [box[high] - box[low] for box in fine[start : start + 4]]
        assert widths == pytest.approx([0.12, 0.25, 1.2, 1.2])
        assert fine[start + 3][low] - fine[start + 2][high] == pytest.approx(0.25)


# --- markers


@every_paper
def test_markers_are_drawn_where_they_are_said_to_be(paper: Paper) -> None:
    discs = {(m.x, m.y) for m in sheet(paper).marks() if isinstance(m, Circle) and m.r == 3.0 and m.filled}
    ((ring_x, ring_y),) = [(m.x, m.y) for m in sheet(paper).marks() if isinstance(m, Annulus)]
    odd, *others = markers_on(paper)
    assert (odd.x_mm, odd.y_mm) == (ring_x, ring_y)
    assert odd.hole_mm == 2.0
    assert {(m.x_mm, m.y_mm) for m in others} == discs
    assert len(others) == 7


@every_paper
def test_markers_stay_in_place_with_a_title_a_date_and_a_correction(paper: Paper) -> None:
    page = compose(
        printer_check(),
        Setup(paper=paper, title="Tuesday class", date="2026-11-25", correction=Affine(a=1.01)),
    )[0]
    discs = [(m.x, m.y) for m in page.marks() if isinstance(m, Circle) and m.r == 3.0 and m.filled]
    for marker, disc in zip(markers_on(paper)[1:], discs, strict=True):
        assert disc == pytest.approx((marker.x_mm, marker.y_mm), abs=1e-9)


@every_paper
def test_odd_marker_is_at_the_lower_left_of_a_plate_that_is_no_square(paper: Paper) -> None:
    places = [(m.x_mm, m.y_mm) for m in markers_on(paper)]
    xs, ys = zip(*places, strict=True)
    assert places[0] == (min(xs), min(ys))
    assert abs((max(xs) - min(xs)) / (max(ys) - min(ys)) - 1) > 0.07


@every_paper
def test_a_millimetre_of_white_is_all_round_each_marker(paper: Paper) -> None:
    ours = {(m.x_mm, m.y_mm) for m in markers_on(paper)}
    others = [m for m in sheet(paper).marks() if (getattr(m, "x", None), getattr(m, "y", None)) not in ours]
    for x, y in ours:
        assert min(distance(x, y, mark.box) for mark in others if straight(mark)) > 4.0


def straight(mark: Mark) -> bool:
    """Whether a mark fills its box, nearly; a slanted line is far shorter than its box is large."""
    return not isinstance(mark, Line) or mark.x1 == mark.x2 or mark.y1 == mark.y2


def distance(x: float, y: float, box: Box) -> float:
    left, bottom, right, top = box
    return math.hypot(max(left - x, x - right, 0), max(bottom - y, y - top, 0))


def test_markers_of_a_field_count_from_its_lower_left() -> None:
    # Field of A4: 176 mm wide; plate 200 + 2 x 13 = 226 mm high. Glass of 216 mm less 20: 196 mm, 15 mm from both ends.
    first, second, *_ = markers(Field(176, 230))
    assert first == Marker(x_mm=3, y_mm=15, hole_mm=2.0)
    assert second == Marker(x_mm=173, y_mm=15)
    # The third stands 0.57 x 176 / 226 of the way up, the second half as far.
    assert [m.y_mm for m in markers(Field(176, 230))[1:5]] == pytest.approx([15, 58.5, 102.0, 211], abs=0.01)
    assert max(m.y_mm for m in markers(Field(176, 230))) == 211
    # Lying: plate 120 + 2 x 9.5 = 139 mm high, 263 wide: 33.5 mm from both ends.
    assert [m.x_mm for m in markers(Field(263, 145))[:4]] == pytest.approx(
        [33.5, 33.5 + 65.33, 33.5 + 65.33 + 59.05, 229.5], abs=0.01
    )


@pytest.mark.parametrize("wrong", [{"hole_mm": 6.0}, {"hole_mm": math.nan}, {"x_mm": math.inf}])
def test_marker_without_ink_or_place_is_refused(wrong: dict[str, float]) -> None:
    with pytest.raises(OutOfRange, match="marker"):
        Marker(**{"x_mm": 1.0, "y_mm": 1.0, **wrong})


# --- what a ratio may mean


def test_ratios_of_pages_fitted_follow_from_the_papers_and_their_margins() -> None:
    shown = {cause.words: cause for cause in causes() if cause.is_fit}
    for paper, words in (("a4", "an A4 page fitted on letter"), ("letter", "a letter page fitted on A4")):
        (found,) = [cause for cause in fits(paper) if cause.words == words]
        assert (shown[words].low, shown[words].high) == pytest.approx((found.low, found.high), abs=6e-4)
    own = [cause for paper in ("a4", "letter") for cause in fits(paper)[:1]]
    both = shown["a page fitted to the printable area"]
    assert both.low == pytest.approx(min(cause.low for cause in own), abs=6e-4)
    assert both.high == pytest.approx(max(cause.high for cause in own), abs=6e-4)


def test_ratios_of_dots_and_zoom_are_exact() -> None:
    ratios = [cause.low for cause in causes() if cause.low == cause.high]
    assert {90 / 96, 72 / 96, 1.25} <= set(ratios)


def test_every_cause_has_a_source_and_they_come_largest_first() -> None:
    assert all(cause.source for cause in causes())
    highs = [cause.high for cause in causes()]
    assert highs == sorted(highs, reverse=True)


@every_roomy_paper
def test_every_cause_is_on_the_sheet_and_none_is_claimed(paper: Paper) -> None:
    shown = words(paper)
    for cause in causes():
        assert (cause.words in shown) is cause.on_sheet
        assert (cause.ratio in shown) is cause.on_sheet
    assert "a hint, not a proof" in " ".join(shown)


def test_a_ratio_is_shown_with_three_places_or_four_where_it_needs_them() -> None:
    ratios = {cause.ratio for cause in causes()}
    assert {"0.9375", "0.750", "1.250", "0.876 to 0.972"} <= ratios


@pytest.mark.parametrize(("low", "high"), [(1.0, 0.9), (0.0, 1.0), (math.nan, 1.0)])
def test_a_cause_with_ratios_out_of_order_is_refused(low: float, high: float) -> None:
    with pytest.raises(OutOfRange):
        Cause(low=low, high=high, words="x", change="", source="x")


# --- the page as it is read


@every_paper
def test_no_words_run_into_words_or_upright_strokes(paper: Paper) -> None:
    marks = plate(paper).marks
    texts = [mark for mark in marks if isinstance(mark, Text)]
    for text in texts:
        others = [m for m in marks if m is not text and straight(m) and not outlined(m)]
        assert [m for m in others if overlap(text.box, m.box)] == [], text.string


def outlined(mark: Mark) -> bool:
    return isinstance(mark, Polyline) and not mark.filled


def overlap(one: Box, other: Box) -> bool:
    return min(one[2], other[2]) > max(one[0], other[0]) and min(one[3], other[3]) > max(one[1], other[1])


def test_the_check_for_overlaps_can_fail() -> None:
    assert overlap((0, 0, 2, 2), (1, 1, 3, 3))
    assert not overlap((0, 0, 1, 1), (2, 0, 3, 1))


@every_paper
def test_no_lettering_is_smaller_than_2_2_mm(paper: Paper) -> None:
    assert min(m.size_mm for m in plate(paper).marks if isinstance(m, Text)) >= 2.2


def test_marks_on_a4_are_as_they_were() -> None:
    assert_drawn_as_golden("printer_check.txt", [plate(find_paper("a4"))])


@pytest.mark.parametrize(("paper", "landscape"), [("a5", False), ("a5", True), ("a4", True)])
def test_marks_in_each_other_arrangement_are_as_they_were(paper: str, landscape: bool) -> None:
    name = f"printer_check_{paper}{'_landscape' if landscape else ''}.txt"
    assert_drawn_as_golden(name, [plate(find_paper(paper, landscape=landscape))])


# --- the command


def test_command_writes_the_sheet(tmp_path: Path) -> None:
    result = CliRunner().invoke(command, ["--paper", "letter", "--format", "pdf,svg", "--out", f"{tmp_path}/"])
    assert result.exit_code == 0, result.output
    assert sorted(path.name for path in tmp_path.iterdir()) == ["printer-check.pdf", "printer-check.svg"]


def test_command_help_says_what_you_get_and_shows_three_examples() -> None:
    shown = " ".join(CliRunner().invoke(command, ["--help"]).output.split())
    assert "whether a print is true" in shown
    assert shown.count("coilwright sheet printer-check") == 3


def test_command_refuses_an_unknown_paper() -> None:
    result = CliRunner().invoke(command, ["--paper", "a6"])
    assert "no paper is called 'a6'; known: " in str(result.exception)
