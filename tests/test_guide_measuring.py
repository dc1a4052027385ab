"""The measuring sheet: its scales worked by hand and against exact geometry, what it says it is good for, refusals."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

import pytest
from golden import assert_drawn_as_golden
from printing import Press, measured

from jigs.guides.catalogue import find_sheet
from jigs.guides.measuring import Wanted, measuring_sheet
from jigs.guides.pieces.chain_strip import ZERO_MM, chain_strip, inside_x, wire_x
from jigs.guides.pieces.scales import CLOSEST_MM, ruling_for
from jigs.guides.pieces.steps import stairs
from jigs.guides.pieces.turns_strip import ZERO_MM as TURNS_ZERO_MM
from jigs.guides.pieces.turns_strip import mark_mm, spread, thickest_mm, turns_strip
from jigs.guides.pieces.wrap_gauge import LEVELS, WrapGauge, wrap_gauges
from jigs.making.likely_gauge import gauge_sizes
from jigs.making.measuring import KnownWire, inside_by_chain, wire_by_turns
from jigs.stock.instrument import find_instrument
from jigs.stock.wire import parse_wire
from layouts.drawing.marks import Drawing, Line, Polyline, Text
from layouts.drawing.pens import Role
from layouts.errors import OutOfRange, Refusal
from layouts.lengths import said_in
from layouts.pages.page import Content, Field, Setup
from layouts.pages.paper import find_paper
from layouts.pages.sheet import compose

A4 = Field(width_mm=176.0, height_mm=218.0)
WIRES = (parse_wire("16 AWG"), parse_wire("1.2 mm"))


def drawings(content: Content, field: Field = A4) -> list[Drawing]:
    return list(content.draw(field))


def words_of(content: Content, field: Field = A4) -> str:
    texts = (mark for drawing in drawings(content, field) for mark in drawing.marks if isinstance(mark, Text))
    return " ".join(text.string for text in texts)


def ticks(drawing: Drawing) -> Iterator[Line]:
    return (mark for mark in drawing.marks if isinstance(mark, Line) and mark.role is Role.TICK and mark.x1 == mark.x2)


# --- wrap strips


def _end_over_scale(gauge: WrapGauge, diameter: float) -> float:
    """Where a strip's end comes to lie, from its start along the first layer: by angles, exact geometry.

    First layer: middle at (D + t)/2. It leaves the rod where the straight line to the upper corner of the start does,
    turns about that corner at t/2, and goes on at (D + 3 t)/2.
    """
    r, t = diameter / 2, gauge.paper_mm
    lean = math.acos(r / (r + t))
    used = (2 * math.pi - lean) * (r + t / 2) + math.sqrt((r + t) ** 2 - r**2) + lean * t / 2
    return (gauge.length_mm - used) / (r + 1.5 * t) * (r + t / 2)


def _reads(gauge: WrapGauge, x: float) -> float:
    """What a person reads where the end lies at x: the slanted line that goes under it, and the level where it does."""
    slants = [mark for mark in gauge.drawing().marks if isinstance(mark, Polyline) and not mark.closed]
    hits = []
    for slant in slants:
        # a line leans from its foot, lower right, to the upper left: it goes under the end where it crosses x
        for (x1, y1), (x2, y2) in pairwise(slant.points):
            if x2 - 1e-9 <= x <= x1 + 1e-9:
                hits.append((slant.points[0][0], y1 + (y2 - y1) * (x1 - x) / (x1 - x2)))
    foot, y = hits[0]
    main = min(gauge.mains, key=lambda number: abs(gauge.x(number * gauge.main_mm) - foot)) * gauge.main_mm
    levels = [gauge.level_y(level) for level in range(LEVELS + 1)]
    return main + gauge.main_mm * (y - levels[0]) / (levels[-1] - levels[0])


@pytest.mark.parametrize("paper", [0.08, 0.1, 0.19, 0.28])
def test_a_rod_reads_its_diameter_where_the_end_comes_to_lie(paper: float) -> None:
    for gauge in wrap_gauges(paper):
        for part in (0.02, 0.31, 0.5, 0.77, 0.97):
            diameter = gauge.low_mm + part * (gauge.high_mm - gauge.low_mm)
            assert _reads(gauge, _end_over_scale(gauge, diameter)) == pytest.approx(diameter, abs=0.002)


def test_without_the_second_layer_a_thin_rod_would_read_wrong() -> None:
    """The comparison can fail: with one scale for both layers 3 mm is off by some 0.1 mm."""
    gauge = wrap_gauges(0.1)[0]
    as_if_one_layer = gauge.length_mm - math.pi * (3.2 + gauge.paper_mm)
    assert abs(_reads(gauge, as_if_one_layer) - 3.2) > 0.04


@pytest.mark.parametrize("units", ["mm", "inch"])
def test_strips_read_from_three_to_twenty_five_without_a_gap_and_resolve_a_twentieth(units: str) -> None:
    with said_in(units):
        gauges = wrap_gauges(0.1)
        assert gauges[0].low_mm == pytest.approx(3.0, abs=0.05)
        assert gauges[-1].high_mm == pytest.approx(25.0, abs=0.5)
        assert all(one.high_mm >= other.low_mm - 1e-9 for one, other in pairwise(gauges))
        assert all(gauge.step_mm <= 0.051 for gauge in gauges)  # asked for: 0.05 mm from 8 mm up, 0.1 below


@pytest.mark.parametrize("units", ["mm", "inch"])
@pytest.mark.parametrize("paper", [0.1, 0.28])
def test_no_strip_comes_round_to_its_scale_a_second_time(units: str, paper: float) -> None:
    with said_in(units):
        for gauge in wrap_gauges(paper):
            assert gauge.x(gauge.low_mm) < math.pi * (gauge.low_mm + paper) - 0.5
            assert gauge.x(gauge.high_mm) == pytest.approx(5.0, abs=0.1)  # room for the tape


def test_the_end_of_a_strip_is_its_cut_line_and_it_says_its_paper() -> None:
    gauge = wrap_gauges(0.1)[-1]
    [outline] = [mark for mark in gauge.drawing().marks if isinstance(mark, Polyline) and mark.role is Role.CUT]
    assert max(x for x, _ in outline.points) == pytest.approx(gauge.length_mm)
    # by hand: 25.1 pi + the climb of 0.0084 + 5 x 25.3 / 25.1
    assert gauge.length_mm == pytest.approx(25.1 * math.pi + 0.0084 + 5.0398, abs=1e-3)
    assert "paper 0.1 mm" in " ".join(mark.string for mark in gauge.drawing().marks if isinstance(mark, Text))


def test_card_too_thick_for_the_thinnest_rod_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"paper of 0.8 mm does not wrap a rod of 3 mm; print it on paper of 0.75 mm"):
        drawings(measuring_sheet(Wanted(paper_mm=0.8)))


# --- wire by turns


@pytest.mark.parametrize("turns", [10, 20, 40])
def test_what_the_strip_reads_is_what_the_command_works_out(turns: int) -> None:
    for wire in (0.4, 1.02, 2.35):
        length = mark_mm(wire, turns) - TURNS_ZERO_MM
        # by hand: (n - 1) pitches of 1.002 d + 0.003, and one wire
        assert length == pytest.approx((turns - 1) * (1.002 * wire + 0.003) + wire)
        assert wire_by_turns(length, turns, find_instrument("wire strip")).mm == pytest.approx(wire)


def test_every_gauge_hangs_under_its_size_with_its_name_and_pairs_share_one() -> None:
    drawn = turns_strip(A4.width_mm)
    names = {mark.string for mark in drawn.marks if isinstance(mark, Text) and mark.angle_deg == 90}
    sizes = gauge_sizes(0.4, 3.0)
    assert names == {size.name for size in sizes}
    assert {"14 AWG = 16 SWG", "13 AWG = 15 SWG", "20 AWG = 21 SWG", "19 AWG = 20 SWG"} <= names
    places = {round(tick.x1, 6) for tick in ticks(drawn)}
    assert {round(mark_mm(size.diameter_mm, 40), 6) for size in sizes} <= places


def test_names_stand_apart_and_as_near_their_marks_as_may_be() -> None:
    # by hand: two at 10 and 11 to stand 3 apart keep their mean
    assert spread([10.0, 11.0], 3.0, 0.0) == pytest.approx([9.0, 12.0])
    assert spread([10.0, 20.0], 3.0, 0.0) == [10.0, 20.0]
    assert spread([1.0, 1.0, 1.0], 3.0, 2.0) == pytest.approx([2.0, 5.0, 8.0])
    marks = [mark_mm(size.diameter_mm, 40) for size in gauge_sizes(0.4, 3.0)]
    placed = spread(marks, 2.9, 16.0)
    assert all(b - a >= 2.9 - 1e-9 for a, b in pairwise(placed))


def test_a_narrow_field_ends_a_row_at_a_thinner_wire() -> None:
    assert thickest_mm(40, 176.0) == 3.0
    least = thickest_mm(40, 114.0)
    assert 2.2 < least < 2.5
    assert mark_mm(least, 40) <= 114.0


@pytest.mark.parametrize("units", ["mm", "inch"])
@pytest.mark.parametrize("travel", [2, 3, 5, 10, 17, 20, 40])
def test_ticks_stand_apart(units: str, travel: float) -> None:
    with said_in(units):
        assert ruling_for(travel).step_mm * travel >= CLOSEST_MM - 1e-9


# --- rings


def test_a_chain_begun_at_its_wire_ends_at_its_inside() -> None:
    """By hand: 20 rings of 5 in wire 1.2 are 102.4 long; begun 2.4 left of zero they end at 100."""
    end = wire_x(1.2) + 20 * 5.0 + 2 * 1.2
    assert end == pytest.approx(inside_x(5.0, 20))
    wire = KnownWire(diameter_mm=1.2)
    length = inside_x(5.0, 20) - wire_x(1.2)
    assert inside_by_chain(length, 20, wire, find_instrument("chain strip")).mm == pytest.approx(5.0)
    places = {round(tick.x1, 6) for tick in ticks(chain_strip(176.0, (20,)))}
    assert {ZERO_MM - 1.0, ZERO_MM - 6.0, ZERO_MM + 100.0} <= places


def test_rows_are_for_forty_twenty_ten_and_for_the_largest_ring() -> None:
    text = words_of(measuring_sheet(Wanted(parts=("ring",))))
    assert re.findall(r"(\d+) rings, ID", text) == ["5", "10", "20", "40"]
    narrow = words_of(measuring_sheet(Wanted(parts=("ring",))), Field(width_mm=114.0, height_mm=120.0))
    assert re.findall(r"(\d+) rings, ID", narrow) == ["3", "5", "10", "20"]  # 3 x 25 mm is what it holds


def test_fewer_rings_are_proposed_where_the_chain_is_longer_than_the_strip() -> None:
    text = words_of(measuring_sheet(Wanted(parts=("ring",), inside_mm=8.0)))
    assert "40 rings of 8 mm are 320 mm long, more than the strip: hang 10." in " ".join(text.split())
    assert re.findall(r"(\d+) rings, ID", text) == ["10"]
    fits = words_of(measuring_sheet(Wanted(parts=("ring",), inside_mm=3.0)))
    assert "hang 40" not in fits
    assert re.findall(r"(\d+) rings, ID", fits) == ["40"]
    asked = words_of(measuring_sheet(Wanted(parts=("ring",), inside_mm=8.0, rings=12)))
    assert re.findall(r"(\d+) rings, ID", asked) == ["12"]


def test_a_row_that_would_need_the_whole_strip_for_its_start_is_left_out() -> None:
    assert "40 rings, ID" not in words_of(
        measuring_sheet(Wanted(parts=("ring",))), Field(width_mm=114.0, height_mm=99.0)
    )


# --- wedges and steps


def test_steps_are_as_high_as_they_say_from_two_to_twenty_five() -> None:
    for stair in stairs(176.0):
        drawn = stair.drawing()
        top, foot = (mark for mark in drawn.marks if isinstance(mark, Polyline) and mark.filled)
        base = min(y for _, y in foot.points)
        for number, inside in enumerate(stair.insides_mm):
            heights = {round(y - base, 6) for x, y in top.points if abs(x - stair.x(number) - stair.step_mm) < 1e-6}
            assert round(inside, 6) in heights
    insides = [mm for stair in stairs(176.0) for mm in stair.insides_mm]
    assert (insides[0], insides[-1]) == (pytest.approx(2.0), pytest.approx(25.0))


def test_steps_in_inches_are_whole_thousandths() -> None:
    with said_in("inch"):
        insides = [mm / 25.4 for stair in stairs(176.0) for mm in stair.insides_mm]
    assert (insides[0], insides[-1]) == (pytest.approx(0.08), pytest.approx(1.0))
    assert all(1000 * inside == pytest.approx(round(1000 * inside)) for inside in insides)


def test_wires_that_are_named_have_both_figures_by_wedge_and_steps() -> None:
    text = words_of(measuring_sheet(Wanted(parts=("wedge", "steps"), wires=WIRES)))
    for words in ("ID, 16 AWG", "ID, 1.200 mm", "OD, 16 AWG", "OD, 1.200 mm"):
        assert words in text
    # by hand: a ring of ID 5 in 1.2 is 7.4 outside, in 16 AWG 5 + 2 x 1.2908 = 7.58
    assert {"7.4", "7.58"} <= set(text.split())
    plain = words_of(measuring_sheet(Wanted(parts=("wedge", "steps"))))
    assert "ID, " not in plain


# --- what it says it is good for


def test_each_aid_says_what_it_is_good_for() -> None:
    """C, with the 0.70711 % that a rule proves of a bar of 100 mm: strip sqrt(0.03^2 / 3 + 0.05^2 + 0.05657^2) = 0.0775
    at 8 mm, paper measured 0.0625; 40 turns of 1 mm sqrt(0.41^2 + 0.05^2 + 0.285^2) / 40.2 = 0.0125, with the gaps'
    0.003 and the helix's 0.001 0.0129; a chain 0.0416; an outside of 7 mm sqrt(0.1^2 / 3 + 0.05^2 + 0.0495^2) = 0.091.
    """
    text = " ".join(words_of(measuring_sheet(Wanted(wires=WIRES))).split())
    for words in (
        "Good for ±0.08 mm at 8 mm, once both check bars read right, read three times; ±0.07 mm once the paper",
        "Good for ±0.013 mm with 40 turns and ±0.05 mm with 10, once both check bars read right",
        "Good for ±0.05 mm with 20 rings of 5 mm, once both check bars read right",
        "Good for ±0.10 mm, once both check bars read right",
    ):
        assert words in text
    assert text.count("Good for") == 5


def test_on_a_printer_its_own_budget_counts() -> None:
    printer = replace(measured(Press()), instrument="caliper", tray="plain 80 g")
    sheet = measuring_sheet(Wanted())
    assert sheet.on is not None
    text = " ".join(words_of(sheet.on(printer)).split())
    assert "once both check bars read right" not in text
    assert text.count("on this printer") == 5
    scale = printer.good_for_mm(100.0, 0) / 100.0
    # C: 0.41 / 20, the strip's 0.05 / 20, scale x 5, wire 0.01 / 10, pull 0.002
    off = math.sqrt((0.41 / 20) ** 2 + (0.05 / 20) ** 2 + (5 * scale) ** 2 + 0.001**2 + 0.002**2)
    assert f"Good for ±{math.ceil(1000 * off) / 1000:.3f} mm with 20 rings" in text
    wedge = math.sqrt(0.1**2 / 3 + printer.good_for_mm(7.0, 2) ** 2)
    assert f"Good for ±{math.ceil(100 * wedge) / 100:.2f} mm, on this printer" in text


def test_strips_are_for_the_paper_in_the_tray_where_it_is_known() -> None:
    sheet = measuring_sheet(Wanted())
    assert sheet.on is not None
    assert dict(sheet.facts)["paper"] == "0.1 mm thick"
    card = sheet.on(replace(measured(Press()), tray="card 160 g"))
    assert dict(card.facts)["paper"] == "0.19 mm thick"
    assert "paper 0.19 mm" in words_of(card)
    given = measuring_sheet(Wanted(paper_mm=0.12), "card 160 g")
    assert dict(given.facts)["paper"] == "0.12 mm thick"


# --- the sheet


def made(**given: object) -> Content:
    return find_sheet("measuring").make(given).content  # type: ignore[arg-type]


def test_parts_may_be_chosen() -> None:
    assert "Wire: close turns" in words_of(made(parts="wire"))
    assert "wrap strips" not in words_of(made(parts="wire"))
    assert "paper" not in dict(made(parts="wire").facts)
    assert len(drawings(made())) == 8


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"wire": "5 mm"}, "this sheet reads no rings of wire of 5.00 mm; give 0.4 mm to 3 mm"),
        ({"wire": ("1 mm", "1.1 mm", "1.2 mm", "1.3 mm", "1.4 mm")}, "5 wires on a measuring sheet; give 4 at most"),
        ({"inside": "30 mm"}, "this sheet reads no ring of 30.00 mm inside"),
        ({"rings": "1"}, "a chain of 1 rings"),
        ({"rings": "41"}, "a chain of 41 rings"),
        ({"parts": "rods"}, "no parts is called 'rods'"),
        ({"paper_thickness": "1 mm"}, "paper of 1 mm does not wrap a rod of 3 mm"),
    ],
)
def test_what_no_sheet_can_be_made_of_is_refused(given: dict[str, object], said: str) -> None:
    with pytest.raises(Refusal) as refusal:
        drawings(made(**given))
    assert said in str(refusal.value)


@pytest.mark.parametrize(("paper", "pages"), [("a4", 2), ("letter", 2), ("a5", 5)])
def test_it_goes_on_two_pages_of_a4_and_letter(paper: str, pages: int) -> None:
    content = measuring_sheet(Wanted(wires=WIRES))
    assert len(compose(content, Setup(paper=find_paper(paper)))) == pages


def test_the_sheet_is_drawn_as_before() -> None:
    assert_drawn_as_golden("measuring.txt", drawings(measuring_sheet(Wanted(wires=WIRES))))


def test_no_page_of_steps_is_without_its_heading() -> None:
    """Four wires' rows move the large steps to a page of their own."""
    wires = tuple(parse_wire(words) for words in ("18 AWG", "1.2 mm", "20 SWG", "0.8 mm"))
    sheet = compose(measuring_sheet(Wanted(wires=wires)), Setup(paper=find_paper("a4")))
    pages = [[mark.string for mark in page.marks() if isinstance(mark, Text)] for page in sheet]
    with_steps = [page for page in pages if "ID mm" in page]
    assert len(with_steps) == 2
    assert all(any(words.startswith("Inside of rings: steps") for words in page) for page in with_steps)
