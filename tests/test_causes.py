"""Settings or printer: every ratio that a setting leaves has its true cause among the candidates."""

from __future__ import annotations

import pytest

from layouts.printing.causes import alike, causes, fits, is_setting, settings_behind

# What real print paths did, by the paper of the sheet: CUPS 2.4 with driverless queues of margins from 3 to 12.7 mm,
# and a document viewer at its defaults (measured). Zoom and dots an inch: computed. Enlargements: common practice.
RATIOS = [
    *(("a4", ratio, "an A4 page fitted on letter") for ratio in (0.855, 0.898, 0.907, 0.912, 0.914, 0.921)),
    ("a4", 0.968, "an A4 page fitted on letter, filling it"),
    *(("letter", ratio, "a letter page fitted on A4") for ratio in (0.913, 0.926, 0.933, 0.941, 0.945)),
    *(("a4", ratio, "a page fitted to the printable area") for ratio in (0.915, 0.952, 0.957, 0.960, 0.968, 0.971)),
    ("a4", 0.939, "a page made to fill the printable area"),
    ("a4", 0.9813, "a page made to fill the printable area"),
    *(("letter", ratio, "a page fitted to the printable area") for ratio in (0.909, 0.954, 0.961, 0.9685, 0.972)),
    *((paper, 0.707, "two pages on one sheet") for paper in ("a4", "letter")),
    ("a4", 90 / 96, "90 taken for 96 dots an inch (SVG)"),
    ("a4", 72 / 96, "72 taken for 96 dots an inch (SVG)"),
    ("a4", 1.25, "a zoom left at 125 %"),
    ("a4", 1.01, "borderless, which enlarges the page"),
    ("letter", 1.03, "borderless, which enlarges the page"),
    ("a4", 1.04, "a zoom over 100 %"),
    ("a4", 1.1, "a zoom over 100 %"),
]


@pytest.mark.parametrize(("paper", "ratio", "cause"), RATIOS)
def test_every_known_ratio_has_its_true_cause_in_the_list(paper: str, ratio: float, cause: str) -> None:
    assert cause in [found.words for found in settings_behind(ratio, ratio, paper)]


def test_what_fits_do_is_computed_from_the_paper_and_its_margins() -> None:
    # A4 is 210 x 297 mm, letter 215.9 x 279.4 mm. Fitted with 3 mm: (210 - 6) / 210; on letter (279.4 - 6) / 297.
    found = {cause.words: (cause.low, cause.high) for cause in fits("a4")}
    assert found["a page fitted to the printable area"] == pytest.approx((184 / 210, 204 / 210))
    assert found["an A4 page fitted on letter"] == pytest.approx((253.4 / 297, 273.4 / 297))
    assert found["an A4 page fitted on letter, filling it"] == pytest.approx((189.9 / 210, 209.9 / 210))


@pytest.mark.parametrize("paper", ["a4", "letter", "a5", "a3", "legal", ""])
def test_nobody_is_told_to_make_a_sheet_as_it_is(paper: str) -> None:
    for ratio in (0.86, 0.91, 0.94, 0.955, 0.968, 0.9813):
        for cause in settings_behind(ratio, ratio, paper):
            if paper:
                assert f"make the sheet for {paper.upper() if paper[0] == 'a' else paper}," not in cause.change


@pytest.mark.parametrize(
    ("across", "along", "uncertainty", "expected"),
    [
        (0.9813, 0.9813, 0.001, True),
        (0.9676, 0.9676, 0.001, True),
        (0.9925, 0.9925, 0.0, True),  # no setting is known that does it
        (0.9925, 0.9962, 0.0, False),  # one way is off by less than half a per cent
        (0.985, 0.990, 0.002, False),  # they differ by more than can be read wrong
        (0.985, 0.990, 0.008, True),
        (0.997, 0.997, 0.01, False),
        (1.02, 1.02, 0.0, True),
    ],
)
def test_a_setting_is_alike_both_ways_and_off_by_more_than_half_a_per_cent(
    across: float, along: float, uncertainty: float, expected: bool
) -> None:
    assert is_setting(across, along, uncertainty) is expected


def test_the_paper_s_own_fit_is_named_before_another_paper_s() -> None:
    words = [cause.words for cause in settings_behind(0.915, 0.915, "a4")]
    assert words[0] == "a page fitted to the printable area"
    assert "an A4 page fitted on letter" in words
    assert "a letter page fitted on A4" not in words


def test_the_printer_itself_is_no_setting() -> None:
    assert settings_behind(1.001, 0.999) == ()
    assert [cause.words for cause in causes() if not cause.change] == ["the printer itself (the two ways differ)"]


def test_a_cause_must_fit_both_ways() -> None:
    assert settings_behind(0.973, 0.999) == ()


@pytest.mark.parametrize(("across", "along", "agree"), [(0.973, 0.9755, True), (0.973, 0.977, False), (1.0, 1.0, True)])
def test_a_setting_changes_both_ways_alike(across: float, along: float, agree: bool) -> None:
    assert alike(across, along) is agree
    assert alike(along, across) is agree


def test_every_setting_says_what_to_change() -> None:
    assert all(cause.change for cause in causes() if "printer itself" not in cause.words)


def test_three_are_not_on_the_printer_check_sheet() -> None:
    left_out = [cause.words for cause in causes() if not cause.on_sheet]
    assert left_out == ["a zoom over 100 %", "borderless, which enlarges the page", "two pages on one sheet"]
