"""Whole answers kept as goldens: plans, what a wire makes, rings and packs of many kinds, word by word.

They show that no printed figure has changed. That the figures are right is for test_plan_by_hand, test_days,
test_saving, test_ring_by_hand and test_printer_by_hand.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner
from golden import assert_same_as_golden
from orders import BY_HAND, STERLING, STERLING_SOLD
from test_days import CLASS

from jigs.cli import cli, progress
from jigs.orders.example import example
from jigs.orders.reading import order_of
from jigs.packing.pack import make_pack
from jigs.planning.plan import make_plan
from layouts.drawing.marks import Text
from layouts.pages.page import Page, Setup
from layouts.pages.paper import find_paper

# Links and chains by their length, two wires by the foot, few rings by the saw, clippings paid back well.
CHAINS = """
title = "Chains"
seats = 3
saws = 2
minutes_to_wind = 20
minutes_to_saw = 45
[making]
cut = "saw"
rejects = 1
tails = "90 mm"
spares = "12 %"
[[ring]]
name = "cable"
wire = "20 AWG"
metal = "sterling"
temper = "half-hard"
ratio = 4.5
weave = "chain"
length = "450 mm"
pieces = 4
[[ring]]
name = "clasp"
wire = "16 AWG"
metal = "sterling"
outside = "9.5 mm"
each_seat = 3
spares = "0 %"
[[ring]]
name = "drop"
wire = "20 AWG"
metal = "sterling"
temper = "half-hard"
inside = "6 mm"
count = 7
[[supply]]
wire = "20 AWG"
metal = "sterling"
temper = "half-hard"
price = "3.25 USD per ft"
clippings = "25 USD/ozt"
dust = "14 USD/ozt"
lengths = ["5 ft", "25 ft"]
short = "1/2 in"
snip = "1 mm"
[[supply]]
wire = "16 AWG"
metal = "sterling"
price = "44 USD/ozt"
clippings = "31 USD/ozt"
lengths = ["1 ft"]
"""
# Cutters, a metal in no table, wire at hand and a weave that goes by a test piece.
SNIPPED = """
title = "Snipped"
[making]
cut = "cutters"
trim = "0.9 mm"
spares = "20 %"
tails = "55 mm"
[[ring]]
name = "weave"
wire = "1.3 mm"
metal = "coin alloy"
density = "9.1 g/cm3"
modulus = "105 GPa"
strength = "300 MPa"
ratio = 3.6
weave = "byzantine"
length = "180 mm"
sample_rings = 24
sample_length = "33 mm"
[[ring]]
name = "eye"
wire = "0.8 mm"
metal = "aluminium 5056"
mandrel = "3.2 mm"
count = 130
longest_coil = "90 mm"
[[supply]]
wire = "0.8 mm"
metal = "aluminium 5056"
price = "9 EUR per kg"
lengths = ["2 m", "3 m"]
"""
OWNED = {
    "mandrels": """
["needle"]
measured = "4.55 mm"
kind = "steel"
length = "200 mm"
["dowel"]
measured = "4.7 mm"
kind = "wood"
""",
    "spools": """
["tin"]
wire = "0.8 mm"
metal = "aluminium 5056"
length = "1.4 m"
""",
}
ORDERS = {
    "class_of_ten": CLASS,
    "for_one": example(for_class=False),
    "demo": example(for_class=True),
    "sterling": STERLING + STERLING_SOLD.format("1.80 USD per g"),
    "two_seats": BY_HAND.replace("seats = 2", "seats = 2\nsaws = 1\nminutes_to_wind = 10\nminutes_to_saw = 30"),
    "chains": CHAINS,
    "snipped": SNIPPED,
}
every_order = pytest.mark.parametrize("name", ORDERS)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Each order in a file of its own, and a bench with a few things in it."""
    path = tmp_path_factory.mktemp("told")
    (path / "bench").mkdir()
    for name, text in OWNED.items():
        (path / "bench" / f"{name}.toml").write_text(text)
    for name, text in ORDERS.items():
        (path / f"{name}.toml").write_text(text)
    return path


def told(folder: Path, *words: str) -> str:
    """What a command says, on both streams."""
    result = CliRunner().invoke(cli, [*words, "--bench", str(folder / "bench")], catch_exceptions=False)
    assert result.exit_code == 0, result.output
    if "--json" not in words:
        return result.output
    # the last digits of a figure are the machine's own
    answer = json.loads(result.stdout, parse_float=lambda digits: float(f"{float(digits):.8g}"))
    return json.dumps(answer, indent=1) + "\n"


@every_order
def test_a_plan_as_it_is_told(folder: Path, name: str) -> None:
    assert_same_as_golden(f"told/plan_{name}.txt", told(folder, "plan", str(folder / f"{name}.toml")))


@every_order
def test_a_plan_as_a_spreadsheet_and_as_json(folder: Path, name: str) -> None:
    path = str(folder / f"{name}.toml")
    assert_same_as_golden(f"told/sheet_{name}.txt", told(folder, "plan", path, "--csv"))
    assert_same_as_golden(f"told/json_{name}.txt", told(folder, "plan", path, "--json"))


@pytest.fixture(autouse=True)
def no_bar(monkeypatch: pytest.MonkeyPatch) -> None:
    """A bar of progress comes and goes with how busy the machine is."""
    monkeypatch.setattr(progress, "WAIT_S", math.inf)


@pytest.mark.parametrize("name", ["class_of_ten", "chains", "snipped", "two_seats"])
def test_a_plan_as_it_is_told_in_inches(folder: Path, name: str) -> None:
    text = told(folder, "plan", str(folder / f"{name}.toml"), "--units", "inch")
    assert_same_as_golden(f"told/inches_{name}.txt", text)


@pytest.mark.parametrize("name", ["for_one", "chains", "snipped"])
def test_a_plan_the_other_way_as_it_is_told(folder: Path, name: str) -> None:
    path = str(folder / f"{name}.toml")
    text = told(folder, "plan", path, "--from-wire", "4 m") + "\n" + told(folder, "plan", path, "--in-wire", "1 mm")
    assert_same_as_golden(f"told/other_way_{name}.txt", text)


RINGS = {  # the words of a command, parted by bars
    "wanted": "--wire|16 AWG|--metal|copper|--inside|5.5 mm|--rings|150|--weave|byzantine",
    "sawn": "--wire|1.2 mm|--metal|phosphor bronze|--mandrel|5 mm|--cut|saw|--blade|2",
    "trial": "--wire|0.9 mm|--metal|sterling|--temper|hard|--outside|6 mm|--cut|cutters"
    "|--coil-mandrel|4 mm|--coil-measured|4.3 mm|--rings|33",
    "measured": "--wire|18 SWG|--metal|stainless 304|--mandrel|needle|--cut|saw|--kerf|0.31 mm|--rings|90",
}


@pytest.mark.parametrize("name", RINGS)
def test_a_ring_as_it_is_told(folder: Path, name: str) -> None:
    words = ["ring", *RINGS[name].split("|")]
    assert_same_as_golden(f"told/ring_{name}.txt", told(folder, *words) + told(folder, *words, "--json"))


@every_order
def test_the_words_of_a_pack(name: str) -> None:
    pack = make_pack(make_plan(order_of(ORDERS[name])), Setup(paper=find_paper("a4"), tile=True))
    said = [words for page in pack.pages for words in (f"\n== {page.title}", *_words(page))]
    assert_same_as_golden(f"told/pack_{name}.txt", "\n".join(said) + "\n")


def _words(page: Page) -> Iterator[str]:
    """Each drawing with its place and its size, in mm, and the words in it."""
    for at in page.placed:
        drawing = at.drawing
        yield f"-- {drawing.name} at {at.x:.2f} {at.y:.2f}, {drawing.width_mm:.2f} x {drawing.height_mm:.2f}"
        yield from (mark.string for mark in drawing.marks if isinstance(mark, Text))


SCRIPTS = {  # command after command on one bench, so that the later ones know what the earlier ones kept
    "printer": """
        printer|measure|study|--tray|plain 80 g|--across|149.4 mm|--along|199.5 mm|--diagonal-ac|249.3 mm
            |--diagonal-bd|249.05 mm|--black|1.08 mm|--white|0.93 mm|--black|1.1 mm|--white|0.9 mm
            |--date|2026-11-25|--details
        printer|measure|study|--tray|card|--with|card|--across|99.5 %|--along|99.72 %|--date|2026-11-20
        printer|measure|shop|--tray|plain 75 g|--paper|letter|--with|loupe
            |--across|139.62 mm of 140 mm|--along|179.4 mm of 180 mm|--save-anyway
        printer|show|study|--tray|plain 80 g|--details
        printer|show|study|--tray|card|--json
        printer|list
        printer|default|shop
        printer|list|--json
    """,
    "bench": """
        bench|add|mandrel|rod 5|--measured|4.97 mm|--kind|steel
        bench|add|mandrel|peg|--measured|6.1 mm|--kind|wood|--length|220 mm
        bench|add|drill|1.3 mm|--diameter|1.32 mm
        bench|add|blade|2|--kerf|0.37 mm
        bench|add|spool|tin|--wire|16 AWG|--metal|copper|--temper|soft|--length|3.2 m
        bench
        bench|--json
        ring|--wire|16 AWG|--metal|copper|--inside|5 mm|--cut|saw|--blade|2|--rings|40
    """,
    "record": """
        bench|add|mandrel|rod 5|--measured|5.02 mm
        bench|add|spool|reel|--wire|1.2 mm|--metal|phosphor bronze|--temper|soft|--length|9 m
        record|add|--spool|reel|--mandrel|rod 5|--blade|2/0|--coil-inside|5.24 mm|--ring-inside|5.16 mm
            |--ring-inside|5.18 mm|--date|2026-11-25|--wanted|5 mm
        record|add|--spool|reel|--mandrel|rod 5|--blade|2/0|--coil-outside|7.66 mm|--chain|86.1 mm|--chain-rings|16
            |--with|rule|--date|2026-11-26|--remarks|second length
        record|add|--wire|1.2 mm|--metal|phosphor bronze|--temper|soft|--mandrel|4.8 mm|--measured|4.8 mm|--cut|none
            |--coil-inside|5.9 mm|--date|2026-11-27
        record|list
        record|show|1
        record|show|2
        record|show|3
        ring|--wire|1.2 mm|--metal|phosphor bronze|--temper|soft|--mandrel|rod 5|--cut|saw|--blade|2/0|--rings|40
    """,
}


@pytest.mark.parametrize("name", SCRIPTS)
def test_commands_on_one_bench_as_they_are_told(tmp_path: Path, name: str) -> None:
    said = []
    for line in SCRIPTS[name].replace("\n            |", "|").split("\n"):
        if words := line.strip():
            result = CliRunner().invoke(cli, [*words.split("|"), "--bench", str(tmp_path)], catch_exceptions=False)
            assert result.exit_code == 0, (words, result.output)
            said.append(f"$ {words}\n{result.output.replace(str(tmp_path), 'folder')}")
    assert_same_as_golden(f"told/script_{name}.txt", "\n".join(said))


ASIDE = ["wire|16 AWG", "wire|1.3 mm", "wire|0.812 mm|--json", "wire|20 SWG"]
ASIDE += [f"tables|{name}" for name in ("gauges", "metals", "blades", "drills", "weaves")]


def test_wires_and_tables_as_they_are_told() -> None:
    said = [f"$ {words}\n{CliRunner().invoke(cli, words.split('|')).output}" for words in ASIDE]
    assert_same_as_golden("told/tables.txt", "\n".join(said))
