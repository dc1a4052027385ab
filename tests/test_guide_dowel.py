"""The dowel sheet: the strip, the views and the words, from the marks; and its command."""

from __future__ import annotations

import math
from itertools import combinations, pairwise

import pytest
from dowels import A4, Strip, block, drilled, words_of
from golden import assert_drawn_as_golden
from hypothesis import given, settings
from hypothesis import strategies as st

from jigs.guides.dowel import dowel_sheet
from jigs.making.drilled_dowel import Dowel, DrilledDowel
from jigs.stock.wire import Wire, parse_wire
from layouts.drawing.marks import Arc, Box, Circle, Drawing, Line, Mark, Polyline, Text
from layouts.drawing.pens import Role
from layouts.errors import DoesNotFit, OutOfRange
from layouts.pages.page import Field, Setup
from layouts.pages.paper import find_paper
from layouts.pages.sheet import compose

# --- the strip ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("paper", "once_round"), [(0.10, 16.0221), (0.25, 16.4934)])
def test_the_strip_is_cut_pi_times_diameter_and_paper_long(paper: float, once_round: float) -> None:
    # C, computed: D 5
    assert Strip(block(drilled(5.0, paper_mm=paper))).once_round == pytest.approx(once_round, abs=5e-5)


def test_two_diameters_give_the_strip_of_their_mean() -> None:
    # pi x (8 + 0.1)
    assert Strip(block(drilled(7.9, second_mm=8.1))).once_round == pytest.approx(25.446900, abs=1e-6)


def test_the_crosses_are_half_the_way_round_apart_at_the_distance_from_the_end() -> None:
    crosses = Strip(block(drilled(from_end_mm=12.5))).crosses()
    assert [y for _, y in crosses] == pytest.approx([12.5, 12.5])
    assert crosses[1][0] - crosses[0][0] == pytest.approx(25.446900 / 2, abs=1e-6)


def test_the_holes_are_outlined_at_the_size_of_the_drill() -> None:
    holes = [m for m in Strip(block(drilled())).marks if isinstance(m, Circle) and m.role is Role.HOLE]
    assert [2 * hole.r for hole in holes] == pytest.approx([1.1, 1.1])  # 1 mm wire, metric set


def test_a_line_along_the_dowel_goes_through_each_cross_from_the_end() -> None:
    strip = Strip(block(drilled()))
    axes = strip.lines(Role.FOLD)
    assert [line.x1 for line in axes] == pytest.approx([x for x, _ in strip.crosses()])
    assert [line.y1 for line in axes] == pytest.approx([0.0, 0.0])
    assert all(line.x1 == line.x2 for line in axes)


def test_a_second_hole_has_its_crosses_on_the_same_lines() -> None:
    crosses = Strip(block(drilled(turns=12, second="hole"))).crosses()
    assert sorted({round(y, 6) for _, y in crosses}) == [10, 22]
    assert len({round(x, 6) for x, _ in crosses}) == 2


def test_a_slot_is_outlined_as_wide_as_the_drill_and_as_long_as_asked() -> None:
    arcs = [m for m in Strip(block(drilled(turns=12, second="slot", slot_mm=4.0))).marks if isinstance(m, Arc)]
    assert {round(2 * arc.r, 9) for arc in arcs} == {1.1}
    top, bottom = max(arc.box[3] for arc in arcs), min(arc.box[1] for arc in arcs)
    assert (top - bottom, (top + bottom) / 2) == pytest.approx((4.0, 22.0))


def test_the_coil_zone_is_tinted_from_half_a_wire_below_the_hole_for_the_coil_s_length() -> None:
    strip = Strip(block(drilled(turns=12)))
    zone = next(m for m in strip.marks if isinstance(m, Polyline) and m.role is Role.TINT)
    assert zone.box == pytest.approx((0.0, 9.5, strip.once_round, 22.5))


def test_the_turns_are_drawn_from_the_first_cross_and_rise_a_pitch_a_round() -> None:
    strip = Strip(block(drilled(turns=5, pitch_mm=1.5)))
    turns = [m for m in strip.lines(Role.AID) if m.y2 > m.y1 and m.x2 > m.x1]
    first, last = turns[0], turns[-1]
    assert (first.x1, first.y1) == pytest.approx(strip.crosses()[0])
    assert (last.x2, last.y2) == pytest.approx((strip.crosses()[0][0], 10 + 5 * 1.5))
    assert sum(m.x2 - m.x1 for m in turns) == pytest.approx(5 * strip.once_round)


# --- the tail -----------------------------------------------------------------------------------------------


def ticks(strip: Strip) -> list[Line]:
    return sorted(strip.lines(Role.TICK), key=lambda m: m.x1)


def test_the_scale_has_a_tick_every_tenth_of_diameter_on_both_sides() -> None:
    xs = [tick.x1 for tick in ticks(Strip(block(drilled(8.0))))]
    assert xs == pytest.approx([math.pi * (n / 10 + 0.1) for n in range(65, 96)])


def test_a_millimetre_of_diameter_is_3_14_mm_of_strip() -> None:
    long = [tick.x1 for tick in ticks(Strip(block(drilled(8.0)))) if abs(tick.y1 - tick.y2) > 2.5]
    assert [b - a for a, b in pairwise(long)] == pytest.approx([math.pi] * (len(long) - 1))


def test_the_tick_of_a_diameter_meets_the_start_edge_of_a_dowel_of_that_diameter() -> None:
    strip = Strip(block(drilled(8.0)))
    nine = next(m for m in strip.marks if isinstance(m, Text) and m.string == "9")
    tick = min(ticks(strip), key=lambda m: abs(m.x1 - nine.x))
    assert tick.x1 == pytest.approx(Strip(block(drilled(9.0))).once_round)


def test_the_black_mark_stands_at_the_measured_diameter() -> None:
    strip = Strip(block(drilled(7.93)))
    mark = [m for m in strip.marks if isinstance(m, Polyline) and m.role is Role.GAUGE][-1]
    assert max(mark.points, key=lambda p: p[1])[0] == pytest.approx(strip.once_round)


def test_the_start_edge_stays_in_sight_above_the_tail() -> None:
    strip = Strip(block(drilled(8.0)))
    scale = ticks(strip)
    tail_top, step = scale[0].y1, strip.outline[-2][0]
    assert strip.top - tail_top == pytest.approx(3.0)
    assert step < scale[0].x1  # nothing of the strip covers the start edge wherever it reads
    assert strip.right > scale[-1].x1


@pytest.mark.parametrize("diameter", [1.0, 2.0, 3.0, 5.0, 25.0, 48.0])
def test_the_scale_carries_at_least_one_figure(diameter: float) -> None:
    assert any(
        m.string.isdigit() and m.size_mm == 2.2
        for m in Strip(block(drilled(diameter, "0.2 mm"))).marks
        if isinstance(m, Text)
    )


# --- views and words ----------------------------------------------------------------------------------------


def test_the_end_disc_is_as_large_as_the_dowel_with_a_cross_and_two_slant_lines() -> None:
    drawing = block(drilled(7.9, second_mm=8.1))
    disc = next(m for m in drawing.marks if isinstance(m, Circle) and m.role is Role.CUT)
    assert 2 * disc.r == pytest.approx(8.0)
    through = [
        m for m in drawing.marks
        if isinstance(m, Line) and math.isclose(m.x1 + m.x2, 2 * disc.x) and math.isclose(m.y1 + m.y2, 2 * disc.y)
    ]  # fmt: skip
    angles = sorted(round(math.degrees(math.atan2(m.y2 - m.y1, m.x2 - m.x1))) % 180 for m in through)
    assert angles == [0, 45, 90, 135]
    assert {round(math.dist((m.x1, m.y1), (m.x2, m.y2)), 6) for m in through} == {8.0}


def test_the_side_view_is_as_wide_as_the_dowel_and_level_with_the_strip() -> None:
    drawing = block(drilled(8.0))
    body = next(m for m in drawing.marks if isinstance(m, Polyline) and m.role is Role.LABEL)
    outline = next(m for m in drawing.marks if isinstance(m, Polyline) and m.role is Role.CUT)
    assert body.box[2] - body.box[0] == pytest.approx(8.0)
    assert body.box[1] == pytest.approx(outline.box[1])


def test_the_side_view_shows_every_turn_as_a_wire_on_both_flanks() -> None:
    drawing = block(drilled(8.0, turns=12))
    sections = [m for m in drawing.marks if isinstance(m, Circle) and m.role is Role.AID]
    assert len(sections) == 24
    assert {2 * m.r for m in sections} == {1.0}


def test_the_dimensions_say_the_distances_and_the_coil() -> None:
    assert {"10", "22", "13 coil", "25.45 round"} <= set(words_of(block(drilled(8.0, turns=12, second="hole"))))


def test_the_block_names_dowel_wire_and_drill() -> None:
    assert (
        words_of(block(drilled(8.0, "16 AWG", series="number")))[0]
        == "1 · Dowel Ø 8.00 mm, wire 16 AWG (1.291 mm), drill #54 (1.397 mm)"
    )


def test_the_clearance_and_the_share_of_the_dowel_are_said() -> None:
    assert "Drill 1.40 mm: 0.11 mm over the wire, the hole is D/5.7." in " ".join(
        words_of(block(drilled(8.0, "16 AWG")))
    )


def test_out_of_round_is_said() -> None:
    assert "Measured 7.90 and 8.00 mm, out of round by 0.10 mm (1.3 %): the mean is used." in " ".join(
        words_of(block(drilled(7.9, second_mm=8.0)))
    )


def test_a_nominal_dowel_is_not_called_measured() -> None:
    nominal = DrilledDowel(dowel=Dowel(diameter_mm=9.5, measured=False), wire=parse_wire("1 mm"))
    said = " ".join(words_of(block(nominal)))
    assert "For a wooden dowel. Ø 9.50 mm is nominal: measure it, then print again with what you read." in said
    assert "Measured" not in said
    assert "Measured once: measure at right angles too" in " ".join(words_of(block(drilled(9.5))))


def test_a_slot_is_named_where_it_lies_and_how_it_is_made() -> None:
    """The middle of the slot is where the last turn ends: 10 + 10 x 1.6 = 26 mm."""
    said = words_of(block(drilled(9.5, "1.6 mm", second="slot")))
    assert "26.0 slot" in said or "26 slot" in said
    assert "Slot 5.1 mm long, end to end: drill a row of holes, file out between them." in " ".join(said)


def test_warnings_stand_on_the_sheet_in_bold() -> None:
    bold = " ".join(m.string for m in block(drilled(4.3)).marks if isinstance(m, Text) and m.bold)
    assert "Warning: the hole of 1.10 mm is over a quarter of the dowel" in bold
    assert "Warning: wood 4.30 mm thick snaps" in bold


def test_the_sheet_warns_of_drill_and_spring_and_defers_to_local_codes() -> None:
    cautions = " ".join(dowel_sheet([drilled()]).cautions)
    for words in ("vee", "No gloves", "EN 510", "EN 166", "spring", "local codes"):
        assert words in cautions


def test_a_sheet_without_a_dowel_is_refused() -> None:
    with pytest.raises(OutOfRange, match="a dowel sheet without a dowel; give one or more"):
        dowel_sheet([])


def test_a_strip_longer_than_the_paper_is_refused_with_both_sizes() -> None:
    with pytest.raises(DoesNotFit, match=r"the strip of dowel 1 of 60\.00 mm needs 19.* and the space is 176"):
        compose(dowel_sheet([drilled(60.0)]), Setup(paper=find_paper("a4")))


def test_a_strip_longer_than_the_paper_is_split_into_tiles_when_asked() -> None:
    # C, computed: pi (D + t), here 90.1 mm: 283.06 mm round
    strip, views = dowel_sheet([drilled(90.0)]).draw(A4)
    assert Strip(strip).once_round == pytest.approx(math.pi * 90.1, abs=5e-5)
    assert views.width_mm == A4.width_mm
    names = [
        placed.drawing.name
        for page in compose(dowel_sheet([drilled(90.0)]), Setup(paper=find_paper("a4"), tile=True))
        for placed in page.placed[1:]
    ]
    strips = [f"the strip of dowel 1 of 90.00 mm, tile A{number}" for number in (1, 2)]
    assert names == [*strips, "dowel 1 of 90.00 mm"]


# --- the layout ---------------------------------------------------------------------------------------------

ODD = (
    drilled(2.2, "24 AWG", second="hole"),
    drilled(4.6, "18 AWG", second_mm=4.5, series="number"),
    drilled(12.7, "12 AWG", second="slot", turns=8, series="inch"),
    drilled(25.4, "12 AWG", turns=1),
    drilled(45.0, "3 mm", turns=5, second="hole", from_end_mm=20, second_from_end_mm=8),
)


def overlap(a: Box, b: Box, by: float = 0.01) -> bool:
    return a[0] < b[2] - by and b[0] < a[2] - by and a[1] < b[3] - by and b[1] < a[3] - by


def strokes(drawing: Drawing) -> list[Line]:
    found = []
    for mark in drawing.marks:
        if isinstance(mark, Line):
            found.append(mark)
        elif isinstance(mark, Polyline) and mark.role is not Role.TINT:
            points = (*mark.points, mark.points[0]) if mark.closed else mark.points
            found += [Line(x1=a[0], y1=a[1], x2=b[0], y2=b[1], role=mark.role) for a, b in pairwise(points)]
    return found


def crosses(line: Line, box: Box) -> bool:
    """Whether a stroke enters a box: 200 points along it are tried, where its own box does."""
    left, bottom, right, top = line.box
    if right <= box[0] or left >= box[2] or top <= box[1] or bottom >= box[3]:
        return False
    points = ((line.x1 + (line.x2 - line.x1) * i / 200, line.y1 + (line.y2 - line.y1) * i / 200) for i in range(201))
    return any(box[0] < x < box[2] and box[1] < y < box[3] for x, y in points)


def check_layout(drawing: Drawing) -> None:
    left, bottom, right, top = drawing.extent
    assert left >= -1e-9
    assert bottom >= -1e-9
    assert right <= drawing.width_mm + 1e-9
    assert top <= drawing.height_mm + 1e-9
    texts = [m for m in drawing.marks if isinstance(m, Text)]
    for (a, one), (b, other) in combinations([(text, text.box) for text in texts], 2):
        assert not overlap(one, other), (a.string, b.string)
    lines = strokes(drawing)
    for text in texts:
        assert text.size_mm >= 2.2
        low = text.y - (0.2 if any(c in "gjpqy(),;" for c in text.string) else 0.0) * text.size_mm
        box = text.box[0], low, text.box[2], text.y + 0.72 * text.size_mm
        assert not [line for line in lines if crosses(line, box)], text.string


@pytest.mark.parametrize("field", [A4, Field(181.9, 207), Field(114, 120)])
@pytest.mark.parametrize("number", range(len(ODD)))
def test_nothing_leaves_the_frame_overlaps_or_crosses_words(number: int, field: Field) -> None:
    if ODD[number].wrap_mm < field.width_mm - 12:
        check_layout(block(ODD[number], field=field))


def test_the_layout_check_can_fail() -> None:
    good = block(drilled())
    struck = Line(x1=0, y1=good.height_mm - 2.0, x2=20, y2=good.height_mm - 2.0, role=Role.CUT)
    bad: tuple[Mark, ...] = (*good.marks, struck)
    with pytest.raises(AssertionError):
        check_layout(Drawing(marks=bad, width_mm=good.width_mm, height_mm=good.height_mm))


@settings(max_examples=25, deadline=None)
@given(st.floats(2, 45), st.floats(0.05, 0.2), st.integers(1, 30), st.sampled_from([None, "hole", "slot"]))
def test_any_dowel_that_can_be_made_is_laid_out_well(size: float, share: float, turns: int, second: str | None) -> None:
    wire = Wire(diameter_mm=size * share, given="")
    try:
        made = DrilledDowel(dowel=Dowel(diameter_mm=size), wire=wire, turns=turns, second=second, from_end_mm=20)
    except OutOfRange:
        return
    check_layout(block(made))


def test_several_dowels_are_numbered_and_a_block_each() -> None:
    drawings = dowel_sheet(ODD).draw(A4)
    assert len(drawings) == len(ODD)
    assert [words_of(d)[0].split(" · ")[0] for d in drawings] == ["1", "2", "3", "4", "5"]


@pytest.mark.parametrize("paper", ["a4", "letter", "a5"])
def test_the_ink_keeps_to_the_safe_part_of_the_paper(paper: str) -> None:
    safe = find_paper(paper).safe
    for page in compose(dowel_sheet(ODD[:4]), Setup(paper=find_paper(paper))):
        for placed in page.placed:
            left, bottom, right, top = placed.extent
            assert left >= safe[0] - 0.2
            assert bottom >= safe[1] - 0.2
            assert right <= safe[2] + 0.2
            assert top <= safe[3] + 0.2


def test_the_usual_dowel_fits_a_small_sheet_on_its_side() -> None:
    pages = compose(dowel_sheet([drilled(7.9, "16 AWG", second="hole")]), Setup(paper=find_paper("a5", landscape=True)))
    assert len(pages) == 1


def test_the_marks_are_as_they_were() -> None:
    made = block(drilled(7.9, "16 AWG", second_mm=8.0, series="number", second="slot"))
    assert_drawn_as_golden("dowel.txt", [made])
