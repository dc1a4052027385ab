"""A released coil: pitch, helix, turn; and winding a number of rings from wire."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigs.making.coil import Coil, coil_of_turn
from jigs.making.winding import Winding, longest_winding
from jigs.stock.figure import Basis
from layouts.errors import OutOfRange

wires = st.floats(0.3, 4.0)
indices = st.floats(2.0, 15.0)
gaps = st.floats(0.0, 1.0)


@pytest.mark.parametrize(("index", "expected"), [(3, 1.005613), (5, 1.002024), (10, 1.000506)])
def test_the_helix_lengthens_a_close_wound_turn(index, expected):
    # helix factor at p = d. Source: C, computed from theory
    coil = Coil(wire_mm=1, inside_mm=index - 1, pitch_mm=1)
    assert expected == pytest.approx(coil.turn_length_mm / (math.pi * index), abs=5e-7)


def test_a_5_mm_coil_of_1_mm_wire_takes_the_check_length_a_turn():
    # Source: C, computed from theory
    assert pytest.approx(18.87606, abs=5e-6) == Coil(wire_mm=1, inside_mm=5, pitch_mm=1).turn_length_mm


def test_the_helix_angle_is_the_rise_over_the_way_round():
    # pitch = pi x mean diameter rises at 45 degrees; by hand
    assert pytest.approx(45) == Coil(wire_mm=1, inside_mm=5, pitch_mm=6 * math.pi).helix_angle_deg


def test_a_coil_of_ten_close_turns_is_eleven_wires_long():
    # ten pitches and half a wire at each end; by hand
    assert pytest.approx(11) == Coil(wire_mm=1, inside_mm=5, pitch_mm=1).length_mm(10)


def test_a_coil_knows_its_outside_and_mean():
    coil = Coil(wire_mm=1, inside_mm=5, pitch_mm=1)
    assert (coil.outside_mm, coil.mean_diameter_mm) == (7, 6)


@given(wires, indices, gaps)
def test_turn_to_coil_comes_back(wire, index, gap):
    coil = Coil(wire_mm=wire, inside_mm=wire * index, pitch_mm=wire + gap)
    back = coil_of_turn(wire_mm=wire, turn_length_mm=coil.turn_length_mm, pitch_mm=coil.pitch_mm)
    assert coil.inside_mm == pytest.approx(back.inside_mm, abs=1e-9)


@given(wires, indices, gaps, st.floats(0.1, 10))
def test_scaling_every_length_scales_the_turn_and_keeps_the_angle(wire, index, gap, k):
    one = Coil(wire_mm=wire, inside_mm=wire * index, pitch_mm=wire + gap)
    other = Coil(wire_mm=k * wire, inside_mm=k * one.inside_mm, pitch_mm=k * one.pitch_mm * (1 + 1e-15))
    assert k * one.turn_length_mm == pytest.approx(other.turn_length_mm, rel=1e-12)
    assert one.helix_angle_deg == pytest.approx(other.helix_angle_deg, rel=1e-12)


@given(wires, indices, gaps, st.floats(1.001, 2))
def test_a_turn_grows_with_inside_and_pitch(wire, index, gap, more):
    def turn(inside: float, pitch: float) -> float:
        return Coil(wire_mm=wire, inside_mm=inside, pitch_mm=pitch).turn_length_mm

    inside, pitch = wire * index, wire + gap
    assert turn(inside, pitch) < turn(inside * more, pitch)
    assert turn(inside, pitch) < turn(inside, pitch * more)


def test_turns_inside_one_another_are_refused():
    with pytest.raises(OutOfRange, match=r"pitch of 0\.900 mm is less than the wire of 1\.000 mm; give the wire's"):
        Coil(wire_mm=1, inside_mm=5, pitch_mm=0.9)


def test_a_turn_too_short_to_go_round_is_refused():
    with pytest.raises(OutOfRange, match=r"3\.000 mm of wire does not go once round a coil; give more than 3\.297 mm"):
        coil_of_turn(wire_mm=1, turn_length_mm=3, pitch_mm=1)


@pytest.mark.parametrize("bad", [math.nan, math.inf, 0.0, -2.0])
def test_coil_sizes_that_are_no_sizes_are_refused(bad):
    for sizes in ((bad, 5, 1), (1, bad, 1), (1, 5, bad)):
        with pytest.raises(OutOfRange, match=r"wire|coil inside|pitch"):
            Coil(wire_mm=sizes[0], inside_mm=sizes[1], pitch_mm=sizes[2])


# -- winding


def close_winding(**changes: object) -> Winding:
    return Winding(**{"coil": Coil(wire_mm=1, inside_mm=5, pitch_mm=1), **changes})


def test_a_20_mm_coil_of_1_mm_wire_gives_17_good_rings():
    # (20 - 1) / 1 = 19 turns, less 2 rejects; by hand
    assert close_winding(longest_coil_mm=20.0).most_rings_per_coil == 17


def test_forty_rings_are_two_full_coils_and_the_rest():
    plan = close_winding(longest_coil_mm=20.0).plan(40)
    assert [(part.coils, part.rings, part.turns) for part in plan] == [(2, 17, 19), (1, 6, 8)]


def test_wire_is_turns_and_tails():
    # 10 rings and 2 rejects are 12 turns of 18.87606 mm, and 65 mm of tails; by hand
    assert pytest.approx(12 * 18.87606 + 65, abs=1e-4) == close_winding().wire_mm(10)


def test_a_coil_that_opens_ten_percent_leaves_ninety_one_of_a_hundred_turns():
    # N x ratio with ratio = D / D_free: 100 / 1.1 = 90.9. Source: C, reference section 2, "the coil also unwinds"
    winding = close_winding(springback_ratio=1.1, rejects=0)
    assert winding.turns_to_wind(90) == 99
    assert winding.turns_to_wind(91) == 101


def test_a_wound_turn_keeps_its_wire_as_it_opens():
    winding = close_winding(springback_ratio=1.1)
    assert pytest.approx(18.87606 / 1.1, abs=1e-5) == winding.wound_turn_mm


@given(st.integers(1, 3000), st.floats(1.0, 1.3), st.integers(0, 4), st.floats(15, 60) | st.none())
@settings(max_examples=100, deadline=None)
def test_wire_for_rings_gives_those_rings_back(rings, ratio, rejects, longest):
    winding = close_winding(springback_ratio=ratio, rejects=rejects, longest_coil_mm=longest)
    length = winding.wire_mm(rings)
    assert rings == winding.rings_from_mm(length)
    assert rings - 1 == (winding.rings_from_mm(length - 0.01) if rings > 1 else 0)


@given(st.integers(1, 500), st.floats(1.0, 1.3), st.floats(15, 60))
def test_no_coil_is_longer_than_the_longest_and_all_rings_are_wound(rings, ratio, longest):
    plan = close_winding(springback_ratio=ratio, longest_coil_mm=longest).plan(rings)
    assert rings == sum(part.coils * part.rings for part in plan)
    assert all(part.length_mm <= longest + 1e-6 for part in plan)
    assert all(part.free_turns >= part.rings + 2 - 1e-6 for part in plan)


@given(st.integers(1, 2000), st.floats(1.0, 1.3), st.floats(15, 60) | st.none())
def test_one_more_ring_takes_more_wire(rings, ratio, longest):
    winding = close_winding(springback_ratio=ratio, longest_coil_mm=longest)
    assert winding.wire_mm(rings) < winding.wire_mm(rings + 1)


def test_a_coil_too_short_for_its_rejects_is_refused():
    with pytest.raises(OutOfRange, match=r"3\.0 mm leaves no good ring after 2 rejects; allow a coil of 4\.0"):
        close_winding(longest_coil_mm=3.0).plan(1)


def test_wire_too_short_for_one_ring_is_refused():
    with pytest.raises(OutOfRange, match=r"30\.0 mm of wire makes no good ring; give 121\.6 mm or more for one"):
        close_winding().rings_from_mm(30)


@pytest.mark.parametrize("rings", [0, -1, 1_000_001])
def test_a_count_that_cannot_be_wound_is_refused(rings):
    with pytest.raises(OutOfRange, match="rings cannot be wound; give 1 to 1000000"):
        close_winding().wire_mm(rings)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"springback_ratio": 0.9}, "springback ratio of 0.9 would tighten"),
        ({"springback_ratio": math.nan}, "springback ratio is nan"),
        ({"rejects": -1}, "-1 rejects per coil is negative"),
        ({"tails_mm": -1.0}, "tails of -1 mm are negative"),
        ({"longest_coil_mm": 0.0}, "longest coil is 0"),
    ],
)
def test_a_winding_that_cannot_be_is_refused(changes, words):
    with pytest.raises(OutOfRange, match=words):
        close_winding(**changes)


# -- how long one winds, and how much is sawn in one piece


@pytest.mark.parametrize(
    ("known", "longest", "basis"),
    [
        ({}, 120.0, Basis.USUAL),  # a rod of 150 mm less 30 mm
        ({"length_mm": 200.0}, 170.0, Basis.MEASURED),
        ({"stated_mm": 90.0}, 90.0, Basis.MEASURED),
        ({"stated_mm": 90.0, "length_mm": 100.0}, 70.0, Basis.MEASURED),
        ({"stated_mm": 60.0, "length_mm": 100.0}, 60.0, Basis.MEASURED),
        ({"is_shank": True}, 20.0, Basis.USUAL),
        ({"is_shank": True, "length_mm": 40.0}, 25.0, Basis.MEASURED),
    ],
)
def test_one_winds_as_long_as_the_mandrel_states_or_its_length_leaves(known, longest, basis):
    coil = longest_winding(**known)
    assert (coil.value, coil.basis) == (longest, basis)
    assert coil.words


@pytest.mark.parametrize("known", [{"length_mm": 30.0}, {"length_mm": 15.0, "is_shank": True}])
def test_a_mandrel_no_longer_than_what_holds_it_is_refused(known):
    with pytest.raises(OutOfRange, match="leaves nothing to wind on"):
        longest_winding(**known)


def sectioned(**changes: object) -> Winding:
    """1 mm wire, and sections of 21 mm: 20 turns."""
    return close_winding(**{"longest_section_mm": 21.0, **changes})


@pytest.mark.parametrize(("turns", "sections"), [(1, 1), (20, 1), (21, 2), (41, 2), (42, 3), (62, 3), (63, 4)])
def test_a_coil_is_snipped_into_the_fewest_sections_that_hold_it(turns, sections):
    # by hand: two sections of 20 and the ring lost between them are 41 turns, three are 62
    assert sectioned().sections_of(turns) == sections


def test_the_sections_are_even_and_a_ring_is_lost_at_each_snip():
    # by hand: 60 turns are 3 sections with 2 rings lost, 58 turns in 20, 19 and 19
    assert sectioned().section_turns(60) == (20, 19, 19)
    assert close_winding().section_turns(60) == (60,)


def test_a_long_coil_has_one_pair_of_rejects_and_pays_for_its_snips():
    # by hand: 50 rings and 2 rejects are 52 turns in 3 sections; with 2 snips 54 turns of 18.87606 mm, and 65 of tails
    winding = sectioned()
    assert [(part.coils, part.turns, part.sections) for part in winding.plan(50)] == [(1, 54, 3)]
    assert pytest.approx(54 * 18.87606 + 65, abs=1e-3) == winding.wire_mm(50)


def test_the_longest_coil_counts_its_snips():
    # by hand: 120 mm hold 119 turns: 6 sections (5 would hold 104), 5 snips, 2 rejects: 112 rings
    assert sectioned(longest_coil_mm=120.0).most_rings_per_coil == 112


def test_long_windings_waste_less_than_coils_as_short_as_the_saw_likes():
    short, long = close_winding(longest_coil_mm=21.0), sectioned(longest_coil_mm=120.0)
    rings = 560 * 18.87606
    # by hand: 18 rings of 20 turns and 65 mm are 76.8 %, five times 112 of 119 turns and 65 mm are 91.5 %
    assert rings / short.wire_mm(560) < 0.77 < 0.91 < rings / long.wire_mm(560)


@given(st.integers(1, 1500), st.floats(1.0, 1.3), st.floats(15, 60), st.floats(3, 30))
@settings(max_examples=100, deadline=None)
def test_sections_are_no_longer_than_the_longest_and_hold_every_ring(rings, ratio, longest, section):
    winding = close_winding(springback_ratio=ratio, longest_coil_mm=longest, longest_section_mm=section)
    for part in winding.plan(rings):
        turns = math.floor(part.free_turns + 1e-9)
        pieces = winding.section_turns(turns)
        assert all(1 + piece <= section + 1e-6 for piece in pieces)
        assert sum(pieces) >= part.rings + 2
        assert part.length_mm <= longest + 1e-6


@given(st.integers(1, 1500), st.floats(1.0, 1.3), st.floats(15, 60) | st.none(), st.floats(3, 30))
@settings(max_examples=100, deadline=None)
def test_wire_for_sectioned_rings_gives_those_rings_back(rings, ratio, longest, section):
    winding = close_winding(springback_ratio=ratio, longest_coil_mm=longest, longest_section_mm=section)
    assert rings == winding.rings_from_mm(winding.wire_mm(rings))
    assert winding.wire_mm(rings) < winding.wire_mm(rings + 1)


@given(st.integers(1, 600), st.floats(1.0, 1.3), st.floats(25, 120))
def test_one_long_winding_never_takes_more_wire_than_several(rings, ratio, longest):
    one, several = sectioned(springback_ratio=ratio), sectioned(springback_ratio=ratio, longest_coil_mm=longest)
    assert one.wire_mm(rings) <= several.wire_mm(rings) + 1e-6


def test_the_fewest_coils_are_as_even_as_can_be():
    # by hand: 40 rings in coils of at most 17 are 3 coils: 14, 13 and 13, with 2 rejects each
    plan = close_winding(longest_coil_mm=20.0).evenly(40, 1)
    assert [(part.coils, part.rings, part.turns) for part in plan] == [(1, 14, 16), (2, 13, 15)]


@given(st.integers(1, 900), st.floats(1.0, 1.3), st.floats(15, 120), st.floats(3, 30) | st.none())
def test_even_coils_are_no_more_than_full_ones_and_hold_every_ring(rings, ratio, longest, section):
    winding = close_winding(springback_ratio=ratio, longest_coil_mm=longest, longest_section_mm=section)
    even, full = winding.evenly(rings, 1), winding.plan(rings)
    assert rings == sum(part.coils * part.rings for part in even)
    assert sum(part.coils for part in even) == sum(part.coils for part in full)
    assert max(part.rings for part in even) - min(part.rings for part in even) <= 1
    assert all(part.length_mm <= longest + 1e-6 for part in even)


def test_a_section_without_a_whole_turn_is_refused():
    with pytest.raises(OutOfRange, match=r"a section of 1\.5 mm holds no whole turn; allow 2\.0 mm or more"):
        sectioned(longest_section_mm=1.5)
