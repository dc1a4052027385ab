"""A figure: what it refuses, and which of several counts."""

from __future__ import annotations

import itertools
import math

import pytest

from jigs.stock.figure import Basis, Figure, best
from layouts.errors import OutOfRange, QuantityRefused


def kerf(basis: Basis, value: float = 0.28, **more: object) -> Figure:
    return Figure(**{"name": "kerf", "value": value, "basis": basis, "words": "blade 2/0", **more})


def test_the_bases_stand_in_their_order_of_trust() -> None:
    ranked = sorted(Basis, key=lambda basis: basis.rank)
    assert [basis.value for basis in ranked[:6]] == [
        "measured",
        "recorded",
        "certificate",
        "table",
        "common practice",
        "by its name",
    ]


@pytest.mark.parametrize(("first", "second"), list(itertools.combinations(Basis, 2)))
def test_the_more_trusted_counts_wherever_it_stands(first: Basis, second: Basis) -> None:
    trusted, other = kerf(first, 0.29), kerf(second, 0.31)
    assert best([trusted, other]) is trusted
    assert best([None, other, trusted]) is trusted


def test_of_equals_the_first_counts() -> None:
    assert best([kerf(Basis.MEASURED, 0.29), kerf(Basis.MEASURED, 0.31)]) == kerf(Basis.MEASURED, 0.29)


def test_nothing_known_is_no_figure() -> None:
    assert best([]) is None
    assert best([None, None]) is None


def test_figures_of_two_units_are_not_for_one_thing() -> None:
    with pytest.raises(OutOfRange, match="one figure is given in g/cm3 and mm"):
        best([kerf(Basis.TABLE), kerf(Basis.MEASURED, unit="g/cm3")])


def test_a_length_is_shown_in_inches_and_a_plain_number_is_not() -> None:
    assert kerf(Basis.TABLE, 25.4).inches == 1.0
    assert kerf(Basis.TABLE, 4.2, unit="").inches is None


@pytest.mark.parametrize(
    ("ends", "words"),
    [
        ({"low": 0.29}, "the kerf of 0.28 is outside its own band from 0.29 to 0.28"),
        ({"low": 0.2, "high": 0.27}, "the kerf of 0.28 is outside its own band from 0.2 to 0.27"),
        ({"high": 0.3}, "the band of the kerf has no low end"),
    ],
)
def test_a_band_that_does_not_hold_its_value_is_refused(ends: dict[str, float], words: str) -> None:
    with pytest.raises(OutOfRange, match=words):
        kerf(Basis.TABLE, **ends)


def test_a_band_may_be_open_above() -> None:
    assert kerf(Basis.TABLE, low=0.26).high is None


@pytest.mark.parametrize("bad", [math.nan, math.inf])
def test_a_figure_that_is_not_a_number_is_refused(bad: float) -> None:
    with pytest.raises((OutOfRange, QuantityRefused), match="kerf"):
        kerf(Basis.TABLE, bad)
    with pytest.raises((OutOfRange, QuantityRefused), match="kerf"):
        kerf(Basis.TABLE, low=bad)
