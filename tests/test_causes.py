"""Settings or printer: every ratio that a setting leaves has its true cause among the candidates."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from layouts.printing.causes import alike, causes, settings_behind

# Ratios that mean settings, not the printer (computed).
RATIOS = [
    (0.973, "a letter page fitted on A4"),
    (210 / 215.9, "a letter page fitted on A4"),
    (0.941, "an A4 page fitted on letter"),
    (279.4 / 297, "an A4 page fitted on letter"),
    (0.934, "a page fitted to the printable area"),
    (0.950, "a page fitted to the printable area"),
    (0.961, "a page fitted to the printable area"),
    (0.9375, "90 taken for 96 dots an inch (SVG)"),
    (90 / 96, "90 taken for 96 dots an inch (SVG)"),
    (0.75, "72 taken for 96 dots an inch (SVG)"),
    (1.25, "a zoom left at 125 %"),
    # Common practice, no source: an equal enlargement is no printer's.
    (1.01, "borderless, which enlarges the page"),
    (1.03, "borderless, which enlarges the page"),
    (1.04, "a zoom over 100 %"),
    (1.1, "a zoom over 100 %"),
]


@pytest.mark.parametrize(("ratio", "cause"), RATIOS)
@pytest.mark.parametrize("off", [0.9965, 1.0, 1.0035])
def test_every_known_ratio_has_its_true_cause_in_the_list(ratio: float, cause: str, off: float) -> None:
    assert cause in [found.words for found in settings_behind(ratio * off, ratio * off)]


@pytest.mark.parametrize(("ratio", "cause"), RATIOS)
def test_beyond_four_thousandths_a_ratio_has_another_cause_or_none(ratio: float, cause: str) -> None:
    (row,) = [found for found in causes() if found.words == cause]
    assert not row.fits(row.low * 0.9959)
    assert not row.fits(row.high * 1.0041)


def test_several_causes_are_listed_the_nearest_first() -> None:
    words = [cause.words for cause in settings_behind(0.9385, 0.9385)]
    assert len(words) == 3
    assert words[0] == "a page fitted to the printable area"  # it lies within
    assert words[1] == "90 taken for 96 dots an inch (SVG)"  # 0.0010 off, and A4 on letter 0.0025


def test_the_printer_itself_is_no_setting() -> None:
    assert settings_behind(1.001, 0.999) == ()
    assert [cause.words for cause in causes() if not cause.change] == ["the printer itself (the two ways differ)"]


@given(st.floats(0.966, 0.968), st.floats(0.98, 1.0055))
def test_a_ratio_far_from_all_has_no_cause(between: float, above: float) -> None:
    assert settings_behind(between, between) == ()
    assert settings_behind(above, above) == ()


def test_a_cause_must_fit_both_ways() -> None:
    assert settings_behind(0.973, 0.999) == ()


@pytest.mark.parametrize(("across", "along", "agree"), [(0.973, 0.9755, True), (0.973, 0.977, False), (1.0, 1.0, True)])
def test_a_setting_changes_both_ways_alike(across: float, along: float, agree: bool) -> None:
    assert alike(across, along) is agree
    assert alike(along, across) is agree


def test_every_setting_says_what_to_change() -> None:
    assert all(cause.change for cause in causes() if "printer itself" not in cause.words)


def test_the_two_that_enlarge_are_not_on_the_printer_check_sheet() -> None:
    left_out = [cause.words for cause in causes() if not cause.on_sheet]
    assert left_out == ["a zoom over 100 %", "borderless, which enlarges the page"]
