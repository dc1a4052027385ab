"""What speaks against keeping a record, and readings of sheets that were corrected already."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from printing import Press, measured

from layouts.pages.paper import find_paper
from layouts.printing.keeping import doubts, objection, on_corrected_sheet
from layouts.printing.printer import Diagonals, InkPair, Printer, Reading

OLD = measured(Press(across=0.985, along=1.004, skew_deg=0.2, spread_mm=0.05))


def by(tool: str, across: float, along: float, *, date: str = "2026-11-25") -> Printer:
    return Printer(
        name=OLD.name,
        tray=OLD.tray,
        instrument=tool,
        across=Reading(length_mm=150.0, read_mm=150.0 * across),
        along=Reading(length_mm=200.0, read_mm=200.0 * along),
        date=date,
        paper="a4",
    )


@pytest.mark.parametrize("ratio", [0.9813, 0.9676, 0.992, 1.012])
@pytest.mark.parametrize("tool", ["rule", "loupe", "caliper", "scan-card"])
def test_both_ways_alike_and_off_are_never_saved_unasked(ratio: float, tool: str) -> None:
    refusal = objection(by(tool, ratio, ratio + 0.0002))
    assert refusal is not None
    assert "the sign of a print setting" in str(refusal)


def test_a_printer_that_is_itself_off_is_saved() -> None:
    assert objection(by("loupe", 0.985, 1.004)) is None
    assert objection(by("loupe", 0.9975, 0.9978)) is None


def test_a_record_of_lower_trust_does_not_replace_a_better_one() -> None:
    good, poor = by("loupe", 0.985, 1.004), by("card", 0.985, 1.004)
    refusal = objection(poor, good)
    assert refusal is not None
    assert "as the record of" in str(refusal)
    assert "by a bank card" in str(refusal)
    assert objection(good, poor) is None
    assert objection(replace(poor, date="2027-03-25"), good) is None  # by then the better one is stale


def test_a_record_that_knows_less_does_not_replace_one_that_knows_the_skew() -> None:
    full = replace(
        by("loupe", 0.985, 1.004),
        diagonals=Diagonals(across_mm=150, along_mm=200, rising_mm=250.2, falling_mm=249.9),
        ink=(InkPair(black_mm=1.1, white_mm=0.9),),
    )
    refusal = objection(by("loupe", 0.985, 1.004), full)
    assert refusal is not None
    assert "the record knows its skew and its ink spread, and these readings do not" in str(refusal)


def test_readings_of_one_do_not_overwrite_a_record_that_says_otherwise() -> None:
    refusal = objection(by("loupe", 1.0001, 0.9999), by("loupe", 0.985, 1.004))
    assert refusal is not None
    assert "a corrected sheet reads so" in str(refusal)
    assert objection(by("loupe", 1.0001, 0.9999), by("loupe", 1.0005, 0.9999)) is None


def test_what_is_read_off_a_corrected_sheet_is_composed_with_the_record_it_was_made_by() -> None:
    """By hand: 0.985 x 1.002 across, 1.004 x 0.999 along; the ink 0.05 + 0.01 an edge."""
    old = replace(by("loupe", 0.985, 1.004), ink=(InkPair(black_mm=1.1, white_mm=0.9),))
    rest = replace(by("loupe", 1.002, 0.999), ink=(InkPair(black_mm=1.02, white_mm=0.98),))
    new = on_corrected_sheet(rest, old)
    assert new.across_factor == pytest.approx(0.985 * 1.002)
    assert new.along_factor == pytest.approx(1.004 * 0.999)
    assert new.spread_mm == pytest.approx(0.06)
    assert new.diagonals is None


@pytest.mark.parametrize("landscape", [False, True])
def test_composing_undoes_the_correction_whatever_the_printer(landscape: bool) -> None:
    truth = measured(Press(across=0.987, along=1.002, skew_deg=0.35))
    paper = find_paper("a4", landscape=landscape)
    left = truth.distortion(landscape=landscape).after(OLD.correction(paper))
    across, along = math.hypot(left.a, left.b), math.hypot(left.c, left.d)
    lean = (left.a * left.c + left.b * left.d) / (across * along)  # between the sides, however the sheet is turned
    wide, high = 150 * across, 200 * along
    seen = Diagonals(
        across_mm=150,
        along_mm=200,
        rising_mm=(wide**2 + high**2 + 2 * wide * high * lean) ** 0.5,
        falling_mm=(wide**2 + high**2 - 2 * wide * high * lean) ** 0.5,
    )
    read = replace(by("loupe", across, along), diagonals=seen, landscape=landscape)
    new = on_corrected_sheet(read, OLD)
    assert new.across_factor == pytest.approx(truth.across_factor, abs=5e-5)
    assert new.along_factor == pytest.approx(truth.along_factor, abs=5e-5)
    assert new.skew_deg * (-1 if landscape else 1) == pytest.approx(truth.skew_deg, abs=0.01)


def test_a_correction_smaller_than_its_own_uncertainty_says_so() -> None:
    assert "both corrections of size are smaller than" in " ".join(doubts(by("rule", 1.0005, 0.9995)))
    assert "the correction along is smaller than" in " ".join(doubts(by("rule", 0.985, 0.9995)))
    assert "smaller" not in " ".join(doubts(by("loupe", 0.985, 1.01)))
