"""Saw blades and their kerfs."""

from __future__ import annotations

import pytest

from jigs.stock.blade import Blade, blades, find_blade
from layouts.errors import OutOfRange, UnknownName


@pytest.mark.parametrize(
    ("size", "thick", "wide", "teeth"),
    [
        ("8/0", 0.16, 0.32, 89),
        ("6/0", 0.18, 0.35, 76),
        ("2/0", 0.26, 0.52, 56),
        ("2", 0.34, 0.70, 43),
        ("8", 0.50, 1.15, 28),
    ],
)
def test_a_blade_has_the_sizes_of_the_table(size: str, thick: float, wide: float, teeth: float) -> None:
    # From memory; makers differ by 0.01-0.03 mm.
    blade = find_blade(size)
    assert (blade.thickness_mm, blade.width_mm, blade.teeth_per_inch) == (thick, wide, teeth)


def test_the_teeth_of_6_0_are_the_published_thirty_to_a_centimetre() -> None:
    assert find_blade("6/0").teeth_per_inch == pytest.approx(30 * 2.54, abs=0.5)


@pytest.mark.parametrize("blade", blades(), ids=lambda b: b.name)
def test_a_kerf_is_two_hundredths_wider_than_the_blade_until_measured(blade: Blade) -> None:
    assert blade.kerf_mm == pytest.approx(blade.thickness_mm + 0.02)
    assert blade.kerf_words == "thickness + 0.02 mm, common practice, no source (0.01-0.03 mm seen)"


def test_a_measured_kerf_replaces_the_common_one_and_says_so() -> None:
    blade = find_blade("2").with_kerf(0.37)
    assert (blade.kerf_mm, blade.kerf.words) == (0.37, "measured")
    assert blade.thickness_mm == 0.34


def test_coarser_blades_are_thicker_and_wider_with_fewer_teeth() -> None:
    for finer, coarser in zip(blades(), blades()[1:], strict=False):
        assert finer.thickness_mm < coarser.thickness_mm
        assert finer.width_mm < coarser.width_mm
        assert finer.teeth_per_inch > coarser.teeth_per_inch


@pytest.mark.parametrize(("typed", "name"), [("2", "2"), ("#2", "2"), (" 4/0 ", "4/0"), ("0", "1/0")])
def test_a_blade_is_found_by_its_size(typed: str, name: str) -> None:
    assert find_blade(typed).name == name


def test_an_unknown_blade_is_refused_with_the_known_sizes() -> None:
    with pytest.raises(UnknownName, match=r"no saw blade is called '9/0'; known: .*8/0"):
        find_blade("9/0")


def test_a_kerf_under_the_thickness_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"a kerf of 0\.3 mm is under the 0\.34 mm of blade 2; measure the cut again"):
        find_blade("2").with_kerf(0.3)


@pytest.mark.parametrize("kerf", [float("nan"), float("inf"), 0.0, -0.2])
def test_a_kerf_that_is_no_length_is_refused(kerf: float) -> None:
    with pytest.raises(OutOfRange, match=r"kerf is"):
        find_blade("2").with_kerf(kerf)


def test_a_kerf_over_twice_the_blade_is_a_slip_and_refused() -> None:
    """28 mm typed for 0.28 mm would be planned, and spoil the wire. Blade 2/0 is 0.26 mm thick."""
    assert find_blade("2/0").with_kerf(0.52).kerf_mm == 0.52
    with pytest.raises(OutOfRange, match=r"a kerf of 28 mm is over 2 times the 0.26 mm of blade 2/0; measure the cut"):
        find_blade("2/0").with_kerf(28)
