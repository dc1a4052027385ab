"""Ways to measure: each worked by hand and against exact geometry, its errors, and readings brought together."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigs.making.likely_gauge import gauge_sizes, likely_sizes
from jigs.making.measured import ErrorKind, ErrorTerm, Measured, Value, apart
from jigs.making.measuring import (
    OTHER_END,
    RIGHT_ANGLES,
    KnownWire,
    across_rod,
    directly,
    inside_by_chain,
    inside_by_outside,
    inside_by_straightened,
    kept_turns,
    refuse_ring_by_mass,
    rod_by_strip,
    rod_by_unwound,
    turns_length_mm,
    wire_by_mass,
    wire_by_turns,
)
from jigs.making.other_ways import better_ways, rings_for, ways_to_measure
from jigs.making.rod_shape import shape_of
from jigs.making.wrapping import climb_mm, covers_mm, once_round_mm, pricked_mm, rod_of_pricks_mm
from jigs.stock.instrument import find_instrument
from layouts.errors import OutOfRange

RULE, LOUPE, CALIPER = find_instrument("rule"), find_instrument("loupe"), find_instrument("caliper")
STRIP, WIRE_STRIP, CHAIN_STRIP = (find_instrument(name) for name in ("strip", "wire strip", "chain strip"))
KNOWN = KnownWire(diameter_mm=1.0, off_mm=0.01)
rods = st.floats(2.0, 30.0)
wires = st.floats(0.4, 3.0)


def together(*values: Value) -> Measured:
    return Measured(what="size", values=values)


# --- a strip round a rod


def _walked(diameter: float, paper: float, strip: float) -> float:
    """How far round the rod a strip ends, in degrees: its middle line walked along in small steps, exact geometry.

    The middle keeps (D + t)/2 from the axis; where the straight line to the upper corner of the start leaves the rod
    it goes straight, turns about that corner at t/2, and then keeps (D + 3 t)/2.
    """
    r, t = diameter / 2, paper
    lean = math.acos(r / (r + t))
    pieces = [  # length, and how it is walked: by angle about the axis
        ((2 * math.pi - lean) * (r + t / 2), math.degrees(2 * math.pi - lean)),
        (math.sqrt((r + t) ** 2 - r**2), None),
        (lean * t / 2, math.degrees(lean)),
    ]
    left = strip - sum(length for length, _ in pieces)
    assert left > 0
    return math.degrees(left / (r + 1.5 * t))


@pytest.mark.parametrize("diameter", [3.0, 8.0, 25.0])
@pytest.mark.parametrize("paper", [0.08, 0.1, 0.31])
def test_a_strip_ends_on_itself_where_its_middle_line_does(diameter: float, paper: float) -> None:
    strip = math.pi * (diameter + paper) + 4.0
    angle = _walked(diameter, paper, strip)
    # C: the same angle on the first layer, whose middle is at (D + t)/2
    assert covers_mm(strip, diameter, paper) == pytest.approx(math.radians(angle) * (diameter + paper) / 2, rel=1e-12)


def test_the_two_layers_differ_by_six_per_cent_at_three_millimetres_and_by_two_and_a_half_at_eight() -> None:
    """C, reference: 6 % at 3 mm, 2.4 % at 8 in paper of 0.1 mm."""
    for diameter, share in ((3.0, 0.0645), (8.0, 0.0247)):
        strip = once_round_mm(diameter, 0.1) + 5.0
        assert 5.0 / covers_mm(strip, diameter, 0.1) - 1 == pytest.approx(share, abs=1e-4)


def test_the_climb_over_the_start_is_the_straight_line_less_its_arc() -> None:
    # by hand: R 4, t 0.1: sqrt(4.1^2 - 4^2) = 0.9; acos(4 / 4.1) = 0.221315; 0.9 - 4 x 0.221315 = 0.01474
    assert climb_mm(8.0, 0.1) == pytest.approx(0.01474, abs=1e-5)
    assert once_round_mm(8.0, 0.1) == pytest.approx(math.pi * 8.1 + 0.01474, abs=1e-5)


@given(diameter=rods, paper=st.floats(0.05, 0.3), start=st.floats(0.0, 6.0))
def test_a_pricked_strip_reads_backwards(diameter: float, paper: float, start: float) -> None:
    assert rod_of_pricks_mm(pricked_mm(diameter, paper, start), paper, start) == pytest.approx(diameter, abs=1e-9)


@given(thin=rods, more=st.floats(0.01, 0.5), paper=st.floats(0.05, 0.3))
def test_a_thicker_rod_takes_more_paper(thin: float, more: float, paper: float) -> None:
    thick = thin * (1 + more)
    strip = once_round_mm(thick, paper) + 2.0
    assert once_round_mm(thin, paper) < once_round_mm(thick, paper)
    assert covers_mm(strip, thin, paper) > covers_mm(strip, thick, paper)


def test_paper_too_thick_for_a_rod_is_refused() -> None:
    with pytest.raises(
        OutOfRange, match=r"paper of 0.6 mm does not wrap a rod of 2 mm; take paper of 0.5 mm or thinner"
    ):
        once_round_mm(2.0, 0.6)
    with pytest.raises(OutOfRange, match="does not go round a rod"):
        rod_of_pricks_mm(0.5, 0.1, 3.0)


# --- rods


def test_a_strip_of_other_paper_than_it_was_printed_for_reads_that_much_off() -> None:
    """C: it reads a girth, pi (D + t): thicker paper reads thick by as much as it is thicker."""
    found = rod_by_strip(7.95, find_instrument("strip, paper measured"), counted_mm=0.1, paper_mm=0.12)
    assert found.mm == pytest.approx(7.93)
    assert together(*(replace(found, number=n) for n in (1, 2, 3))).uncertainty_mm == pytest.approx(0.036, abs=0.001)


def test_a_strip_read_once_reaches_what_was_simulated() -> None:
    """C, simulated: 0.060 uncorrected, 0.051 for a sheet that is corrected to 0.1 %."""
    assert rod_by_strip(5.0, STRIP, counted_mm=0.1, paper_mm=0.1).uncertainty_mm == pytest.approx(0.060, abs=0.002)
    corrected = rod_by_strip(5.0, replace(STRIP, scale=0.001), counted_mm=0.1, paper_mm=0.1)
    assert together(*(replace(corrected, number=n) for n in (1, 2, 3))).uncertainty_mm == pytest.approx(
        0.053, abs=0.002
    )


def test_unwound_wire_gives_the_rod_by_pythagoras() -> None:
    # by hand: 20 turns of 1.0 on 8: a turn sqrt((9 pi)^2 + 1) = 28.29201; twenty of them 565.840
    found = rod_by_unwound(565.840, 20, KNOWN, RULE)
    assert found.mm == pytest.approx(8.0, abs=1e-4)
    # C: 1.1 mm over 20 pi, and the wire's 0.01
    assert found.uncertainty_mm == pytest.approx(0.020, abs=0.001)


@given(rod=rods, wire=wires, turns=st.integers(3, 60), gap=st.floats(0.0, 0.5))
def test_unwound_wire_reads_backwards_at_any_pitch(rod: float, wire: float, turns: int, gap: float) -> None:
    wire = min(wire, rod / 1.01)
    length = turns * math.hypot(math.pi * (rod + wire), wire + gap)
    found = rod_by_unwound(length, turns, KnownWire(diameter_mm=wire), RULE, pitch_mm=wire + gap)
    assert found.mm == pytest.approx(rod, rel=1e-9)


@pytest.mark.parametrize("pitch", [None, 1.3])
def test_the_errors_of_unwound_wire_are_its_derivatives(pitch: float | None) -> None:
    def mm(length: float, wire: float) -> float:
        known = KnownWire(diameter_mm=wire, off_mm=0.01)
        return rod_by_unwound(length, 20, known, RULE, pitch_mm=pitch).mm

    terms = {term.cause: term.mm for term in rod_by_unwound(565.84, 20, KNOWN, RULE, pitch_mm=pitch).terms}
    by_length = (mm(565.85, 1.0) - mm(565.83, 1.0)) / 0.02
    by_wire = (mm(565.84, 1.0001) - mm(565.84, 0.9999)) / 0.0002
    assert terms["straightening and marks"] == pytest.approx(by_length, rel=1e-6)  # 1 mm of the whole length
    assert terms["wire, good for 0.01 mm"] == pytest.approx(0.01 * by_wire, rel=1e-6)


def test_too_little_wire_for_so_many_turns_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"50.0 mm of wire in 20 turns is too little to have gone round anything"):
        rod_by_unwound(50.0, 20, KNOWN, RULE)
    with pytest.raises(OutOfRange, match="2 turns are too few to measure by; wind 3 or more"):
        rod_by_unwound(50.0, 2, KNOWN, RULE)
    with pytest.raises(OutOfRange, match="less than the wire"):
        rod_by_unwound(565.0, 20, KNOWN, RULE, pitch_mm=0.9)


def test_an_oval_rod_read_both_ways_has_its_mean_and_no_error_of_being_oval() -> None:
    one_way = together(across_rod(8.1, CALIPER))
    assert "oval by up to 1 %, read one way" in [term.cause for term in one_way.terms]
    both = together(across_rod(8.1, CALIPER), across_rod(7.9, CALIPER, place=RIGHT_ANGLES))
    assert both.mm == pytest.approx(8.0)
    assert max(term.mm for term in both.terms if "oval" in term.cause) < 0.0005
    oval = shape_of(both).oval
    assert oval is not None
    assert (oval.mm, oval.is_seen) == (pytest.approx(-0.2), True)
    # C: two readings of scatter 0.03 apart; the caliper's bias is in both and cancels
    assert oval.off_mm == pytest.approx(0.03 * math.sqrt(2))
    assert shape_of(one_way).oval is None


def test_a_taper_is_the_other_end_against_this_one_and_both_ends_count_alike() -> None:
    rod = together(
        across_rod(8.02, CALIPER),
        across_rod(7.98, CALIPER, place=RIGHT_ANGLES),
        across_rod(7.80, CALIPER, end=OTHER_END),
    )
    taper = shape_of(rod).taper
    assert taper is not None
    assert taper.mm == pytest.approx(-0.2)
    assert taper.is_seen
    assert rod.mm == pytest.approx(7.9)
    assert not rod.contradictions


# --- wire


def _closest(rod: float, wire: float, pitch: float) -> float:
    """The distance between the middles of neighbouring turns of a helix, by trying: no formula of the project."""
    r = (rod + wire) / 2

    def apart(angle: float) -> float:
        return math.hypot(2 * r * math.sin(angle / 2), pitch * (1 - angle / (2 * math.pi)))

    low, high = 0.0, 0.5
    for _ in range(100):  # golden section
        a, b = low + 0.382 * (high - low), low + 0.618 * (high - low)
        low, high = (low, b) if apart(a) < apart(b) else (a, high)
    return apart(low)


@pytest.mark.parametrize(("rod", "wire"), [(8.0, 1.0), (5.0, 1.2), (12.0, 0.8), (4.0, 1.0)])
def test_close_turns_touch_where_a_helix_in_space_says(rod: float, wire: float) -> None:
    pitch = (turns_length_mm(wire, 41, rod) - wire) / 40 - 0.003
    assert _closest(rod, wire, pitch) == pytest.approx(wire, abs=2e-6 * wire + 1e-6)
    assert 1.0001 < pitch / wire < 1.0035  # C, reference: 0.1 to 0.3 % on usual rods


def test_forty_wires_by_hand() -> None:
    """By hand: 1.02 on 8: pitch 1.02 / sqrt(1 - (1.02 / (9.02 pi))^2) = 1.020661; 39 x 1.023661 + 1.02 = 40.9428."""
    assert turns_length_mm(1.02, 40, 8.0) == pytest.approx(40.9428, abs=1e-4)
    assert turns_length_mm(1.02, 40) == pytest.approx(39 * (1.002 * 1.02 + 0.003) + 1.02)


@given(wire=wires, count=st.integers(5, 60), rod=st.one_of(st.none(), rods))
def test_close_turns_read_backwards(wire: float, count: int, rod: float | None) -> None:
    found = wire_by_turns(turns_length_mm(wire, count, rod), count, RULE, rod_mm=rod)
    assert found.mm == pytest.approx(wire, abs=1e-9)


@pytest.mark.parametrize(("count", "reaches"), [(10, 0.040), (20, 0.020), (40, 0.010)])
def test_turns_on_the_strip_reach_what_was_simulated(count: int, reaches: float) -> None:
    """C, simulated: 0.040, 0.020 and 0.010, with a bias of 0.003 from gaps."""
    found = wire_by_turns(turns_length_mm(1.0, count, 8.0), count, WIRE_STRIP, rod_mm=8.0)
    assert found.uncertainty_mm == pytest.approx(reaches, abs=0.002)


def test_turns_by_a_loupe_reach_what_was_simulated() -> None:
    """C, simulated: 0.023, 0.011 and 0.006."""
    found = [wire_by_turns(turns_length_mm(1.0, n, 8.0), n, LOUPE, rod_mm=8.0).uncertainty_mm for n in (10, 20, 40)]
    assert found == pytest.approx([0.023, 0.012, 0.006], abs=0.001)


def test_a_metre_weighed_by_hand_and_what_it_reaches() -> None:
    """By hand: 7 g of 1 m at 8.9 g/cm3 are 7000 / 8.9 / 1000 = 0.78652 mm2, so d = 1.00071.

    C, simulated: 0.010 mm on a scale of 0.1 g, 0.006 on one of 0.01 g.
    """
    coarse = wire_by_mass(7.0, 1000.0, 8.9, step_g=0.1, tool=RULE)
    assert coarse.mm == pytest.approx(1.00071, abs=1e-5)
    assert coarse.uncertainty_mm == pytest.approx(0.010, abs=0.001)
    assert wire_by_mass(7.0, 1000.0, 8.9, step_g=0.01, tool=RULE).uncertainty_mm == pytest.approx(0.006, abs=0.001)
    with pytest.raises(OutOfRange, match=r"0.3 g is too little for a scale that shows 0.1 g"):
        wire_by_mass(0.3, 40.0, 8.9, step_g=0.1, tool=RULE)


def test_few_turns_and_nothing_left_for_a_wire_are_refused() -> None:
    with pytest.raises(OutOfRange, match="4 turns are too few to measure by; wind 5 or more"):
        wire_by_turns(4.0, 4, RULE)
    with pytest.raises(OutOfRange, match="thinner than any wire"):
        wire_by_turns(0.1, 40, RULE)
    assert [kept_turns(n) for n in (8, 10, 19, 20, 39, 40, 90)] == [
        *["10 close turns"] * 3,
        *["20 close turns"] * 2,
        *["40 close turns"] * 2,
    ]


# --- rings and coils


def test_a_chain_by_hand_and_against_rings_in_space() -> None:
    """By hand: 20 rings of ID 5 in wire 1: 20 x 5 + 2 = 102.

    In space: two rings at right angles touch where the middles of their wires are d apart along the chain.
    """
    assert inside_by_chain(102.0, 20, KNOWN, RULE).mm == pytest.approx(5.0)
    inside, wire, rings = 5.0, 1.0, 20
    mean = inside + wire
    at = 0.0
    for _ in range(rings - 1):
        right_wire = at + mean / 2
        left_wire_of_next = right_wire - wire
        at = left_wire_of_next + mean / 2
    ends = at + mean / 2 + wire / 2 + mean / 2 + wire / 2
    assert inside_by_chain(ends, rings, KNOWN, RULE).mm == pytest.approx(inside)


@pytest.mark.parametrize(
    ("inside", "scale", "reaches"),
    [
        (5, 0.001, 0.021),
        (5, 0.003, 0.025),
        (5, 0.005, 0.032),
        (10, 0.001, 0.023),
        (10, 0.003, 0.036),
        (10, 0.005, 0.054),
    ],
)
def test_a_chain_of_twenty_reaches_what_was_simulated(inside: float, scale: float, reaches: float) -> None:
    """C, simulated: reading / N and scale x ID together. Wire and pull are beside that here, 0.002 at most."""
    found = inside_by_chain(20 * inside + 2, 20, KNOWN, replace(CHAIN_STRIP, scale=scale))
    assert found.uncertainty_mm == pytest.approx(reaches, abs=0.002)


def test_a_chain_through_which_two_wires_do_not_pass_is_refused() -> None:
    with pytest.raises(OutOfRange, match="two wires of 1 mm do not pass through that"):
        inside_by_chain(40.0, 20, KNOWN, RULE)
    with pytest.raises(OutOfRange, match="a chain of 1 rings"):
        inside_by_chain(40.0, 1, KNOWN, RULE)
    assert inside_by_chain(42.0, 20, KNOWN, RULE).mm == pytest.approx(2.0)  # AR 2, which is just a chain


def test_straightened_turns_reach_what_was_simulated() -> None:
    """C, simulated: ID 0.036 by 10 turns, 0.020 by 20, the wire known."""
    for turns, reaches in ((10, 0.036), (20, 0.020)):
        length = turns * math.hypot(math.pi * 6.0, 1.0)
        found = inside_by_straightened(length, turns, KNOWN, RULE)
        assert (found.mm, found.uncertainty_mm) == (pytest.approx(5.0), pytest.approx(reaches, abs=0.001))


def test_an_outside_has_twice_the_error_of_its_wire() -> None:
    found = inside_by_outside(7.4, KnownWire(diameter_mm=1.2, off_mm=0.02), CALIPER)
    assert found.mm == pytest.approx(5.0)
    assert found.uncertainty_mm == pytest.approx(math.sqrt(0.03**2 + 0.02**2 + 0.04**2))
    with pytest.raises(OutOfRange, match="leaves no inside"):
        inside_by_outside(2.0, KNOWN, CALIPER)


def test_a_ring_by_weight_is_refused_with_what_it_would_reach() -> None:
    """C, reference: 0.12 mm. By hand: 6.2 x sqrt((2 x 0.01 / 1.2)^2 + 0.01^2) = 0.12."""
    grams = math.pi**2 / 4 * 1.2**2 * 6.2 * 8.9 / 1000
    refusal = refuse_ring_by_mass(grams, KnownWire(diameter_mm=1.2, off_mm=0.01), 8.9)
    assert "a ring's weight tells its size only to 0.12 mm" in str(refusal)


def test_wire_as_it_is_sold_is_trusted_to_one_per_cent() -> None:
    assert KnownWire(diameter_mm=1.2).term(-2.0).mm == pytest.approx(-0.024)
    with pytest.raises(OutOfRange, match="a wire good for 2 mm"):
        KnownWire(diameter_mm=1.2, off_mm=2.0)


# --- readings together


def test_readings_shrink_the_scatter_and_never_what_they_share() -> None:
    found = [together(*(directly(5.0, CALIPER, number=n) for n in range(1, many + 1))) for many in (1, 4, 400)]
    assert [one.uncertainty_mm for one in found] == pytest.approx(
        [math.sqrt(0.03**2 / many + 0.02**2) for many in (1, 4, 400)]
    )
    assert found[2].part_mm(ErrorKind.SHARED) == pytest.approx(0.02)
    assert found[1].part_mm(ErrorKind.READING) == pytest.approx(0.015)
    assert all(more.uncertainty_mm < less.uncertainty_mm for less, more in pairwise(found))


def test_two_strips_of_one_sheet_share_its_scale() -> None:
    """C: a chain of 20 and one of 10 off one sheet: the scale, 0.3 % of 5 mm, stays whole."""
    values = [inside_by_chain(n * 5.0 + 2.0, n, KNOWN, CHAIN_STRIP) for n in (20, 10)]
    assert together(*values).part_mm(ErrorKind.SCALE) == pytest.approx(0.003 * 5.0, rel=0.05)


def test_the_better_way_counts_for_more() -> None:
    chain, caliper = inside_by_chain(103.0, 20, KNOWN, CHAIN_STRIP), directly(5.0, CALIPER)
    both = together(chain, caliper)
    parts = [1 / chain.uncertainty_mm**2, 1 / caliper.uncertainty_mm**2]
    assert both.weights == pytest.approx([part / sum(parts) for part in parts])
    assert both.mm == pytest.approx((5.05 * parts[0] + 5.0 * parts[1]) / sum(parts))
    assert both.uncertainty_mm < min(chain.uncertainty_mm, caliper.uncertainty_mm)
    assert both.instrument == "chain strip"


@given(st.lists(st.floats(4.9, 5.1), min_size=1, max_size=6), st.randoms())
def test_the_order_of_readings_does_not_matter(sizes: list[float], shuffled: object) -> None:
    values = [directly(mm, tool, number=n) for n, mm in enumerate(sizes, 1) for tool in (CALIPER, RULE)]
    turned = values[::-1]
    shuffled.shuffle(turned)  # type: ignore[attr-defined]
    one, other = together(*values), together(*turned)
    assert (one.mm, one.uncertainty_mm) == (pytest.approx(other.mm), pytest.approx(other.uncertainty_mm))
    assert sum(one.weights) == pytest.approx(1.0)
    assert min(sizes) - 1e-9 <= one.mm <= max(sizes) + 1e-9


def test_what_contradicts_is_named_and_the_value_holds_all_until_it_is_settled() -> None:
    good = [directly(5.0, CALIPER), directly(5.01, CALIPER, number=2)]
    assert together(*good).contradictions == ()
    found = together(*good, directly(5.3, CALIPER, number=3))
    assert {(pair.one, pair.other) for pair in found.contradictions} == {
        ("caliper", "caliper, reading 3"),
        ("caliper, reading 2", "caliper, reading 3"),
    }
    assert found.odd_one == "caliper, reading 3"
    assert found.uncertainty_mm == pytest.approx(5.3 - found.mm)


def test_just_what_both_may_be_off_is_no_contradiction() -> None:
    """C: 3.5 standard deviations of the difference of two scatters of 0.015: 3.5 x 0.015 x sqrt(2) = 0.0742."""
    near, far = (together(directly(5.0, CALIPER), directly(mm, CALIPER, number=2)) for mm in (5.074, 5.075))
    assert not near.contradictions
    assert far.contradictions
    assert far.odd_one == ""


def test_a_strip_is_read_by_its_levels_and_neighbours_of_one_level_do_not_contradict() -> None:
    """C: read to 0.05, two readings are a step further apart than they are: 0.0742 and 0.05 are 0.1242."""

    def strips(*read: float) -> Measured:
        return together(
            *(rod_by_strip(mm, STRIP, counted_mm=0.1, paper_mm=0.1, number=n) for n, mm in enumerate(read, 1))
        )

    assert not strips(7.90, 8.00, 7.95).contradictions
    assert strips(7.90, 8.05, 7.95).contradictions


def test_what_two_sizes_share_cancels_in_their_difference() -> None:
    one, other = together(directly(5.0, CALIPER)), together(directly(5.2, CALIPER))
    assert apart(other, one) == (pytest.approx(0.2), pytest.approx(0.03 * math.sqrt(2)))


def test_no_reading_and_no_size_are_refused() -> None:
    with pytest.raises(OutOfRange, match="no reading of the size is given"):
        together()
    with pytest.raises(OutOfRange):
        Value(way="x", mm=0.0, terms=(), instrument="x")
    with pytest.raises(OutOfRange):
        ErrorTerm(cause="x", mm=math.nan)


# --- which gauge, and which way is better


def test_gauges_that_no_bench_tells_apart_share_one_name() -> None:
    """C, reference: 13 / 15, 20 / 21, 14 / 16 and 19 / 20 are under 1 % apart."""
    names = [size.name for size in gauge_sizes(0.4, 3.0)]
    for pair in ("13 AWG = 15 SWG", "20 AWG = 21 SWG", "14 AWG = 16 SWG", "19 AWG = 20 SWG"):
        assert pair in names
    assert all(b.diameter_mm >= 1.01 * a.diameter_mm * 0.995 for a, b in pairwise(gauge_sizes(0.4, 3.0)))
    assert [size.diameter_mm for size in gauge_sizes(0.4, 3.0)] == sorted(
        size.diameter_mm for size in gauge_sizes(0.4, 3.0)
    )


def test_a_gauge_is_told_with_its_likelihood_against_its_neighbours() -> None:
    """By hand: 1.02 +-0.05 and sizes 1.0 and 1.0199: s 0.0255, z 0.78 and 0.00, exp(-z^2/2) 0.74 and 1."""
    first, second = likely_sizes(1.02, 0.05)[:2]
    assert (first.size.name, second.size.name) == ("18 AWG = 19 SWG", "1.0 mm")
    assert second.likelihood / first.likelihood == pytest.approx(math.exp(-(0.78**2) / 2) * 0.02552 / 0.0255, rel=0.01)
    assert sum(one.likelihood for one in likely_sizes(1.02, 0.05)) == pytest.approx(1.0, abs=0.02)
    sharper = likely_sizes(1.02, 0.01)[0]
    assert sharper.likelihood > 0.95


def test_a_wire_of_no_size_that_is_sold_is_told_to_be_of_none() -> None:
    assert not likely_sizes(1.25, 0.01)[0].fits
    assert likely_sizes(1.25, 0.06)[0].fits


@pytest.mark.parametrize("gauge", [size for size in gauge_sizes(0.4, 3.0)], ids=lambda size: size.name)
def test_every_gauge_is_found_again_by_forty_turns(gauge: object) -> None:
    mm = gauge.diameter_mm  # type: ignore[attr-defined]
    assert gauge.name in likely_sizes(mm, 0.011)[0].size.name  # type: ignore[attr-defined]


def test_a_way_that_is_clearly_better_is_named_and_others_are_not() -> None:
    now = together(rod_by_strip(8.0, STRIP, counted_mm=0.1, paper_mm=0.1))
    better = better_ways(now, "rod", find_instrument)
    assert better[0].words == "20 turns of a known wire, unwound and straightened"
    assert all(reach.off_mm < 0.9 * now.uncertainty_mm for reach in better)
    assert [reach.bought for reach in better] == sorted(reach.bought for reach in better)
    best = together(
        across_rod(8.0, find_instrument("micrometer"), place=""), across_rod(8.0, CALIPER, place=RIGHT_ANGLES)
    )
    assert all(reach.off_mm < best.uncertainty_mm for reach in better_ways(best, "rod", find_instrument))


@pytest.mark.parametrize("what", ["rod", "wire", "ring", "coil"])
def test_every_thing_has_several_ways_to_be_measured(what: str) -> None:
    ways = ways_to_measure(what, {"rod": 8.0, "wire": 1.0, "ring": 5.0, "coil": 5.2}[what], find_instrument)
    assert len(ways) >= 2
    assert any(not way.bought for way in ways)


def test_fewer_rings_are_proposed_where_a_chain_is_longer_than_the_strip() -> None:
    assert [rings_for(inside, 1.0) for inside in (3.0, 5.0, 10.0, 20.0, 60.0)] == [40, 20, 10, 5, 2]
    assert all(rings_for(inside, 1.0) * inside + 2 <= 170 for inside in (2.0, 4.2, 8.4, 16.8, 33.0))
