"""Reports at their limits: what is said on both sides of each, worked by hand."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace as Told
from typing import Any

import pytest
from orders import BY_HAND
from test_windings import LINKS

from jigs.bench.record import Record
from jigs.orders.reading import order_of
from jigs.planning.plan import Plan, make_plan
from jigs.reports.as_json import plain
from jigs.reports.as_text import as_text
from jigs.reports.bench import bench_report
from jigs.reports.cells import show_cell, show_figure
from jigs.reports.ledger import ledger
from jigs.reports.plan import plan_report
from jigs.reports.record import records_report
from jigs.reports.report import CHANGE, COUNT, LENGTH, LENGTH_WHOLE, NUMBER, Column, Counted, Report, record
from jigs.reports.ring_plan import set_up
from jigs.reports.rota import rota_report
from jigs.reports.wire import wire_report
from jigs.reports.words import balance_in, plural, seats_words, teeth_words, waste_words
from jigs.stock.figure import Basis, Figure
from jigs.stock.gauges import neighbours
from jigs.stock.wire import parse_wire
from layouts.lengths import said_in, sold_length


def lines(report: Report, width: int = 120) -> list[str]:
    """The lines with single spaces between words."""
    return [" ".join(line.split()) for line in as_text(report, width).splitlines() if line.strip()]


# --- cells


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (999_999.0, "999999"),
        (1e6, "1000000"),
        (-1e6, "-1000000"),
        (72108755.82, "72108755.82"),  # and no more: sixteen would show what a float is
        (1234567.12345678, "1234567.12345678"),  # fifteen figures
        (0.1 + 0.2, "0.3"),
    ],
)
def test_a_number_without_places(value: float, said: str) -> None:
    assert show_figure(value, NUMBER) == said


def test_an_inch_has_a_place_more_than_a_millimetre_and_nothing_has_no_minus() -> None:
    # 5 / 25.4 = 0.19685; 0.0254 mm are a thousandth; 373.0625 mm are 14 11/16 in
    with said_in("inch"):
        assert show_figure(5.0, LENGTH) == "0.1969 [5.000]"
        assert show_figure(0.0254, CHANGE) == "+0.0010 [+0.025]"
        assert show_figure(-0.0254, CHANGE) == "-0.0010 [-0.025]"
        assert show_figure(-0.00001, CHANGE) == "+0.0000 [+0.000]"
        assert show_figure(-0.00001, LENGTH) == "0.0000 [0.000]"
        assert show_figure(373.0625, LENGTH_WHOLE) == "14 11/16 [373.1]"
        assert show_cell(Counted(((373.0625, 2), (1000.125, 1))), LENGTH_WHOLE) == (
            "2 x 14 11/16 [373.1] + 1 x 39 3/8 [1000.1]"
        )
    assert show_figure(-0.0001, CHANGE) == "+0.000"
    assert show_figure(-0.0001, LENGTH) == "0.000"


def test_a_millimetre_without_places_has_three_of_them_in_inches() -> None:
    kind = type(LENGTH)(name="length", unit="mm")
    with said_in("inch"):
        assert show_figure(5.08, kind) == "0.2000 [5.080]"


# --- words


@pytest.mark.parametrize(
    ("said", "words"),
    [
        (teeth_words(2.0), "2.0 teeth in the wire"),
        (teeth_words(2.94), "2.9 teeth in the wire"),
        (waste_words(1, 65.0), "1 reject and 65 mm of tails per winding"),
        (waste_words(2, 65.5), "2 rejects and 65.5 mm of tails per winding"),
        (plural(0, "coil"), "0 coils"),
        (plural(1, "coil"), "1 coil"),
        (plural(2, "coil"), "2 coils"),
        (seats_words(3, 3), "3"),
        (seats_words(3, 4), "3 to 4"),
        (sold_length(250), "0.25 m"),
        (sold_length(255), "255 mm"),
        (sold_length(5000), "5 m"),
    ],
)
def test_words_on_both_sides_of_one(said: str, words: str) -> None:
    assert said == words


def test_a_length_sold_in_inches_has_its_feet_first() -> None:
    with said_in("inch"):
        assert sold_length(304.8) == "1 ft [304.8 mm]"
        assert sold_length(5000) == "16 ft 4 3/4 in [5 m]"
        assert sold_length(7620, in_feet=True) == "25 ft"
    assert sold_length(7620, in_feet=True) == "25 ft"


def test_the_balance_in_inches_adds_up() -> None:
    # 2000 / 25.4 = 78.7402; cut 1235 = 48.622; left is the difference, so that both sides have one sum
    [buying] = make_plan(order_of(BY_HAND)).buyings
    assert balance_in(buying) == "78.7402 bought + 0 at hand = 48.622 cut + 30.1182 left"


# --- the ledger and one wire


@pytest.mark.parametrize(
    ("mm", "nearest"),
    [(6.35, "1/4 in + 0.000 mm"), (6.36, "1/4 in + 0.010 mm"), (6.34, "1/4 in - 0.010 mm")],
)
def test_the_nearest_fraction_of_an_inch_with_what_is_left(mm: float, nearest: str) -> None:
    [row] = ledger([Figure(name="mandrel", value=mm, unit="mm", words="as named", basis=Basis.MEASURED)]).rows
    assert row[3] == nearest


@pytest.mark.parametrize(
    ("wire", "said"),
    [
        # 18 AWG is 1.0237 mm: 0.005 in x 92^(18/39)
        ("1.0337 mm", "0.0100 mm thicker (+1.0 %) <- nearest"),
        ("1.0137 mm", "0.0100 mm thinner (-1.0 %) <- nearest"),
        ("1.2 mm", "0.1763 mm thicker (+17.2 %)"),
        ("18 AWG", "the same <- nearest"),
    ],
)
def test_how_a_wire_stands_to_its_nearest_gauge(wire: str, said: str) -> None:
    one = parse_wire(wire)
    found = [line for line in lines(wire_report(one, neighbours(one.diameter_mm))) if line.startswith("18 AWG 1.0237")]
    assert [line[-len(said) :] for line in found] == [said]


# --- the rota


def rota(seats: int, saws: int, wind: int, saw: int) -> list[str]:
    text = BY_HAND.replace(
        "seats = 2", f"seats = {seats}\nsaws = {saws}\nminutes_to_wind = {wind}\nminutes_to_saw = {saw}"
    )
    return lines(rota_report(make_plan(order_of(text))))


def test_who_saws_while_one_winds_is_said_and_who_only_follows_is_not() -> None:
    """One saw, 20 minutes to wind and 20 to saw: the second winds while the first saws, from 20 to 40.

    60 to wind and 20 to saw: saws at 60, 80, 100, 120; each winds the hour before. The fourth winds from 60 to 120,
    while 1 (60 to 80), 2 and 3 saw; the third from 40 to 100, while 1 and 2 do; the first has just wound when it saws.
    """
    found = rota(2, 1, 20, 20)[2:]
    assert found[:2] == ["1 0 to 20 20 to 40", "2 20 to 40 1 40 to 60"]
    assert " ".join(found[2:]) == (
        "1 saw for 2 seats: 2 turns, 60 min in all (winding 20 min and sawing 20 min for each, as the order says). "
        "Who does neither closes and checks rings."
    )
    assert rota(4, 1, 60, 20)[2:6] == [
        "1 0 to 60 60 to 80",
        "2 20 to 80 1 80 to 100",
        "3 40 to 100 1 to 2 100 to 120",
        "4 60 to 120 1 to 3 120 to 140",
    ]
    # 10 to wind and 30 to saw: the third winds from 60 to 70, when the first has sawn until 40 and the second does
    assert rota(3, 1, 10, 30)[2:5] == ["1 0 to 10 10 to 40", "2 10 to 20 1 40 to 70", "3 40 to 50 2 70 to 100"]


# --- plans


@pytest.fixture(scope="module")
def plan() -> Plan:
    return make_plan(order_of(BY_HAND))


def test_spares_are_named_where_there_are_any(plan: Plan) -> None:
    def ends(made: Plan) -> str:
        return next(line for line in lines(plan_report(made)) if "of the wire cut ends" in line)

    assert ends(plan) == "80.6 % of the wire cut ends in rings that pass; 11.8 % of these are spares"
    assert "spares" not in ends(make_plan(order_of(LINKS)))


def test_what_is_set_up_for_a_ring(plan: Plan) -> None:
    # a blade given by its kerf alone has no line; 5.213 / 5.2 is 0.24 % over; #9 is 4.978 mm
    rows = [tuple(row) for row in set_up(plan.rings[0], cross_hole=True).rows]
    assert rows == [
        ("mandrel", "5 mm, 5.000 mm", "as sold: measure it; AR +0.24 % off"),
        ("or", "2 next best", "ground rod 4.9 mm (AR -1.86 %), drill #9 (AR -0.21 %)"),
        ("core", "for the saw", "slide the coil onto a wooden core of 5.0 mm (5.00 mm) or less: never saw on metal"),
        ("cross-hole", "drill 1.10 mm", "0.10 mm over the wire; sound in wood"),
    ]
    blade = make_plan(order_of(BY_HAND.replace('kerf = "0.30 mm"', 'blade = "1"'))).rings[0]
    # blade 1: 51 teeth to the inch, 51 / 25.4 = 2.01 in 1 mm; the coil is 5.3 mm inside: so much stands in front
    assert [tuple(row) for row in set_up(blade, cross_hole=False).rows][-1] == (
        "blade",
        "1, kerf 0.32 mm",
        "2.0 teeth in the wire; 5.3 mm of coil in front of it at most",
    )


def test_a_hair_off_has_no_minus() -> None:
    text = BY_HAND.replace('mandrel = "5 mm"\ntrial_mandrel', 'mandrel = "4.9885 mm"\ntrial_mandrel')
    made = make_plan(order_of(text))
    [ring] = made.rings
    assert -0.005 < ring.mandrel.ratio_error_percent < 0
    assert set_up(ring, cross_hole=False).rows[0][2] == "as sold: measure it; AR +0.00 % off"


# --- the bench and its records


@pytest.mark.parametrize(("entries", "holds"), [(None, "damaged"), (0, "0 entries"), (1, "1 entry"), (2, "2 entries")])
def test_what_a_file_of_the_bench_holds(entries: int | None, holds: str) -> None:
    report = bench_report(Path("bench"), [("drills.toml", entries)])
    assert lines(report)[-1] == f"drills.toml {holds}"
    [told] = plain(report)["files"]
    assert told == {"file": "drills.toml", "entries": entries, "damaged": entries is None}


def of_record(**read: Any) -> dict[str, Any]:
    one = Record(
        name="7", wire=parse_wire("1.2 mm"), metal="copper", temper="soft", mandrel="5 mm", measured_mm=5.0, **read
    )
    expected = Told(mm=5.1, band_mm=(5.0, 5.2))
    [row] = plain(records_report([Told(record=one, coil=expected, ring=expected, off=0.4, doubt=None)]))
    return dict(row)


@pytest.mark.parametrize(
    ("read", "coil", "ring"),
    [
        ({"coil_inside": (5.2, 5.3)}, 5.25, None),
        ({"coil_outside": (7.6, 7.7)}, 5.25, None),  # 7.65 less two wires of 1.2
        ({"ring_inside": (5.0, 5.1, 5.2)}, None, 5.1),
        ({"ring_outside": (7.4, 7.6)}, None, 5.1),
        ({"chain": (53.4, 53.6), "chain_rings": 10}, None, 5.11),  # (53.5 - 2.4) / 10
    ],
)
def test_what_was_read_of_a_coil_or_a_ring_in_whatever_way(
    read: dict[str, Any], coil: float | None, ring: float | None
) -> None:
    row = of_record(**read)
    assert row["coil_inside_mm"] == (None if coil is None else pytest.approx(coil))
    assert row["ring_inside_mm"] == (None if ring is None else pytest.approx(ring))
    assert (row["date"], row["remarks"], row["counts"]) == (None, None, True)
    dated = of_record(date="2026-11-25", remarks="a new reel", **read)
    assert (dated["date"], dated["remarks"]) == ("2026-11-25", "a new reel")


# --- the terminal


def test_wide_signs_take_two_places_and_combining_ones_none() -> None:
    column = Column("name", "name"), Column("many", "many", COUNT)
    report = Report(key="t", columns=column, rows=(("\u6f22\u5b57", 1), ("e\u0301a", 22), ("abcd", 333)))
    assert as_text(report, 40).splitlines() == [
        "name  many",
        "\u6f22\u5b57     1",
        "e\u0301a      22",
        "abcd   333",
    ]


def test_a_record_of_one_figure_stands_in_a_line_with_its_unit() -> None:
    assert lines(record("t", (Column("a_mm", "a", LENGTH),), (1.5,))) == ["a 1.500 mm"]
