"""The ring card: sizes worked by hand from the marks, the wedge by plane geometry, the words, the refusals."""

from __future__ import annotations

import math
from collections.abc import Iterable
from itertools import combinations, pairwise
from pathlib import Path

import pytest
from click.testing import CliRunner
from golden import assert_drawn_as_golden

from jigs.cli.refusals import said
from jigs.cli.sheet import sheet_command
from jigs.guides.catalogue import find_sheet
from jigs.guides.pieces.ring_wedge import wedge_for
from jigs.guides.ring_card import ring_card
from jigs.stock.wire import Wire, parse_wire
from layouts.drawing.marks import Annulus, Box, Circle, Drawing, Line, Mark, Polyline, Text
from layouts.drawing.pens import Role
from layouts.drawing.wedge import Wedge
from layouts.errors import DoesNotFit, OutOfRange, QuantityRefused, Refusal
from layouts.pages.page import Content, Field, Setup
from layouts.pages.paper import find_paper
from layouts.pages.sheet import compose
from layouts.pages.tiles import tiles

command = sheet_command(find_sheet("ring-card"))
A4, A5, A5_LANDSCAPE = Field(176, 226), Field(114, 130), Field(172, 80)


def wire(diameter_mm: float) -> Wire:
    return Wire(diameter_mm=diameter_mm, given=f"{diameter_mm:g} mm")


def gauges(*numbers: int) -> list[Wire]:
    return [parse_wire(f"{number} AWG") for number in numbers]


SIXTY = ring_card(gauges(12, 14, 16, 18, 20, 22), [3 + 0.5 * i for i in range(10)])
ONE = ring_card([wire(1)], [5])
HELD = ring_card([wire(1), *gauges(18)], [4, 5], 0.1)


def drawings(content: Content, field: Field = A4) -> list[Drawing]:
    return list(content.draw(field))


def marks(content: Content, kind: type[Mark], field: Field = A4) -> list[Mark]:
    return [mark for drawing in drawings(content, field) for mark in drawing.marks if isinstance(mark, kind)]


def words(content: Content, field: Field = A4) -> list[str]:
    return [text.string for text in marks(content, Text, field)]


# --- sizes --------------------------------------------------------------------------------------------------


def test_a_ring_of_1_mm_wire_and_5_mm_inside_is_black_from_5_to_7_mm() -> None:
    (ring,) = marks(ONE, Annulus)
    assert (2 * ring.r_inner, 2 * ring.r_outer) == (5, 7)  # OD = ID + 2 d


def test_its_disc_is_filled_and_as_large_as_the_inside() -> None:
    (disc,) = marks(ONE, Circle)
    assert disc.filled
    assert 2 * disc.r == 5


def test_a_ring_is_labelled_with_inside_outside_and_ratio() -> None:
    assert {"ID 5.00", "OD 7.00", "AR 5.00"} <= set(words(ONE))


def test_a_tolerance_adds_a_small_and_a_large_disc() -> None:
    sizes = sorted(2 * disc.r for disc in marks(ring_card([wire(1)], [5], 0.1), Circle))
    assert sizes == pytest.approx([4.9, 5, 5.1])


@pytest.mark.parametrize("field", [A4, A5_LANDSCAPE])
def test_the_small_and_the_large_disc_say_so_right_below_them(field: Field) -> None:
    held = ring_card([wire(1)], [3, 4, 5, 6], 0.1)
    below = {}
    for disc in marks(held, Circle, field):
        at = [t.string for t in marks(held, Text, field) if abs(t.x - disc.x) < 0.01 and 0 < disc.y - disc.r - t.y < 8]
        below[round(2 * disc.r, 2)] = " ".join(at)
    assert below[4.9] == "small 4.90"
    assert below[5.1] == "large 5.10"


def test_every_wire_is_drawn_at_every_inside() -> None:
    sizes = {(round(2 * a.r_inner, 6), round(2 * a.r_outer, 6)) for a in marks(SIXTY, Annulus)}
    wanted = {
        (inside, round(inside + 2 * 0.127 * 92 ** ((36 - n) / 39), 6))  # ASTM B258
        for n in (12, 14, 16, 18, 20, 22)
        for inside in (3, 3.5, 4, 4.5, 5, 5.5, 6, 6.5, 7, 7.5)
    }
    assert sizes == wanted


def test_sixty_rings_stand_on_one_page_of_a4() -> None:
    assert len(compose(SIXTY, Setup(paper=find_paper("a4")))) == 1


# --- the wedge ----------------------------------------------------------------------------------------------


def edges(drawing: Drawing) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """The inner sides of the two black edges: the pair of long sides nearest each other."""
    bands = [m for m in drawing.marks if isinstance(m, Polyline) and m.filled]
    (up, down) = sorted(bands, key=lambda m: -m.points[0][1])
    lower_side = sorted(up.points, key=lambda p: (round(p[0]), p[1]))
    upper_side = sorted(down.points, key=lambda p: (round(p[0]), -p[1]))
    return [(side[0], side[2]) for side in (lower_side, upper_side)]


def touching_circle(drawing: Drawing, x: float) -> tuple[float, float]:
    """Diameters of the circles on the axis that touch the upper and the lower edge at x."""
    (up, down) = edges(drawing)
    axis = (up[0][1] + down[0][1]) / 2
    diameters = []
    for (x0, y0), (x1, y1) in (up, down):
        slope = (y1 - y0) / (x1 - x0)
        y = y0 + slope * (x - x0)
        centre = x + slope * (y - axis)  # the normal at (x, y) meets the axis
        diameters.append(2 * math.hypot(centre - x, axis - y))
    return diameters[0], diameters[1]


def numbered_ticks(drawing: Drawing) -> list[tuple[float, float]]:
    """Numeral and place of each tick of the wedge that has a numeral: those of the scales below stand lower."""
    (up, _) = edges(drawing)
    texts = [m for m in drawing.marks if isinstance(m, Text) and m.anchor == "middle" and m.y > up[0][1]]
    return [(float(text.string), text.x) for text in texts]


@pytest.mark.parametrize("content", [ONE, SIXTY, ring_card([wire(3)], [4, 30])], ids=["one", "sixty", "wide"])
def test_a_circle_of_the_diameter_at_a_tick_touches_both_edges_there(content: Content) -> None:
    wedge = drawings(content)[1]
    ticks = numbered_ticks(wedge)
    assert len(ticks) >= 5
    for diameter, x in ticks:
        assert touching_circle(wedge, x) == pytest.approx((diameter, diameter), abs=1e-9)


def test_every_tenth_of_a_millimetre_has_a_tick_just_outside_the_upper_edge() -> None:
    wedge = drawings(SIXTY)[1]
    (up, _) = edges(wedge)
    xs = [m.x1 for m in wedge.marks if isinstance(m, Line) and m.x1 == m.x2 and m.y1 > up[0][1]]
    diameters = [touching_circle(wedge, x)[0] for x in sorted(xs)]
    assert diameters == pytest.approx([3 + 0.1 * i for i in range(len(diameters))], abs=1e-9)


def test_each_ring_has_a_tick_on_its_wires_scale_where_it_touches_the_wedge() -> None:
    content = ring_card([wire(1), wire(1.5)], [4, 5.5])
    wedge = drawings(content)[1]
    lowest = edges(wedge)[1][1][1]
    xs = [m.x1 for m in wedge.marks if isinstance(m, Line) and m.x1 == m.x2 and m.y1 < lowest - 3]
    assert sorted(touching_circle(wedge, x)[0] for x in xs) == pytest.approx([6, 7, 7.5, 8.5])


def test_the_wedge_tells_how_far_a_ring_travels_for_a_tenth_of_a_millimetre() -> None:
    wedge = wedge_for([6.0, 8.0], 100)
    assert (wedge.low_tenths, wedge.high_tenths) == (50, 90)
    assert wedge.travel == 25  # 100 mm of scale for 4 mm of diameter


def test_a_wedge_that_does_not_widen_is_refused() -> None:
    with pytest.raises(OutOfRange, match="does not widen"):
        Wedge(low_tenths=50, high_tenths=50, length_mm=100)


def test_the_half_angle_of_a_wedge_agrees_with_its_edges() -> None:
    wedge = Wedge(low_tenths=40, high_tenths=100, length_mm=20)
    (x0, y0), (x1, y1) = wedge.touch(4), wedge.touch(10)
    assert wedge.half_angle_deg == pytest.approx(math.degrees(math.atan2(y1 - y0, x1 - x0)))


# --- the words ----------------------------------------------------------------------------------------------


def test_the_card_says_what_a_tenth_does_to_the_smallest_ring() -> None:
    # 0.1 / 0.8 = 0.125; 0.1 / 3 = 3.3 %
    note = " ".join(ring_card([wire(0.8), wire(1.2)], [5, 3]).notes)
    assert "±0.1 mm at best" in note
    assert "0.800 mm, ID 3.00 mm, AR 3.75) 0.1 mm more of ID is 0.12 more of AR, or 3.3 %" in note
    assert "within 2 %, use a caliper" in note


def test_a_tolerance_finer_than_paper_is_left_to_a_caliper() -> None:
    assert any("finer than paper reads" in note for note in ring_card([wire(1)], [5], 0.05).notes)
    assert not any("finer than paper reads" in note for note in HELD.notes)


def test_a_wire_is_named_as_it_was_given_with_its_millimetres() -> None:
    assert "16 AWG, 1.291 mm" in words(SIXTY)


def test_a_wire_given_in_many_words_goes_by_its_millimetres() -> None:
    long = Wire(diameter_mm=1.2, given="0.0472440944881889763779527559055 inch")
    assert "1.200 mm" in words(ring_card([long], [5]))


# --- the paper ----------------------------------------------------------------------------------------------

SHEETS = [
    (content, field)
    for content in (ONE, SIXTY, HELD, ring_card(gauges(*range(8, 26)), [3.1 + 0.1 * i for i in range(9)]))
    for field in (A4, A5, A5_LANDSCAPE, Field(181.9, 207))
]


def apart(a: Box, b: Box) -> bool:
    return a[0] >= b[2] or b[0] >= a[2] or a[1] >= b[3] or b[1] >= a[3]


@pytest.mark.parametrize(("content", "field"), SHEETS)
def test_the_frames_hold_all_their_ink(content: Content, field: Field) -> None:
    for drawing in content.draw(field):
        left, bottom, right, top = drawing.extent
        assert left >= -1e-9
        assert bottom >= -1e-9
        assert right <= drawing.width_mm + 1e-9
        assert top <= drawing.height_mm + 1e-9
        assert drawing.width_mm <= field.width_mm
        assert drawing.height_mm <= field.height_mm


@pytest.mark.parametrize(("content", "field"), SHEETS)
def test_no_words_lie_on_other_words_or_on_ink(content: Content, field: Field) -> None:
    for drawing in content.draw(field):
        texts = [mark for mark in drawing.marks if isinstance(mark, Text)]
        others = [mark for mark in drawing.marks if not isinstance(mark, Text | Polyline)]
        boxes = [text.box for text in texts]
        assert all(apart(a, b) for a, b in combinations(boxes, 2))
        assert all(apart(box, mark.inked) for box in boxes for mark in others)


def test_the_check_for_overlaps_can_fail() -> None:
    assert not apart((0, 0, 2, 2), (1, 1, 3, 3))


@pytest.mark.parametrize("paper", ["a4", "letter", "a5"])
def test_a_card_keeps_off_the_edges_of_the_paper(paper: str) -> None:
    left, bottom, right, top = find_paper(paper).safe
    for page in compose(SIXTY, Setup(paper=find_paper(paper))):
        for placed in page.placed[1:]:
            box = placed.extent
            assert left <= box[0]
            assert bottom <= box[1]
            assert box[2] <= right + 1e-9
            assert box[3] <= top


def test_rows_that_run_over_the_page_stand_under_their_wires_again() -> None:
    pages = compose(ring_card([wire(1)], [3 + 0.5 * i for i in range(40)]), Setup(paper=find_paper("a5")))
    for page in pages[:-1]:
        assert "1.000 mm" in [mark.string for mark in page.marks() if isinstance(mark, Text)]
    assert len(pages) > 2


def test_many_insides_of_one_wire_stand_in_strips_on_one_page() -> None:
    many = ring_card([wire(1.2)], [3 + 0.1 * i for i in range(31)])
    assert len(compose(many, Setup(paper=find_paper("a4")))) == 1
    assert len({round(text.x) for text in marks(many, Text) if text.string.startswith("ID ")}) > 1


def test_where_insides_crowd_on_the_wedge_every_second_or_third_is_written() -> None:
    wedge = drawings(ring_card([wire(1.2)], [3 + 0.1 * i for i in range(31)]))[1]
    foot = min(m.y for m in wedge.marks if isinstance(m, Text))
    written = [float(m.string) for m in wedge.marks if isinstance(m, Text) and m.y == foot and m.anchor == "middle"]
    steps = {round(b - a, 6) for a, b in pairwise(written)}
    assert len(steps) == 1
    assert steps <= {0.2, 0.3}


def test_gauge_ink_is_black() -> None:
    assert {mark.role for mark in marks(HELD, Annulus) + marks(HELD, Circle)} == {Role.GAUGE}


def test_the_marks_are_as_they_were() -> None:
    assert_drawn_as_golden("ring_card.txt", drawings(HELD, A5))


# --- refusals -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("wires", "insides", "tolerance", "message"),
    [
        ([], [5], None, "needs a wire; give one or more, such as 16 AWG"),
        ([1], [], None, "needs an inside or an outside diameter; give one or more, such as 5 mm"),
        ([1, 1], [5], None, "the wire 1 mm is given twice; give each size once"),
        ([1], [5, 4, 5], None, "the inside diameter 5 mm is given twice; give each size once"),
        ([1], [0.4], None, "an inside diameter of 0.4 mm is too small for a printed disc; give 0.5 mm or more"),
        ([1], [math.nan], None, "not a finite number"),
        ([1], [5], 4.8, "a tolerance of 4.8 mm leaves no small disc for an inside of 5 mm; give 4.75 mm or less"),
        ([1], [5], 0.0, "tolerance is 0; give a number above zero"),
        ([1], [5], math.inf, "not a finite number"),
    ],
)
def test_a_card_is_refused(wires: list[float], insides: list[float], tolerance: float | None, message: str) -> None:
    with pytest.raises(OutOfRange, match=message):
        ring_card([wire(d) for d in wires], insides, tolerance)


@pytest.mark.parametrize("inside", [90.0, 170.0, 300.0])
def test_a_ring_larger_than_the_paper_is_refused_with_both_sizes(inside: float) -> None:
    wanted = rf"OD {inside + 2:.1f} mm .* needs .* and the space is 176.0 x .* mm; nothing is shrunk.* or split it"
    with pytest.raises(DoesNotFit, match=wanted):
        compose(ring_card([wire(1)], [inside]), Setup(paper=find_paper("a4")))


def test_a_ring_of_more_than_half_a_metre_is_refused_tiles_or_not() -> None:
    with pytest.raises(OutOfRange, match=r"OD 10000002\.0 mm is too large for a ring card; give .* 500 mm or less"):
        ring_card([wire(1)], [1e7])


def is_black(marks: Iterable[Mark], x: float, y: float) -> bool:
    """Whether a point lies on a filled part of a gauge, by the even-odd rule."""
    return any(mark.role is Role.GAUGE and isinstance(mark, Polyline) and encloses(mark, x, y) for mark in marks)


def encloses(polygon: Polyline, x: float, y: float) -> bool:
    crossed = [
        (y1 > y) != (y2 > y) and x < x1 + (y - y1) * (x2 - x1) / (y2 - y1)
        for (x1, y1), (x2, y2) in pairwise((*polygon.points, polygon.points[0]))
    ]
    return sum(crossed) % 2 == 1


def test_the_tiles_of_a_ring_larger_than_the_paper_hold_all_of_it_and_no_more() -> None:
    content, field = ring_card([wire(1.6)], [170]), Field(176, 200)
    (whole,) = [drawing for drawing in content.draw(field) if drawing.width_mm > field.width_mm]
    (ring,) = [mark for mark in whole.marks if isinstance(mark, Annulus)]
    assert (2 * ring.r_inner, 2 * ring.r_outer) == pytest.approx((170, 173.2))  # OD = ID + 2 d
    parts, shown = tiles(whole, field), 0
    for turn in range(0, 360, 5):
        for radius, black in ((84.9, False), (85.1, True), (86.5, True), (86.7, False)):
            x = ring.x + radius * math.cos(math.radians(turn))
            y = ring.y + radius * math.sin(math.radians(turn))
            over = [t for t in parts if t.window[0] < x < t.window[2] and t.window[1] < y < t.window[3]]
            assert over
            shown += len(over)
            assert all(is_black(t.drawing.marks, x + t.origin[0], y + t.origin[1]) is black for t in over)
    assert shown > 4 * 72  # some points lie where two tiles overlap


def test_tiles_split_a_ring_larger_than_the_paper_and_leave_the_rest_of_the_card() -> None:
    content = ring_card([wire(1)], [5, 170])
    pages = compose(content, Setup(paper=find_paper("a4"), tile=True))
    said = {mark.string for page in pages for mark in page.marks() if isinstance(mark, Text)}
    assert {"A1", "A2", "A3", "ID 5.00 mm", "ID 170.00 mm", "Wedge for the outside"} <= said
    assert any(isinstance(mark, Annulus) and mark.r_inner == 2.5 for mark in pages[0].marks())


def test_a_command_with_tile_splits_what_one_without_it_refuses(tmp_path: Path) -> None:
    large = ("--wire", "1.6 mm", "--inside", "170 mm", "--out", str(tmp_path))
    assert "or split it over several pages" in refusal(*large)
    run(*large, "--tile")
    assert (tmp_path / "ring-card.pdf").exists()


# --- the command --------------------------------------------------------------------------------------------


def run(*arguments: str) -> str:
    result = CliRunner().invoke(command, arguments, catch_exceptions=False)
    assert result.exit_code == 0, result.output
    return result.output


def refusal(*arguments: str) -> str:
    result = CliRunner().invoke(command, arguments)
    assert isinstance(result.exception, Refusal)
    return said(result.exception)


def test_the_command_writes_a_card(tmp_path: Path) -> None:
    run(
        "--wire",
        "16 AWG",
        "--wire",
        "18 SWG",
        "--inside",
        "3 mm..5 mm by 1 mm",
        "--inside",
        "1/4 in",
        "--out",
        str(tmp_path),
    )
    assert (tmp_path / "ring-card.pdf").read_bytes().startswith(b"%PDF-1.7")


def test_the_command_gives_the_same_bytes_twice(tmp_path: Path) -> None:
    for name in ("a.pdf", "b.pdf"):
        run("--wire", "1.2 mm", "--inside", "5 mm", "--tolerance", "0.1 mm", "--out", str(tmp_path / name))
    assert (tmp_path / "a.pdf").read_bytes() == (tmp_path / "b.pdf").read_bytes()


def test_the_commands_help_begins_with_what_you_get_and_three_examples() -> None:
    text = run("--help")
    assert "Rings and their insides as black shapes at true size" in text
    assert text.count("coilwright sheet ring-card --wire") == 3


def test_a_card_by_the_outside_draws_the_ring_of_two_wires_less_and_names_both() -> None:
    by_outside = ring_card([wire(1.2)], [], None, [7.4])
    assert sorted(c.r for c in marks(by_outside, Circle)) == pytest.approx(
        sorted(c.r for c in marks(ring_card([wire(1.2)], [5.0]), Circle))
    )
    assert by_outside.gauges == ring_card([wire(1.2)], [5.0]).gauges
    assert {"OD 7.40 mm", "ID 5.00"} <= set(words(by_outside))
    two = words(ring_card([wire(1), wire(1.2)], [3 + 0.1 * i for i in range(31)], None, [7.4]))
    assert "ID 5.40  AR 5.40" in two  # in the rows by the outside, ID takes the place of OD


def test_a_card_without_a_wire_is_refused_with_an_example() -> None:
    assert refusal("--inside", "5 mm") == 'no wire is given; give --wire, such as --wire "16 AWG"'


def test_a_card_without_an_inside_is_refused_with_an_example() -> None:
    assert refusal("--wire", "16 AWG").startswith("no inside or outside diameter is given; give --inside, such as")


def test_a_bare_gauge_is_refused_with_both_readings() -> None:
    assert "18 AWG (1.024 mm) or 18 SWG (1.219 mm)" in refusal("--wire", "18", "--inside", "5 mm")


def test_a_length_without_a_unit_is_refused() -> None:
    with pytest.raises(QuantityRefused, match="needs a unit"):
        CliRunner().invoke(command, ["--wire", "1 mm", "--inside", "5"], catch_exceptions=False)
