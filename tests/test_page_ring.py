"""The first view: three ways in, the ledger as one types, and what is refused beside its box."""

from __future__ import annotations

import re
from html import unescape
from pathlib import Path

import pytest

from jigs.page.asked import Answer, Asked
from jigs.page.templating import render
from jigs.page.views import ring, views


def shown(bench: Path, **given: str) -> Answer:
    return ring.show(Asked(bench=bench, given={key: (value,) for key, value in given.items()}, is_part=True))


def text_of(answer: Answer, template: str = "ring_live.html") -> str:
    html = render(template, {"views": views(), "is_part": True, **answer.values})
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", html)))


def line(answer: Answer) -> dict[str, str]:
    return dict(answer.values["found"]["line"])


def test_a_ring_that_is_wanted_names_its_mandrel(bench: Path):
    """C: nothing springs or is cut; a turn of the helix, sqrt((pi x 6.188)^2 + 1.2^2), closes flat to pi x 6.2."""
    answer = shown(bench, way="ring", wire="1.2 mm", by="inside_mm", size="5 mm", metal="", cut="none")
    assert line(answer)["mandrel"] == "4.99 mm"
    assert (line(answer)["OD"], line(answer)["AR"]) == ("7.40 mm", "4.17")


@pytest.mark.parametrize(("by", "size"), [("inside_mm", "5 mm"), ("outside_mm", "7.4 mm"), ("ratio", "4,1666667")])
def test_the_size_is_inside_outside_or_ratio(bench: Path, by: str, size: str):
    answer = shown(bench, wire="1.2 mm", by=by, size=size, metal="", cut="none")
    assert line(answer)["closed ID"] == "5.00 mm"


def test_a_rod_gives_its_ring_and_what_was_measured_counts(bench: Path):
    named = shown(bench, way="rod", wire="1.2 mm", mandrel="5/16 in", metal="", cut="none")
    measured = shown(bench, way="rod", wire="1.2 mm", mandrel="5/16 in", measured_mm="7.6 mm", metal="", cut="none")
    # C: 5/16 in is 7.9375 mm; the turn of the helix, closed flat, is 0.008 mm wider
    assert line(named)["closed ID"] == "7.95 mm"
    assert line(measured)["closed ID"] == "7.61 mm"
    assert "not what its name says" in text_of(measured)


def test_a_ring_in_the_hand_finds_the_rods_of_the_drawer_first(bench: Path):
    bench.mkdir()
    (bench / "mandrels.toml").write_text('["rod 7"]\nmeasured = "4.9 mm"\nkind = "steel"\n')
    answer = shown(bench, way="hand", wire="1.2 mm", by="outside_mm", size="7.4 mm")
    assert "Your nearest mandrels" in text_of(answer)
    assert "rod 7" in text_of(answer)


def test_the_wire_and_its_cost_are_said(bench: Path):
    """C: two windings of 120 mm, 2 rejects and 65 mm of tails each, turns of pi (5 + 1.2) = 19.48 mm."""
    usual = {"wire": "1.2 mm", "size": "5 mm", "metal": "", "cut": "none", "rings": "100"}
    answer = shown(bench, **usual, price="2.40 EUR per m")
    total = float(re.search(r"In all (\d+) mm of wire for 100 rings", text_of(answer)).group(1))
    assert total == pytest.approx(104 * 19.478 + 130, abs=25)
    cost = float(re.search(r"cost of the wire ([0-9.]+) EUR", text_of(answer)).group(1))
    assert cost == pytest.approx(total * 0.0024, abs=0.006)
    refused = shown(bench, **usual, price="8 EUR per g")
    assert "weighs is not known" in refused.values["form"]["price"].fault


def test_cautions_are_loud(bench: Path):
    answer = shown(bench, wire="1.2 mm", size="1.5 mm", metal="", cut="none")
    assert "Caution. An AR of 1.25 is very tight" in text_of(answer)


TYPED = [
    ("wire", "18", "18 AWG"),
    ("wire", "18 XWG", "Write"),
    ("wire", "", "Give the wire"),
    ("size", "5", "mm"),
    ("size", "", "Give its size"),
    ("size", "-5 mm", "below zero"),
    ("rings", "many", "whole number"),
    ("rings", "1e9", "whole number"),
    ("price", "cheap", "EUR per m"),
    ("temper", "rubber", "temper"),
    ("metal", "unobtainium", "metal"),
]


@pytest.mark.parametrize(("key", "typed", "words"), TYPED)
def test_what_is_refused_is_said_at_its_box_and_stays_typed(bench: Path, key: str, typed: str, words: str):
    answer = shown(bench, **({"wire": "1.2 mm", "size": "5 mm", "metal": "copper"} | {key: typed}))
    form = answer.values["form"]
    assert words.casefold() in form[key].fault.casefold()
    assert form[key].value == typed
    assert [box.key for box in form.boxes.values() if box.fault] == [key]
    assert answer.values["found"] is None


@pytest.mark.parametrize(("key", "typed", "words"), TYPED)
def test_no_refusal_names_an_option_or_a_command(bench: Path, key: str, typed: str, words: str):
    answer = shown(bench, **({"wire": "1.2 mm", "size": "5 mm", "metal": "copper"} | {key: typed}))
    assert not re.search(r"--[a-z]|coilwright [a-z]", text_of(answer))


def test_a_refusal_that_names_no_box_is_said_at_the_one_to_blame(bench: Path):
    answer = shown(bench, wire="1.2 mm", size="5 mm", metal="beryllium copper", cut="saw")
    assert "not sawn" in answer.values["form"]["metal"].fault
    thick = shown(bench, way="rod", wire="1.2 mm", mandrel="900 m", metal="copper")
    assert "springs back straight" in thick.values["form"]["mandrel"].fault
    assert [*answer.values["form"].faults, *thick.values["form"].faults] == []


def test_a_weave_alone_has_its_own_ratio(bench: Path):
    answer = shown(bench, wire="1.2 mm", size="", weave="byzantine", metal="", cut="none")
    assert line(answer)["AR"] == "3.50"  # P: the good AR of byzantine


def test_lengths_are_said_in_the_unit_of_the_bench(bench: Path):
    bench.mkdir()
    (bench / "settings.toml").write_text('units = "inch"\n')
    answer = shown(bench, wire="1.2 mm", size="5 mm", metal="", cut="none")
    assert line(answer)["closed ID"] == "0.197 in [5.00 mm]"


def test_what_is_usual_is_worked_out_at_once(bench: Path):
    assert shown(bench).values["found"] is not None
