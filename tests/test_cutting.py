"""What a cut takes, and which cut was meant."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from jigs.making.cutting import Cutters, NoCut, Saw, choose_cut
from jigs.stock.blade import find_blade
from jigs.stock.figure import Basis
from layouts.errors import OutOfRange, QuantityRefused, UnknownName


def test_a_saw_takes_its_blades_kerf():
    # blade 2: 0.34 thick (M), kerf = thickness + 0.01-0.03 (P). M, makers differ
    saw = Saw(blade=find_blade("2"))
    assert 0.35 <= saw.loss_mm <= 0.37
    assert "blade 2" in saw.loss.words
    assert "measure a cut" in saw.loss.words


def test_a_measured_kerf_counts_before_the_table():
    saw = Saw(blade=find_blade("2"), measured_kerf_mm=0.4)
    assert saw.loss_mm == 0.4
    assert saw.loss.words == "saw: kerf 0.400 mm as given with blade 2"


def test_cutters_take_one_wire_diameter_and_say_it_is_common_practice():
    # 1.0 d (P)
    cutters = Cutters.for_wire(1.2)
    assert cutters.loss_mm == 1.2
    assert "common practice" in cutters.loss.words


def test_a_given_trim_is_said_to_be_given():
    assert Cutters.measured(0.7).loss.words == "cutters: trim 0.700 mm as given"


def test_no_cut_takes_nothing():
    assert NoCut().loss_mm == 0


@pytest.mark.parametrize(
    ("name", "given", "expected"),
    [
        (None, {}, NoCut()),
        ("none", {}, NoCut()),
        (None, {"kerf_mm": 0.3}, Saw(measured_kerf_mm=0.3)),
        ("saw", {"kerf_mm": 0.3}, Saw(measured_kerf_mm=0.3)),
        (None, {"trim_mm": 0.5}, Cutters.measured(0.5)),
        ("cutters", {"trim_mm": 0.5}, Cutters.measured(0.5)),
        ("cutters", {}, Cutters.for_wire(1.2)),
    ],
)
def test_the_cut_that_was_meant(name, given, expected):
    assert expected == choose_cut(name, wire_mm=1.2, **given)


@pytest.mark.parametrize(
    ("name", "given", "words"),
    [
        ("saw", {}, "a saw cut needs its kerf; name the blade"),
        ("cutters", {"kerf_mm": 0.3}, "a blade or a kerf belongs to the saw"),
        ("none", {"kerf_mm": 0.3}, "a blade or a kerf belongs to the saw"),
        ("saw", {"trim_mm": 0.3}, "a trim belongs to cutters"),
        (None, {"trim_mm": 0.3, "kerf_mm": 0.3}, "a trim belongs to cutters"),
        ("none", {"trim_mm": 0.3}, "a trim belongs to cutters"),
    ],
)
def test_cuts_that_contradict_are_refused(name, given, words):
    with pytest.raises(QuantityRefused, match=words):
        choose_cut(name, wire_mm=1.0, **given)


def test_a_blade_with_cutters_is_refused():
    with pytest.raises(QuantityRefused, match="a blade or a kerf belongs to the saw; leave it out"):
        choose_cut("cutters", wire_mm=1.0, blade=find_blade("2"))


def test_an_unknown_cut_lists_the_known():
    with pytest.raises(UnknownName, match="no cut is called 'laser'; known: "):
        choose_cut("laser", wire_mm=1.0)


@pytest.mark.parametrize("bad", [math.nan, math.inf, -0.1])
def test_a_loss_that_is_none_is_refused(bad):
    with pytest.raises(OutOfRange, match="trim"):
        Cutters.measured(bad)
    with pytest.raises(OutOfRange, match="kerf"):
        Saw(measured_kerf_mm=bad)


def test_a_recorded_kerf_of_the_blade_is_not_to_be_measured_again() -> None:
    table = find_blade("2")
    kerf = replace(table.kerf, value=0.35, basis=Basis.RECORDED, words="4 batches")
    assert Saw(blade=replace(table, kerf=kerf)).loss.words == "saw: kerf 0.350 mm of blade 2 (4 batches)"
    assert Saw(blade=table).loss.words.endswith(": measure a cut")


def test_every_loss_has_its_basis() -> None:
    cuts = (
        Saw(blade=find_blade("2")),
        Saw(measured_kerf_mm=0.3),
        Cutters.for_wire(1.0),
        Cutters.measured(0.7),
        NoCut(),
    )
    bases = [Basis.TABLE, Basis.MEASURED, Basis.USUAL, Basis.MEASURED, Basis.NOT_COUNTED]
    assert [cut.loss.basis for cut in cuts] == bases


def test_cutters_that_need_no_trim_lose_nothing() -> None:
    assert Cutters.measured(0.0).loss_mm == 0.0


@pytest.mark.parametrize(
    ("name", "wire_mm", "given", "most_mm"),
    [("saw", 1.2, "kerf_mm", 4.8), ("cutters", 1.2, "trim_mm", 4.8), ("saw", 0.2, "kerf_mm", 1.0)],
)
def test_more_than_any_cut_takes_is_a_slip_and_refused(name: str, wire_mm: float, given: str, most_mm: float) -> None:
    """28 mm typed for 0.28 mm. At most four wires, or 1 mm, which the thickest blades cut in any wire."""
    assert choose_cut(name, wire_mm=wire_mm, **{given: most_mm}).loss_mm == most_mm
    with pytest.raises(OutOfRange, match=r"is over 4 times the wire .*; give what one cut takes, such as 0.28 mm"):
        choose_cut(name, wire_mm=wire_mm, **{given: most_mm + 0.01})
