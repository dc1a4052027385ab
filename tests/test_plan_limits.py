"""Where a plan turns: each limit of windings, savings, mandrels and buying on both sides, worked by hand.

Formulas: C, computed from theory. A wound turn of `LINKS` is 18.8736 mm; n turns released are n / 1.05.
"""

from __future__ import annotations

import pytest
from test_windings import LINKS, planned

from jigs.bench.bench import Bench, Mandrel, Spool
from jigs.orders.reading import order_of
from jigs.planning import windings
from jigs.planning.inverse import from_wire
from jigs.planning.plan import Plan, make_plan
from jigs.planning.saving import Saving, savings
from jigs.planning.shares import least_wire_mm
from jigs.stock.metal import find_metal
from jigs.stock.wire import parse_wire

SOLD = '[[supply]]\nwire = "1 mm"\nmetal = "sterling"\n'
PAID = SOLD + 'price = "60 EUR per g"\nclippings = "58 EUR per g"\n'


def of_count(count: int, text: str = LINKS) -> str:
    return text.replace("count = 200", f"count = {count}")


def shares(plan: Plan) -> list[tuple[int, int, float]]:
    """Seats, rings made and wire of each share of the first ring."""
    return [(share.seats, share.made, share.cut_mm) for share in plan.rings[0].shares]


# --- windings and what they cannot take less than


@pytest.mark.parametrize(
    ("rings", "least"),
    [
        # two windings of sections of 69 turns: (200 + 2 x 2 + 1 snip) x 1.05 = 215.25 -> 216 turns, 4076.7 + 120;
        # in three there is no snip: 206 x 1.05 -> 217 turns and tails of 180 mm, 4275.6
        (200, 4197),
        # one winding: (115 + 2 + 1) x 1.05 = 123.9 -> 124 turns, 2340.3 + 60; two take 60 mm more and 2 rejects
        (115, 2401),
        (45, 1004),  # (45 + 2) x 1.05 = 49.35 -> 50 turns, 943.7 + 60
        (0, 0),
    ],
)
def test_what_so_many_rings_cannot_take_less_than(rings: int, least: int) -> None:
    [ring] = planned(LINKS).rings
    assert least_wire_mm(ring.winding, rings) == least


@pytest.mark.parametrize(("count", "metres"), [(40, 2), (45, 3)])
def test_very_many_rings_are_covered_in_parts(monkeypatch: pytest.MonkeyPatch, count: int, metres: int) -> None:
    # parts of 20 rings: 22 x 1.05 -> 24 turns, 453.0 + 60 -> 513 mm, so each takes a metre, and the last five one too
    monkeypatch.setattr(windings, "_COVERED_AT_ONCE", 20)
    plan = planned(of_count(count) + SOLD + 'lengths = ["1 m"]\n')
    [buying] = plan.buyings
    assert plan.made_rings == count
    assert buying.cutting.lengths == ((1000, metres),)
    # 40 or 45 rings take 893 or 1004 mm at least, so nothing proves that as many metres are needed
    assert not buying.is_proved
    assert buying.bound_mm == (1000 if count == 40 else 2000)
    # 513 mm for 20 rings; (5 + 2) x 1.05 -> 8 turns, 151.0 + 60 -> 211
    assert buying.pieces == (((513, 2),) if count == 40 else ((513, 2), (211, 1)))


def test_one_seat_of_three_makes_a_spare_less_where_that_saves_a_length() -> None:
    # 15 and 10 % are 17 a seat, 51; 45 and 10 % are 50: one ring over. Windings of 19 x 1.05 -> 20 turns, 438 mm; of 18
    # x 1.05 -> 19 turns, 419 mm. Three of 438 are 1314, one less 1295; in 1.26 m not even 3 x 419 = 1257 may be made.
    text = LINKS.replace("seats = 1", "seats = 3").replace('"0 %"', '"10 %"').replace("count = 200", "each_seat = 15")
    assert shares(planned(text + SOLD + 'lengths = ["1.3 m"]\n')) == [(2, 17, 438), (1, 16, 419)]
    assert shares(planned(text + SOLD + 'lengths = ["1.26 m"]\n')) == [(3, 17, 438)]


SPOOL = Spool(name="tin", wire=parse_wire("1 mm"), metal=find_metal("sterling"), temper="soft", length_mm=140)


def test_a_short_end_at_hand_winds_the_one_ring_that_is_over() -> None:
    # 45 rings take 1004 mm, a metre gives 44: (44 + 2) x 1.05 -> 49 turns, 984.8 -> 985 mm. One ring: 3 x 1.05 -> 4
    # turns, 75.5 + 60 -> 136 mm, which the end of 140 mm holds; one of 135 mm does not.
    text = of_count(45) + SOLD + 'lengths = ["1 m"]\n'
    [buying] = make_plan(order_of(text), Bench(spools=(SPOOL,))).buyings
    assert buying.pieces == ((985, 1), (136, 1))
    assert (buying.bought_mm, buying.drawn_mm, buying.left_mm) == (1000, 136, 15)
    shorter = Spool(name="tin", wire=SPOOL.wire, metal=SPOOL.metal, temper="soft", length_mm=135)
    [buying] = make_plan(order_of(text), Bench(spools=(shorter,))).buyings
    assert buying.bought_mm == 2000


def test_wire_at_hand_that_is_enough_leaves_nothing_to_buy_and_that_is_proved() -> None:
    long = Spool(name="tin", wire=SPOOL.wire, metal=SPOOL.metal, temper="soft", length_mm=1004)
    for sold in ("", SOLD + 'lengths = ["2 m"]\n'):
        [buying] = make_plan(order_of(of_count(45) + sold), Bench(spools=(long,))).buyings
        assert (buying.bought_mm, buying.drawn_mm, buying.bound_mm) == (0, 1004, 0)
        assert buying.is_proved


@pytest.mark.parametrize(("length", "left"), [("1009 mm", 5), ("1010 mm", None)])
def test_a_length_that_a_short_measure_spoils_is_pointed_out(length: str, left: float | None) -> None:
    # 45 rings take 1004 mm; five in a thousand of 1009 are 5.045, of 1010 mm 5.05
    [buying] = planned(of_count(45) + SOLD + f'lengths = ["{length}"]\n').buyings
    assert (buying.tightest and buying.tightest.left_mm) == left


def test_five_in_a_thousand_left_over_are_enough() -> None:
    # 24 rings take 28 turns, 528.5 + 60 -> 589 mm, with a snip of 8 mm 597: 3 mm of 600 mm are five in a thousand
    text = of_count(24) + SOLD
    [enough] = planned(text + 'lengths = ["600 mm"]\nsnip = "8 mm"\n').buyings
    [tight] = planned(text + 'lengths = ["600 mm"]\nsnip = "9 mm"\n').buyings
    assert enough.left_mm == 3
    assert enough.tightest is None
    assert tight.tightest is not None


# --- what would save wire


@pytest.mark.parametrize(("count", "mm", "cents"), [(10, -9, 154), (20, -16, 281), (21, None, None)])
def test_cutters_are_named_for_twenty_rings_and_no_more(count: int, mm: float | None, cents: int | None) -> None:
    """10 rings sawn: 12 x 1.05 -> 13 turns, 306 mm, and 12 kerfs of 0.3 mm are 29 mg of dust.

    With cutters a turn is 0.7 mm longer, 20.5173 / 1.05 = 19.5403 on the mandrel: 13 turns are 315 mm. 9 mm more are 73
    mg, 4.38 EUR; 29 + 73.2 = 102 mg more clippings bring 5.92. 20 rings: 24 turns, 529 for 513 mm; 22 kerfs are 53 mg;
    16 mm are 130 mg, 7.80, and 53 + 130.2 = 183 mg bring 10.61.
    """
    found = [(way.mm, way.cents) for way in savings(planned(of_count(count) + PAID)) if "cutters" in way.words]
    assert found == ([] if mm is None else [(mm, cents)])


def test_cutters_that_need_no_snips_take_less_wire_and_leave_less_clippings() -> None:
    """Sections of 6 mm hold 5 turns: 22 turns are five, 4 snips: 26 x 1.05 -> 28 turns, 589 mm.

    With cutters 22 x 1.05 -> 24 turns, 529 mm. 60 mm are 488 mg, 29.28 EUR; the clippings are 488.2 - 53 = 435 mg less,
    25.23 EUR.
    """
    text = of_count(20).replace("[making]", '[making]\nlongest_section = "6 mm"') + PAID
    assert savings(planned(text))[0] == Saving(words="cutters instead of the saw for the link", mm=60, cents=405)


@pytest.mark.parametrize(("snip", "wire", "said"), [(12, 599, True), (13, 600, True), (14, 601, False)])
def test_a_saving_of_five_in_a_thousand_is_worth_a_line(snip: int, wire: int, said: bool) -> None:
    # 28 turns and tails of 58 mm, 586.5 mm, and what is lost at the snip; tails of 55 hold, 3 mm less
    text = of_count(24).replace('"60 mm"', '"58 mm"') + SOLD + f'snip = "{snip} mm"\n'
    plan = planned(text)
    assert plan.cut_mm == wire
    assert ("tails no longer than holding them needs" in [way.words for way in savings(plan)]) == said


# --- mandrels


def chosen(text: str, *mandrels: Mandrel) -> str:
    [ring] = make_plan(order_of(text), Bench(mandrels=mandrels)).rings
    return ring.mandrel.name


SPRUNG = LINKS.replace('mandrel = "5 mm"\ntrial_mandrel', "trial_mandrel")  # 4.988 mm would give it


def test_of_many_mandrels_those_nearest_the_exact_one_are_looked_at() -> None:
    far = [Mandrel(name=f"far {number}", measured_mm=2.5 + number / 10) for number in range(10)]
    assert chosen(SPRUNG, *far, Mandrel(name="near", measured_mm=4.98)) == "near"


def test_an_order_without_all_prices_has_no_cost_of_a_ring_or_a_gram() -> None:
    two = LINKS + '[[ring]]\nname = "eye"\nwire = "0.8 mm"\nmetal = "copper"\ninside = "4 mm"\ncount = 9\n' + PAID
    plan = planned(two)
    assert not plan.has_all_prices
    assert (plan.net_per_ring, plan.net_per_gram) == (None, None)


# --- the other way round


def test_the_chain_that_a_wire_makes_is_all_insides_and_two_wires() -> None:
    # off 5 mm each link is 5.2125 mm inside; a metre makes 44: 229.35 + 2
    [answer] = from_wire(planned(LINKS + 'weave = "chain"\n'), 1000)
    assert (answer.rings, answer.cut_mm, answer.left_mm) == (44, 985, 15)
    assert answer.chain_mm == pytest.approx(44 * 5.21254 + 2, abs=0.001)
    [answer] = from_wire(planned(LINKS), 1000)
    assert answer.chain_mm is None
