"""A slice of the laws by which scans are tried; the whole of them run as scripts, scan_faults and scan_bends."""

from __future__ import annotations

import math

import pytest
import scan_bends
import scan_faults

from layouts.printing.printer import Printer


@pytest.mark.parametrize("number", range(8))
def test_a_faulty_picture_is_refused_or_read_within_what_is_stated(number: int) -> None:
    kind, share, why = scan_faults.outcome("faulty", number)
    assert share <= 1, f"{kind}: {why}"


@pytest.mark.parametrize("number", range(4))
def test_a_fair_picture_is_read_within_what_is_stated(number: int) -> None:
    kind, share, why = scan_faults.outcome("fair", number)
    assert 0 <= share <= 1, f"{kind}: {why}"


def test_the_comparison_of_a_picture_with_the_truth_can_fail() -> None:
    printer = scan_bends.record(0.01)
    press = scan_faults.Press(across=1.003)
    assert scan_faults.over_stated(printer, press)[0] > 1


def test_what_is_stated_of_a_bent_sheet_holds() -> None:
    held, median = scan_bends.figures(scan_bends.FIRST_SEED, 120)
    assert held > 0.9
    assert median < 2


def test_good_for_grows_with_what_the_fit_leaves() -> None:
    """C: 2 sqrt(a^2 + (0.02^2 + (1.8 x 0.05)^2)) of 100 mm, a the standard uncertainty without any bend."""

    def stated(residual_mm: float | None) -> float:
        printer: Printer = scan_bends.record(residual_mm)
        return printer.budget(100, edges=0).expanded

    bend = 2 * math.hypot(0.02, 1.8 * 0.05)
    assert stated(0.05) == pytest.approx(math.hypot(stated(None), bend))
