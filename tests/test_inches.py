"""Lengths in inches: who chooses them, that every sheet and list says them, and that wire is cut to the sixteenth."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import pytest
from click.testing import CliRunner
from compare import marks
from every_sheet import NASTY, SHEETS, Case, every_case, pages
from packs import ALONE, CLASS, UNEVEN, order_of

from jigs.actions.order import plan_order
from jigs.bench.bench import Bench
from jigs.bench.settings import units_for
from jigs.cli import cli
from jigs.guides.catalogue import find_sheet
from jigs.guides.pieces.ring_wedge import wedge_for
from jigs.orders.example import example
from jigs.packing.pack import make_pack
from jigs.planning.plan import Plan, make_plan
from layouts.drawing.marks import Text
from layouts.errors import UnknownName
from layouts.files.faults import FileFaulty
from layouts.lengths import down_to_step, said_in, sized, sized_each, step_mm, to_cut, up_to_step
from layouts.pages.page import Page, Setup
from layouts.pages.paper import find_paper
from layouts.pages.sheet import compose

SIXTEENTH = Fraction("25.4") / 16  # C: an inch is 25.4 mm exactly (S: international yard and pound agreement, 1959)
FEET = """
title = "By the foot"
units = "inch"
[[ring]]
name = "link"
wire = "18 AWG"
metal = "sterling"
ratio = 4.2
count = 120
[[ring]]
name = "clasp"
wire = "18 AWG"
metal = "sterling"
inside = "1/4 in"
count = 30
[[supply]]
wire = "18 AWG"
metal = "sterling"
price = "3.10 USD per ft"
lengths = ["1 ft", "5 ft", "3 m"]
"""
ORDERS = {
    "feet": FEET,
    "one ring": FEET.replace('inside = "1/4 in"\ncount = 30', 'inside = "1/4 in"\ncount = 40').split("[[ring]]")[0]
    + "[[ring]]"
    + FEET.split("[[ring]]")[2],
    "alone": f'units = "inch"\n{ALONE}',
    "class": f'units = "inch"\n{CLASS}',
    "uneven": f'units = "inch"\n{UNEVEN}',
}
each_order = pytest.mark.parametrize("name", ORDERS)


def planned(name: str) -> Plan:
    """The plan of one of the orders, as the action makes it."""
    order = order_of(ORDERS[name])
    with said_in(order.units):
        return make_plan(order, Bench())


# --- how a length is said


def test_a_length_has_the_millimetres_beside_in_brackets() -> None:
    # C: 5 / 25.4 = 0.19685, 7.4 / 25.4 = 0.29134, 373.0625 / 1.5875 = 235 sixteenths = 14 11/16
    with said_in("inch"):
        assert sized(5, 2) == "0.197 in [5.00 mm]"
        assert sized_each("ID {}, OD {}", (5, 7.4), 2) == "ID 0.197, OD 0.291 in [5.00, 7.40 mm]"
        assert to_cut(373.0625) == "14 11/16 in [373.1 mm]"
    assert sized(5, 2) == "5.00 mm"


def test_what_is_said_within_ends_with_it_even_after_a_fault() -> None:
    with pytest.raises(ZeroDivisionError), said_in("inch"):
        print(1 // 0)
    assert sized(1) == "1 mm"
    with pytest.raises(UnknownName, match="furlong"), said_in("furlong"):
        pass


def test_a_length_to_cut_goes_up_to_the_next_sixteenth_and_stock_down() -> None:
    # C: 372.2 / 1.5875 = 234.46: up 235 x 1.5875 = 373.0625, down 234 x 1.5875 = 371.475
    assert up_to_step(372.2, step_mm("inch")) == 373.0625
    assert down_to_step(372.2, step_mm("inch")) == 371.475
    assert up_to_step(373.0625, step_mm("inch")) == 373.0625  # a whole one stays
    assert up_to_step(372.2, step_mm("mm")) == 373


def test_the_wedge_of_a_ring_card_reads_hundredths_of_an_inch_where_they_touch() -> None:
    # C: a ring of 1/4 in = 6.35 mm outside touches at its own tick, 0.25, and so does one of 0.30 in = 7.62 mm
    with said_in("inch"):
        wedge = wedge_for((6.35, 7.62), 150.0)
    ticks = {wedge.numeral(steps): steps / wedge.per_mm for steps, _, numeral in wedge.ticks() if numeral}
    assert ticks["0.25"] == pytest.approx(6.35)
    assert ticks["0.30"] == pytest.approx(7.62)
    assert 0 < wedge.touch(6.35)[0] < wedge.touch(7.62)[0] < 150.0


def test_the_strip_of_a_dowel_reads_its_diameter_in_inches() -> None:
    # C: 0.05 in = 1.27 mm of diameter are pi x 1.27 mm of strip
    dowel = find_sheet("dowel").make({"diameter": "0.31 in", "wire": "16 AWG", "paper_thickness": "0.1 mm"})
    with said_in("inch"):
        (page,) = compose(dowel.content, Setup(paper=find_paper("letter")))
    words = [mark for mark in marks(page) if isinstance(mark, Text)]
    at = {mark.string: mark.x for mark in words if mark.string in (".30", ".35")}
    assert at[".35"] - at[".30"] == pytest.approx(math.pi * 1.27, abs=1e-6)


# --- the plan: what is counted is what is cut


@each_order
def test_every_length_to_cut_is_the_next_sixteenth_that_is_not_shorter_than_it_needs(name: str) -> None:
    found = 0
    for ring in planned(name).rings:
        for lot in (lot for share in ring.shares for lot in share.lots):
            needs = lot.turns * ring.winding.wound_turn_mm + ring.winding.tails_mm
            assert (Fraction(str(lot.cut_mm)) / SIXTEENTH).denominator == 1
            assert needs - 1e-6 <= lot.cut_mm < needs + float(SIXTEENTH)
            found += 1
    assert found


@each_order
def test_the_wire_adds_up_to_the_last_digit_and_no_length_is_overdrawn(name: str) -> None:
    plan = planned(name)
    exact = lambda mm: Fraction(str(mm))  # noqa: E731 - a sum of floats would hide a ten-thousandth
    assert exact(plan.cut_mm) == sum(exact(buying.cut_mm) for buying in plan.buyings)
    for buying in plan.buyings:
        assert exact(buying.bought_mm) + exact(buying.drawn_mm) == exact(buying.cut_mm) + exact(buying.left_mm)
        for pattern in buying.cutting.patterns:
            assert exact(pattern.left_mm) == exact(pattern.stock_mm) - sum(
                exact(length) * many for length, many in pattern.pieces
            )
            assert pattern.left_mm >= 0


def test_a_foot_is_a_foot_where_wire_is_cut_in_inches() -> None:
    # C: 1 ft = 304.8 mm; in whole millimetres it is counted on for 304
    plan = planned("feet")
    lengths = {mm for buying in plan.buyings for mm, _ in buying.cutting.lengths}
    assert lengths <= {304.8, 1524.0, 3000}
    assert {1524.0, 304.8} & lengths


def test_cutting_in_inches_takes_at_most_a_sixteenth_more_for_a_winding() -> None:
    inches, whole = planned("alone"), make_plan(order_of(ALONE), Bench())
    assert whole.cut_mm - whole.coils <= inches.cut_mm <= whole.cut_mm + whole.coils * float(SIXTEENTH)


# --- the door: the nearest choice wins, and every answer agrees


def run(*words: str) -> str:
    """What a command says."""
    result = CliRunner().invoke(cli, words, catch_exceptions=False)
    assert result.exit_code == 0, result.output
    return result.stdout


def test_option_before_order_before_bench(tmp_path: Path) -> None:
    bench, silent, said = tmp_path / "bench", tmp_path / "silent.toml", tmp_path / "said.toml"
    silent.write_text(ALONE, encoding="utf-8")
    said.write_text(f'units = "mm"\n{ALONE}', encoding="utf-8")
    assert plan_order(silent, bench).order.units == "mm"
    run("bench", "units", "inch", "--bench", str(bench))
    assert plan_order(silent, bench).order.units == "inch"
    assert plan_order(said, bench).order.units == "mm"
    assert plan_order(said, bench, units="inch").order.units == "inch"
    assert " in [" in run("ring", "--wire", "16 AWG", "--mandrel", "5 mm", "--bench", str(bench))
    assert " in [" not in run("ring", "--wire", "16 AWG", "--mandrel", "5 mm", "--units", "mm", "--bench", str(bench))


def test_settings_that_are_wrong_are_refused_with_their_line(tmp_path: Path) -> None:
    (tmp_path / "settings.toml").write_text('# mine\nunits = "cubit"\n', encoding="utf-8")
    with pytest.raises(FileFaulty, match=r"settings.toml:2: units: no .* 'cubit'"):
        units_for(tmp_path)
    assert units_for(tmp_path, "", "mm") == "mm"  # what is nearer is not kept waiting by it


def test_a_new_order_can_be_in_inches(tmp_path: Path) -> None:
    path = tmp_path / "new.toml"
    run("order", "new", str(path), "--units", "inch", "--for", "one")
    assert plan_order(path, tmp_path / "bench").order.units == "inch"


def test_plan_table_and_scripts_agree(tmp_path: Path) -> None:
    path = tmp_path / "feet.toml"
    path.write_text(FEET, encoding="utf-8")
    words = ("plan", str(path), "--bench", str(tmp_path / "bench"))
    found = json.loads(run(*words, "--json"))
    heads, *rows = (line.split(",") for line in run(*words, "--csv").splitlines())
    total = found["totals"]["cut_mm"]
    assert heads[-4] == "cut_in"
    assert not [head for head in heads if head.endswith("_mm")]
    assert Fraction(rows[-1][-4]) * Fraction("25.4") == Fraction(str(total))
    cut = [each["cut_mm"] for ring in found["rings"] for share in ring["shares"] for each in share["windings"]]
    with said_in("inch"):
        text = run(*words)
        assert f"In all {found['totals']['windings']} windings, {to_cut(total)} of wire" in text
        for mm in cut:
            assert to_cut(mm).partition(" in")[0] in text


# --- every sheet and every page of a pack


_MM = re.compile(r"[0-9] ?mm\b|\bmm\b")
_BESIDE = re.compile(r"\[[^\[\]]*mm\]")
_BALANCE = re.compile(r"in: [^:]* left\. mm: ")  # the same in both units, one after the other
_AS_SOLD = re.compile(r"(?:(?:ground )?rod |drill |Drill |dowel )?[0-9.]+ mm(?= \(| is |, [0-9]|;|$)")


def mm_only(words: str) -> list[str]:
    """Lengths in millimetres that no inches stand before; names of rods and drills as they are sold are no lengths."""
    return _MM.findall(_AS_SOLD.sub("", _BALANCE.sub("", _BESIDE.sub("", words))))


def test_the_search_for_millimetres_can_fail() -> None:
    assert mm_only("the kerf is 0.28 mm wide")
    assert mm_only("OD mm")
    assert not mm_only("ID 0.197, OD 0.291 in [5.00, 7.40 mm]")
    assert not mm_only("ground rod 4.9 mm is ground steel")


def texts(page: Page) -> Iterator[str]:
    """The words of a page, but for the check bars' own scale."""
    yield from (mark.string for mark in marks(page) if isinstance(mark, Text) and mark.string != "100 mm")


IN_INCHES = [case for case in every_case() if case.variant.startswith("inch")]


def test_every_sheet_of_the_catalogue_is_drawn_in_inches_on_both_usual_papers() -> None:
    assert {(case.sheet, case.paper) for case in IN_INCHES} >= {
        (sheet, paper) for sheet in SHEETS for paper in ("a4", "letter")
    }


@pytest.mark.parametrize("case", IN_INCHES, ids=str)
def test_no_sheet_says_a_length_in_millimetres_alone(case: Case) -> None:
    said = " ".join(words for page in pages(case) for words in texts(page) if words not in NASTY)
    assert mm_only(said) == []
    assert " in [" in said


@pytest.mark.parametrize("paper", ["a4", "letter"])
@each_order
def test_no_page_of_a_pack_says_a_length_in_millimetres_alone(name: str, paper: str) -> None:
    setup = Setup(paper=find_paper(paper), tile=True)
    with said_in("inch"):
        pack = make_pack(planned(name), setup, setup)
    for page in pack.pages:
        assert mm_only(" ".join(texts(page))) == []


def test_two_rings_of_one_maker_take_four_pages_of_a4_in_inches_too() -> None:
    text = example(for_class=True).replace("seats = 8 ", "seats = 1 ").replace("each_seat = 1", "count = 1")
    text = text.replace("count = 400", "count = 60").replace("[making]", 'units = "inch"\n[making]', 1)
    setup = Setup(paper=find_paper("a4"), tile=True)
    with said_in("inch"):
        assert len(make_pack(make_plan(order_of(text)), setup, setup).pages) == 4
