"""What the plan says of mandrel, blade, drill and tails: each rule on both sides of its limit."""

from __future__ import annotations

from dataclasses import replace

import pytest
from orders import BY_HAND

from jigs.bench.bench import Bench, Mandrel
from jigs.orders.reading import Names, order_of
from jigs.planning.plan import make_plan
from jigs.planning.tools import BladeChoice, DrillChoice, MandrelChoice, least_tails_mm
from jigs.stock.blade import find_blade
from jigs.stock.drill import Drill
from layouts.errors import OutOfRange

DRILL = DrillChoice(drill=Drill(name="1.1", series="metric", diameter_mm=1.1), owned=False, wire_mm=1.0, mandrel_mm=5.0)


@pytest.mark.parametrize(("teeth", "keeps"), [(50.8, True), (50.7, False)])  # 2 teeth in 1 mm are 50.8 an inch
def test_two_teeth_in_the_wire_keep_the_rule(teeth: float, keeps: bool) -> None:
    blade = replace(find_blade("1"), teeth_per_inch=teeth)
    assert BladeChoice(blade=blade, owned=False, ordered=True, wire_mm=1.0).keeps_the_rule is keeps


@pytest.mark.parametrize(
    ("mandrel", "advice"),
    [
        (4.4, "sound in wood"),  # 4 x 1.1
        (4.3, "over a quarter of 4.30 mm of wood: weak there"),
        (3.4, "over a quarter of 3.40 mm of wood: weak there"),  # 3 x 1.1 = 3.3
        (3.2, "no cross-hole: over a third of 3.20 mm; clamp the tail instead"),
    ],
)
def test_a_hole_is_sound_up_to_a_quarter_and_there_is_none_over_a_third(mandrel: float, advice: str) -> None:
    assert replace(DRILL, mandrel_mm=mandrel).advice == advice


def test_the_least_tails_are_what_goes_through_the_hole_or_is_bent_and_what_the_hand_keeps() -> None:
    assert least_tails_mm(DRILL) == 25 + 30
    assert least_tails_mm(replace(DRILL, in_wood=False)) == 10 + 30


def choice(kind: str, cut: str) -> MandrelChoice:
    """The mandrel that an order insists on: one of a kind that is owned, or a size of which no kind is known."""
    text = BY_HAND.replace('cut = "saw"\nkerf = "0.30 mm"', f'cut = "{cut}"')
    bench = Bench(mandrels=(Mandrel(name="rod", measured_mm=5.0, kind=kind),)) if kind else Bench()
    text = text.replace('mandrel = "5 mm"', 'mandrel = "rod"', 1) if kind else text
    return make_plan(order_of(text, names=Names(bench=bench)), bench).rings[0].mandrel


@pytest.mark.parametrize(
    ("kind", "cut", "suits"),
    [
        ("wood", "saw", True),
        ("steel", "saw", False),
        ("", "saw", True),
        ("steel", "cutters", True),
        ("wood", "cutters", False),
        ("wood", "none", True),
    ],
)
def test_wood_suits_the_saw_steel_the_cutters_and_what_is_not_known_does(kind: str, cut: str, suits: bool) -> None:
    assert choice(kind, cut).suits_the_cut is suits


def test_what_the_cut_asks_of_a_mandrel() -> None:
    assert choice("steel", "cutters").advice == "hard and smooth: the coil slides off"
    assert choice("steel", "none").advice == ""
    assert choice("wood", "saw").advice == "wood: the saw may run into it"


def test_the_shortest_wire_that_winds_a_ring_is_taken_and_a_millimetre_less_is_refused() -> None:
    # one ring and two rejects: 3 x 1.05 -> 4 turns of 18.8736 mm and tails of 60: 135.5 -> 136 mm
    text = BY_HAND.replace("seats = 2", "seats = 1").replace("count = 45", "count = 1").replace('"10 %"', '"0 %"')
    assert make_plan(order_of(text.replace('"1 m"', '"136 mm"'))).cut_mm == 136
    with pytest.raises(OutOfRange, match=r"one winding with one good ring takes 136 mm, .*135"):
        make_plan(order_of(text.replace('"1 m"', '"135 mm"')))
