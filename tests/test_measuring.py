"""Ways to measure: each worked by hand and against exact geometry, its errors, and readings brought together."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from measuring_tools import (
    CALIPER,
    CHAIN_STRIP,
    KNOWN,
    LOUPE,
    RULE,
    STRIP,
    THIN_STRIP,
    WIRE_STRIP,
    rods,
    together,
    wires,
)

from jigs.making.measuring import (
    OTHER_END,
    RIGHT_ANGLES,
    KnownWire,
    across_rod,
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
from jigs.making.rod_shape import shape_of
from jigs.making.wrapping import climb_mm, covers_mm, once_round_mm, pricked_mm, rod_of_pricks_mm
from layouts.errors import OutOfRange

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
    found = rod_by_strip(7.95, THIN_STRIP, counted_mm=0.1, paper_mm=0.12)
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
