"""Whole reports worked by hand: what a person reads, figure by figure. Formulas: C, computed from theory."""

from __future__ import annotations

import pytest
from orders import BY_HAND

from jigs.bench.bench import Bench, Mandrel, Spool
from jigs.orders.reading import Names, order_of
from jigs.packing.sheets import Sheets
from jigs.planning.plan import Plan, make_plan
from jigs.reports.as_json import plain
from jigs.reports.as_text import as_text
from jigs.reports.plan import plan_report
from jigs.stock.drill import Drill
from jigs.stock.metal import find_metal
from jigs.stock.wire import parse_wire
from layouts.drawing.marks import Drawing, Text

OWNED = """
title = "Owned"
seats = 3
[making]
cut = "cutters"
trim = "1 mm"
spares = "20 %"
rejects = 1
tails = "50 mm"
[[ring]]
name = "eye"
wire = "0.8 mm"
metal = "copper"
density = "9 g/cm3"
ratio = 5
each_seat = 10
weave = "chain"
mandrel = "peg"
trial_mandrel = "4.2 mm"
trial_inside = "4.25 mm"
[[supply]]
wire = "0.8 mm"
metal = "copper"
price = "2 EUR per m"
clippings = "5 EUR per kg"
"""
BENCH = Bench(
    mandrels=(Mandrel(name="peg", measured_mm=4.2, kind="wood"), Mandrel(name="nail", measured_mm=4.6, kind="steel")),
    drills=(Drill(name="own", series="owned", diameter_mm=1.0),),
    spools=(Spool(name="tin", wire=parse_wire("0.8 mm"), metal=find_metal("copper"), temper="soft", length_mm=700),),
)


@pytest.fixture(scope="module")
def plan() -> Plan:
    return make_plan(order_of(BY_HAND))


def lines(text: str) -> list[str]:
    """The lines with single spaces between words: how wide a column is, is for other tests."""
    return [" ".join(line.split()) for line in text.splitlines() if line.strip()]


def test_the_plan_as_a_person_reads_it(plan: Plan) -> None:
    """Mandrel to seats: test_plan.py works out ring, shares, metal, buying and money; the rest is worked here.

    cut: 5.2125 - 5.3 = -0.0875, to more places -0.08746; AR off: 5.21254 / 5.2 - 1 = 0.241 %.
    Band, standard deviations: the caliper 0.015 and 0.010, the trial's winding and this one 0.008 each, a kerf of one's
    own 0.008 / pi, and 0.05 x 0.3 / pi from batch to batch: the root of their squares is 0.02196, twice that 0.0439.
    The next rod that stays in the window of 2 % is ground, of 4.9 mm. What springs back grows with C^(1 - n), n 0.12 of
    soft metal: 0.047619 x (5.9 / 6)^0.88 = 0.046920, so D is 5.9 / 0.953080 = 6.19046; closed: sqrt(6.19046^2 +
    1 / pi^2) - 0.3 / pi - 1 = 5.10314, off by -0.09686, -1.863 %. Drill #9 is 0.196 in = 4.9784 mm (ANSI/ASME B94.11M):
    0.047619 x (5.9784 / 6)^0.88 = 0.047468, so D is 5.9784 / 0.952532 = 6.27633; closed 5.18890, off by -0.01110,
    -0.213 %.
    Core: 13/64 in = 5.159 mm is over 5.256 - 0.1, so 5 mm is the thickest under it. Drill: 1 mm and 0.1 mm.
    Turns released: 30 / 1.05 = 28.57 and 29 / 1.05 = 27.62; a millimetre each, and one wire more.
    Left of each metre: 373 and 392. In rings: 8098 / 10049 = 80.585 %; spares 6 of 51 = 11.76 %.
    Tails: 25 mm through the cross-hole and 30 mm for the hand are 5 mm less each; 10 mm weigh 81 mg, 0.0976 EUR.
    """
    assert lines(as_text(plan_report(plan))) == lines(
        """
        By hand: 2 seats, 45 rings wanted, 51 made with spares
        link: 1 mm sterling silver, soft; wanted ID 5.200 mm, OD 7.200 mm, AR 5.20
        --------------------------------------------------------------------------
        mm band basis
        mandrel 5.000 as named: measure the rod
        springback +0.300 0.256 to 0.344 trial coil measured: 5.300 mm inside off a 5.000 mm mandrel; coil by caliper
        (assumed), good for 0.036 mm, mandrel as named; the band holds rod, springback and
        cut; mean diameter opens 5.0 %
        coil ID 5.300 5.256 to 5.344 (mandrel + wire) x springback - wire
        cut -0.087 saw: kerf 0.300 mm as given
        closed ID 5.213 5.169 to 5.256 (turn - cut) / pi - wire
        OD 7.213 7.169 to 7.256 closed ID + 2 wires
        AR 5.213 5.169 to 5.256 closed ID / wire
        mandrel, best first mm closed ID off OD AR AR off, %
        5 mm to buy 5.000 5.213 +0.013 7.213 5.213 +0.24
        ground rod 4.9 mm to buy 4.900 5.103 -0.097 7.103 5.103 -1.86
        drill #9 to buy 4.978 5.189 -0.011 7.189 5.189 -0.21
        core for the saw slide the coil onto a wooden core of 5.0 mm (5.00 mm) or less: never saw on metal
        cross-hole drill 1.10 mm 0.10 mm over the wire; sound in wood
        bad cut trim and file it; it closes smaller
        finish about an hour in a tumbler with stainless shot, never rusty steel
        Wire is counted with 2 rejects and 60 mm of tails per winding.
        A troy ounce is 195.9 rings; a metre of wire makes 41.3, a foot 12.6, all waste counted.
        1 seat, each: 23 and 3 spare, 1 winding, 627 mm of wire, 5.102 g
        windings wire for each, mm turns to wind turns released length released, mm sections good rings
        1 627 30 28.6 29.6 1 26
        1 seat, each: 22 and 3 spare, 1 winding, 608 mm of wire, 4.947 g
        windings wire for each, mm turns to wind turns released length released, mm sections good rings
        1 608 29 27.6 28.6 1 25
        One seat
        seats rings windings wire, mm rings, g clippings, g dust, g pays, EUR
        1 26 1 627 4.128 0.906 0.068 5.37
        2 25 1 608 3.970 0.912 0.065 5.21
        all seats 51 2 1235 8.098 1.818 0.133 10.58
        Wire: 1 mm sterling silver, soft
        --------------------------------
        buy 2 x 1 m
        left 1 x 392 mm, 1 x 373 mm; proved: no plan buys less
        mm 2000 bought + 0 at hand = 1235 cut + 765 left
        g 16.274 bought + 0.000 at hand = 8.098 rings + 1.818 clippings + 0.133 dust + 6.225 left
        EUR 19.53 paid + 0.00 at hand - 7.47 left - 1.49 for scrap = 10.57 net; 1.3053 per gram in rings
        cut of into, mm left, mm
        1 1 x 1 m 1 x 627 373
        1 1 x 1 m 1 x 608 392
        In all 2 windings, 1235 mm of wire, 10.049 g
        80.6 % of the wire cut ends in rings that pass; 11.8 % of these are spares
        Cost net 10.57 EUR: 0.2073 a ring, 1.3053 per gram in rings
        The seats pay 10.58: 0.01 over, rounded up to the cent
        What would save most
        wire, mm its price, EUR
        one seat that winds for all: link 20 0.20
        tails no longer than holding them needs 10 0.10
        Note: no mandrel of yours is recorded: the plan uses nominal rod sizes; measure the one you take
        Note: no drill of yours is recorded: the metric series
        """
    )


def test_the_plan_as_a_script_reads_it(plan: Plan) -> None:
    """The same figures, unrounded. exact_mandrel_mm: from 4.9 to 5 mm the ring grows by 0.10940, 1.0940 of the mandrel,
    and by 1.0947 at 5 mm; off 5 mm it is 0.01254 too large: 5 - 0.01254 / 1.0947 = 4.98854.
    """
    shown = plain(plan_report(plan))
    [ring], [wire] = shown["rings"], shown["wires"]
    metal = {"rings_g": 8.098, "clippings_g": 1.818, "dust_g": 0.133}
    money = {"paid": 19.53, "drawn_value": 0.0, "left_value": 7.47, "credit": 1.49, "net": 10.57}
    totals = {
        "wanted_rings": 45,
        "made_rings": 51,
        "windings": 2,
        "cut_mm": 1235,
        "bought_g": 16.274,
        "drawn_g": 0.0,
        "left_g": 6.225,
        **metal,
        **money,
        "fees": 10.58,
        "rounding": 0.01,
        "net_per_ring": pytest.approx(0.20725, abs=5e-6),
        "net_per_gram": pytest.approx(1.30526, abs=5e-6),
    }
    assert shown["totals"] == totals
    assert {key: ring[key] for key in ring if not isinstance(ring[key], list | dict)} == {
        "name": "link",
        "wire": "1 mm",
        "wire_mm": 1.0,
        "metal": "sterling silver, soft",
        "wanted_inside_mm": 5.2,
        "wanted_outside_mm": 7.2,
        "wanted_ratio": 5.2,
        "ring_inside_mm": pytest.approx(5.21254, abs=5e-6),
        "ring_outside_mm": pytest.approx(7.21254, abs=5e-6),
        "ring_ratio": pytest.approx(5.21254, abs=5e-6),
        "ring_mass_g": pytest.approx(0.158807, abs=5e-7),
        "exact_mandrel_mm": pytest.approx(4.98854, abs=2e-5),
        "cut": "saw",
        "cut_loss_mm": 0.3,
        "wanted_rings": 45,
        "made_rings": 51,
        "windings": 2,
        "cut_mm": 1235,
        "rings_per_ozt": pytest.approx(31.1034768 / 0.158807, rel=1e-5),
        "rings_per_m": pytest.approx(51_000 / 1235),
        "rings_per_ft": pytest.approx(51_000 / 1235 * 0.3048),
        "blade": None,
        "weave": None,
        **metal,
    }
    assert {key: wire[key] for key in wire if not isinstance(wire[key], list)} == {
        "wire": "1 mm",
        "wire_mm": 1.0,
        "metal": "sterling silver, soft",
        "cut_mm": 1235,
        "drawn_mm": 0,
        "bought_mm": 2000,
        "left_mm": 765,
        "bought_g": 16.274,
        "drawn_g": 0.0,
        "left_g": 6.225,
        **metal,
        **money,
        "net_per_gram": pytest.approx(1.30526, abs=5e-6),
        "bound_mm": 2000,
        "cutting": "proved: no plan buys less",
    }
    assert wire["offcuts"] == [{"length_mm": 392, "count": 1}, {"length_mm": 373, "count": 1}]
    # 10 % of 45 are 5 spares, not 3 + 3: one ring, a turn of 18.87 mm, less
    assert shown["savings"] == [
        {"way": "one seat that winds for all: link", "saved_mm": 20, "saved_money": 0.2},
        {"way": "tails no longer than holding them needs", "saved_mm": 10, "saved_money": 0.1},
    ]


def test_the_plan_of_cutters_a_mandrel_and_a_spool_at_hand() -> None:
    """Springback 5.05 / 5 = 1.01; turn sqrt((5.05 pi)^2 + 0.8^2) = 15.8852, wound 15.7279; closed ID (15.8852 - 1) / pi
    - 0.8 = 3.9381, off by -0.0619; AR 4.9226, off by -1.547 %. Nail: what springs back is 0.00990 x
    (6.75 / 6.25)^0.56 = 0.010336, n 0.44 of copper; D 5.4 / 0.989664 = 5.45640, turn 17.1604, closed 4.3440, AR 5.4300,
    8.60 % over. Band, standard deviations: caliper 0.015 and 0.010, windings 0.008 twice, a trim of one's own 0.03 x
    0.8 / pi, and 0.03 x 1 / pi from batch to batch: the root of their squares is 0.02455, twice that 0.0491.
    Weave: 3.8881 / 0.85 = 4.574 and 3.9881 / 0.75 = 5.317; two wires pass from R / r = 2.
    A seat: 12 rings, 13 x 1.01 = 13.1 -> 14 turns, 14 x 15.7279 + 50 = 270.2 -> 271 mm; released 13.86 turns, x 0.8 and
    a wire: 11.9 mm. A millimetre weighs pi / 4 x 0.64 x 9 = 4.52389 mg: 1226; rings 12 x 67.339 = 808; clippings 418.
    Spool: two of 271 are 542, 158 left; one is bought. With a spare less 12 x 1.01 -> 13 turns, 255 mm: 765 - 700 = 65.
    542 mm are 2452 mg. Paid 0.542, drawn 1.084, scrap 1.254 g x 0.005 = 0.006: 0.54 + 1.08 - 0.01 = 1.61; / 3 = 0.537
    a seat; / 36 = 0.0447 a ring; / 2.424 = 0.6642 a gram. 2424 / 3678 = 65.9 %, 6 / 36 = 16.7 %.
    Together: 37 x 1.01 -> 38 turns, 648 mm: 165 less. 11 rings: 255 mm, 3 x 16 less. Tails 40 mm: 3 x 10 less.
    """
    plan = make_plan(order_of(OWNED, names=Names(bench=BENCH)), BENCH)
    assert lines(as_text(plan_report(plan), 160)) == lines(
        """
        Owned: 3 seats, 30 rings wanted, 36 made with spares
        eye: 0.8 mm copper, soft; wanted ID 4.000 mm, OD 5.600 mm, AR 5.00
        ------------------------------------------------------------------
        mm band basis
        mandrel 4.200 peg, measured
        springback +0.050 0.001 to 0.099 trial coil measured: 4.250 mm inside off a 4.200 mm mandrel; \
coil by caliper (assumed), good for 0.036 mm, mandrel by
        caliper; the band holds rod, springback and cut; mean diameter opens 1.0 %
        coil ID 4.250 4.201 to 4.299 (mandrel + wire) x springback - wire
        cut -0.312 cutters: trim 1.000 mm as given
        closed ID 3.938 3.889 to 3.987 (turn - cut) / pi - wire
        OD 5.538 5.489 to 5.587 closed ID + 2 wires
        AR 4.923 4.861 to 4.984 closed ID / wire
        mandrel, best first mm closed ID off OD AR AR off, %
        peg wood 4.200 3.938 -0.062 5.538 4.923 -1.55
        nail steel 4.600 4.344 +0.344 5.944 5.430 +8.60
        core for the cutters wire bites soft stuff and the coil sticks: wax it, or take something hard and smooth
        cross-hole none the mandrel is under 5 mm: wood that thin snaps at a hole; clamp the tail
        weave chain good: AR 4.92, range 2.5 to 8 (common practice, no source (from memory))
        bad cut scrap the ring
        finish about an hour in a tumbler with stainless shot, never rusty steel
        Aim at an AR of 4 for chain, and wires pass from 2.00.
        With wire and inside each off by 0.05 mm: AR 4.57 (good) to 5.32 (good).
        Wire is counted with 1 reject and 50 mm of tails per winding.
        A troy ounce is 461.9 rings; a metre of wire makes 44.3, a foot 13.5, all waste counted.
        Each seat: 10 and 2 spare, 1 winding, 271 mm of wire, 1.226 g
        windings wire for each, mm turns to wind turns released length released, mm sections good rings
        1 271 14 13.9 11.9 1 12
        One seat
        seats rings windings wire, mm rings, g clippings, g dust, g pays, EUR
        1 to 3 12 1 271 0.808 0.418 0.000 0.54
        all seats 36 3 813 2.424 1.254 0.000 1.62
        Wire: 0.8 mm copper, soft
        -------------------------
        buy 1 x 271 mm
        draw 542 mm from tin
        left 1 x 158 mm; proved for these windings; no plan at all buys less than 65 mm
        mm 271 bought + 542 at hand = 813 cut + 0 left
        g 1.226 bought + 2.452 at hand = 2.424 rings + 1.254 clippings + 0.000 dust + 0.000 left
        EUR 0.54 paid + 1.08 at hand - 0.00 left - 0.01 for scrap = 1.61 net; 0.6642 per gram in rings
        cut of into, mm left, mm
        1 1 x 0.7 m at hand 2 x 271 158
        1 1 x 271 mm 1 x 271 0
        In all 3 windings, 813 mm of wire, 3.678 g
        65.9 % of the wire cut ends in rings that pass; 16.7 % of these are spares
        Cost net 1.61 EUR: 0.0447 a ring, 0.6642 per gram in rings
        The seats pay 1.62: 0.01 over, rounded up to the cent
        What would save most
        wire, mm its price, EUR
        one seat that winds for all: eye 165 0.33
        spares of 10 % 48 0.10
        tails no longer than holding them needs 30 0.06
        Note: where the order names no lengths sold, wire is bought in one piece
        """
    )


def words(drawing: Drawing) -> str:
    """All the words of a drawing, in the order in which they are drawn."""
    return " ".join(word for mark in drawing.marks if isinstance(mark, Text) for word in mark.string.split())


def test_the_pieces_to_cut_out_of_the_plan_worked_by_hand(plan: Plan) -> None:
    """2 % of 5.20 are 0.104, in hundredths 0.10; the coil is 5.3 + 2 wires wide; 20 mm of it are drawn on the dowel:
    a wire and 19 turns of 1 mm.
    """
    sheets = Sheets(plan, "right", "")
    first, second = (
        [words(drawing) for job in sheets.jobs(group) for drawing in sheets.pieces(job)] for group in plan.groups
    )
    card, label, strip = first
    assert card == (
        "link 1.000 mm sterling silver, soft Wanted ID 5.20 mm; 5.10 to 5.30 passes; this mandrel gives 5.21. "
        "OD 7.20 AR 5.20 small 5.10 large 5.30 0 20 40 60 mm 20 mm"
    )
    assert label == (
        "link wire 1.000 mm sterling silver, soft ring ID 5.20, OD 7.20 mm, AR 5.20 passes ID 5.10 to 5.30 mm "
        "mandrel 5 mm, 5.00 mm; gives ID 5.21 mm; saw lengths 1 × 627 mm rings 23 and 3 spare seat true size"
    )
    assert strip.endswith("1 × 30 turns (28.6 once released), 26 good rings. Turns must touch: pitch 1 mm.")
    assert "lengths 1 × 608 mm rings 22 and 3 spare seat" in second[1]
    assert "1 × 29 turns (27.6 once released), 25 good rings." in second[2]
    [spool] = sheets.spools()
    assert words(spool) == (
        "1.000 mm sterling silver, soft length 2 × 1 m; 1235 mm to cut "
        "for link, 51: ID 5.20, OD 7.20 mm, AR 5.20, on 5 mm, 5.00 mm opened"
    )
    [(rings, pin)] = sheets.pins()
    assert ([ring.name for ring in rings], dict(pin.facts)["coil outside"]) == (["link"], "7.3 mm")
    assert (sheets.drilled["link"].turns, sheets.drilled["link"].dowel.measured_mm) == (19, (5.0,))
    assert sheets.left_out == []


def test_the_label_of_a_spool_says_what_is_drawn_from_those_at_hand() -> None:
    plan = make_plan(order_of(OWNED, names=Names(bench=BENCH)), BENCH)
    [spool] = Sheets(plan, "right", "").spools()
    assert "length 271 mm + 542 mm at hand; 813 mm to cut" in words(spool)
