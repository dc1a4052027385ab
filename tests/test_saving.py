"""What would save wire, worked by hand."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from click.testing import CliRunner
from orders import BY_HAND

from jigs.cli import cli
from jigs.orders.reading import order_of
from jigs.page.asked import Asked
from jigs.page.templating import render
from jigs.page.views import orders, views
from jigs.planning.plan import make_plan
from jigs.planning.saving import Saving, savings
from layouts.lengths import said_in
from layouts.units import parse_length

ALONE = BY_HAND.replace("seats = 2", "seats = 1").replace('"60 mm"', '"80 mm"').replace('lengths = ["1 m"]', "")
ALONE = ALONE.replace("count = 45", "count = 300").replace('"0.30 mm"', '"0.33 mm"')


def test_a_longer_rod_shorter_tails_and_a_finer_blade_worked_by_hand() -> None:
    """A wound turn is 18.8736 mm, a section 69 turns. 300 rings: 115 are the most of a rod of 150 mm (124 turns); 115,
    115 and 70: (70 + 2 + 1) x 1.05 -> 77 turns; 2 x 2421 + 1534 = 6376 mm with tails of 80 mm.

    A rod of 300 mm: 282 turns, free 268, four sections, 263 rings; 263 and 37: 5403 + (39 x 1.05 -> 41) 854 = 6257.
    Tails: 25 mm in the hole and 30 in the hand, 25 less, three times. Blade 6/0 has 76 / 25.4 = 2.99 teeth in the wire
    and a kerf of 0.20: a turn 0.13 less, (19.8173 - 0.13) / 1.05 = 18.7498 on the mandrel; 2 x 2405 + 1524 = 6334.
    Money: x 8.136725 mg x 1.20 a gram.
    """
    plan = make_plan(order_of(ALONE.replace('"10 %"', '"0 %"')))
    assert plan.cut_mm == 6376
    assert savings(plan) == (
        Saving(words="a rod of 300 mm, that bears windings of 270 mm", mm=119, cents=116),
        Saving(words="tails no longer than holding them needs", mm=75, cents=73),
        Saving(words="the finest blade that has three teeth in the wire or fewer", mm=42, cents=41),
    )


def test_fewer_spares_are_named_where_there_are_more_than_ten_in_a_hundred() -> None:
    # 300 and 15 % are 345: three full windings, 3 x 2421 = 7263. 330 are three of 110: (110 + 2 + 1) x 1.05 -> 119
    # turns, 2245.96 + 80 -> 2326 mm: 6978. 10 % itself is not named.
    plan = make_plan(order_of(ALONE.replace('"10 %"', '"15 %"')))
    assert plan.cut_mm == 7263
    assert {way.words: way.mm for way in savings(plan)}["spares of 10 %"] == 7263 - 6978
    assert "spares of 10 %" not in [way.words for way in savings(make_plan(order_of(ALONE)))]


def test_the_five_ways_that_save_most_are_shown() -> None:
    # two seats, wire sold in 25 m: another length, fewer spares, a long rod, one who winds for all, shorter tails; and
    # a finer blade, which saves least
    sold = 'dust = "0.30 EUR per g"\nlengths = ["25 m"]'
    text = ALONE.replace('"10 %"', '"15 %"').replace("seats = 1", "seats = 2").replace('dust = "0.30 EUR per g"', sold)
    ways = savings(make_plan(order_of(text)))
    assert len(ways) == 5
    assert [way.mm for way in ways] == sorted((way.mm for way in ways), reverse=True)
    assert not any("blade" in way.words for way in ways)


USUAL_M = [(20, "0.5 m"), (40, "1 m"), (80, "2 m"), (130, "3 m"), (200, "5 m"), (400, "10 m"), (1000, "25 m")]
USUAL_FT = [(10, "1 ft"), (25, "2 ft"), (40, "3 ft"), (70, "5 ft"), (130, "10 ft"), (300, "25 ft"), (700, "50 ft")]


@pytest.mark.parametrize(("rings", "usual"), [*USUAL_M, *USUAL_FT])
def test_the_length_that_leaves_least_over_is_named(rings: int, usual: str) -> None:
    """One winding of rings x 1.05 turns of 18.8736 mm: with tails 10 take 268 mm, 20 457, 25 570, 40 853, 70 1457,
    80 1646, 130 2646, 200 4024, 300 6006, 400 7987, 700 13933, 1000 19878. It is sold in 60 m or in 200 ft alone.
    """
    feet = usual.endswith("ft")
    text = BY_HAND.replace("seats = 2", "seats = 1").replace('"10 %"', '"0 %"')
    text = text.replace('cut = "saw"\nkerf = "0.30 mm"', 'cut = "none"\nlongest_coil = "3000 mm"')
    text = text.replace("rejects = 2", "rejects = 0").replace("count = 45", f"count = {rings}")
    text = text.replace('["1 m"]', '["200 ft"]' if feet else '["60 m"]')
    if feet:
        text = text.replace("1.20 EUR per g", "1 EUR per ft").replace('clippings = "0.80 EUR per g"', "")
        text = text.replace('dust = "0.30 EUR per g"', "")
    first = savings(make_plan(order_of(text)))[0]
    assert first.words == f"1 mm sterling silver, soft in lengths of {usual} too: less wire bought, the same wire cut"
    assert first.mm == (int(200 * 304.8) if feet else 60_000) - int(parse_length(usual))


def test_of_lengths_that_leave_as_much_the_shortest_is_named() -> None:
    # two seats of 20 rings, 457 mm each: two of half a metre or one of a metre
    text = BY_HAND.replace('"10 %"', '"0 %"').replace('cut = "saw"\nkerf = "0.30 mm"', 'cut = "none"')
    text = text.replace("rejects = 2", "rejects = 0").replace("count = 45", "count = 40").replace('["1 m"]', '["60 m"]')
    plan = make_plan(order_of(text))
    assert plan.buyings[0].pieces == ((457, 2),)
    first = savings(plan)[0]
    assert (first.words.partition(" in ")[2].partition(" too")[0], first.mm) == ("lengths of 0.5 m", 59_000)


IN_INCHES = f'units = "inch"\n{BY_HAND}'.replace('["1 m"]', '["25 m"]')


@pytest.mark.parametrize("said", ["mm", "inch"])
def test_an_order_in_inches_is_offered_feet_whatever_lengths_are_said_in(said: str) -> None:
    """Two windings of 627 and 608 mm are 48.6 in, a little over 4 ft: 5 ft hold both, two of 3 ft are more."""
    plan = make_plan(order_of(IN_INCHES))
    with said_in(said):
        first = savings(plan)[0]
    assert "in lengths of 5 ft too" in first.words


def test_the_command_and_the_page_offer_an_order_in_inches_feet(tmp_path: Path) -> None:
    (tmp_path / "orders").mkdir()
    path = tmp_path / "orders" / "inches.toml"
    path.write_text(IN_INCHES)
    planned = CliRunner().invoke(cli, ["plan", str(path), "--bench", str(tmp_path)], catch_exceptions=False).stdout
    assert "in lengths of 5 ft too" in planned
    asked = Asked(bench=tmp_path, orders=path.parent, path={"order": path.name}, given={}, body=b"")
    html = render("order_plan.html", {"views": views(), "is_part": False, **orders.show_plan(asked).values})
    assert "in lengths of 5 ft too" in html
    assert re.search(r"in lengths of [0-9.]+ m too", planned + html) is None
