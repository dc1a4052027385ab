"""The report of a printer worked by hand: what a person reads, figure by figure."""

from __future__ import annotations

import pytest

from jigs.reports.as_text import as_text
from jigs.reports.printer import printer_report
from layouts.printing.keeping import on_corrected_sheet
from layouts.printing.printer import Diagonals, InkPair, Printer, Reading


def lines(text: str) -> list[str]:
    """The lines with single spaces between words: how wide a column is, is for other tests."""
    return [" ".join(line.split()) for line in text.splitlines() if line.strip()]


def test_a_printer_as_measured_and_what_its_sheets_are_good_for() -> None:
    """Rule: 0.3 + 0.2 mm a metre, so 0.5 / sqrt(3) / 150 = 0.19245 %; ends sqrt(2) 0.25 / sqrt(3) = 0.204124 mm, over
    150 mm 0.13608 %; k = 2: 0.4714 %. Of 200 mm three quarters of that. Skew: (250.5^2 - 249.5^2) / (4 x 149.6 x 200.3)
    = 0.0041715, 0.2390 degrees; sqrt(2) 250 x 0.204124 / (2 x 150 x 200) = 0.00120281, k = 2 0.1378 degrees. Ink: a
    quarter of 0.4; sqrt(2) 0.204124 / 4 = 0.0721688. Of 5 mm: 0.011785, 0.003007, 5 x 0.0005 / sqrt(3) = 0.001443, 2 x
    0.0721688 and 2 x 0.02 / sqrt(3) = 0.023094; the root of their squares' sum is 0.146686. The others alike; no ink
    between lines.
    """
    printer = Printer(
        name="office",
        tray="plain",
        instrument="rule",
        across=Reading(length_mm=150.0, read_mm=149.6),
        along=Reading(length_mm=200.0, read_mm=200.3),
        diagonals=Diagonals(across_mm=150.0, along_mm=200.0, rising_mm=250.5, falling_mm=249.5),
        ink=(InkPair(black_mm=1.2, white_mm=0.8),),
        date="2026-11-20",
        sheet="printer-check 2",
        paper="a4",
    )
    assert (
        as_text(printer_report(printer), 120)
        == """\
office on plain
measured        2026-11-20
with            a steel rule without a class
its error       taken for EU/UK class II; read by eye: common practice, no source
from the sheet  printer-check 2 a4

Printed over true
way     true, mm  read, mm  factor  ± (k = 2)
across       150     149.6  0.9973     0.0047
along        200     200.3  1.0015     0.0035

skew       +0.239 degrees
± (k = 2)  0.138 degrees

ink, an edge  +0.100 mm
± (k = 2)     0.144 mm

The terms of the factors (k = 1)
way     term                                       %
across  a steel rule without a class, ±0.5 mm  0.192
across  both ends read to ±0.25 mm             0.136
along   a steel rule without a class, ±0.5 mm  0.144
along   both ends read to ±0.25 mm             0.102

What a corrected sheet is good for (k = 2)
what                  ±, mm
5 mm disc             0.293
10 mm disc            0.296
100 mm, line to line  0.490

The terms of each (k = 1)
what                  term                                          mm
5 mm disc             scale                                      0.012
5 mm disc             skew                                       0.003
5 mm disc             paper, ±0.05 %                             0.001
5 mm disc             ink spread                                 0.144
5 mm disc             ink from sheet to sheet, ±0.02 mm an edge  0.023
10 mm disc            scale                                      0.024
10 mm disc            skew                                       0.006
10 mm disc            paper, ±0.05 %                             0.003
10 mm disc            ink spread                                 0.144
10 mm disc            ink from sheet to sheet, ±0.02 mm an edge  0.023
100 mm, line to line  scale                                      0.236
100 mm, line to line  skew                                       0.060
100 mm, line to line  paper, ±0.05 %                             0.029"""
    )


def test_readings_of_a_corrected_sheet_that_is_true_say_what_the_record_says() -> None:
    """A rectangle of 150 x 200 mm has diagonals of 250; printed at 0.99 across and 1.01 along, by hand,
    sqrt(148.5^2 + 202^2) = 250.711.
    """

    def printer(across: float, along: float, diagonal: float) -> Printer:
        return Printer(
            name="office",
            tray="plain",
            instrument="rule",
            across=Reading(length_mm=150.0, read_mm=across),
            along=Reading(length_mm=200.0, read_mm=along),
            diagonals=Diagonals(across_mm=150.0, along_mm=200.0, rising_mm=diagonal, falling_mm=diagonal),
        )

    found = on_corrected_sheet(printer(150.0, 200.0, 250.0), printer(148.5, 202.0, 250.711))
    assert (found.across.read_mm, found.along.read_mm) == pytest.approx((148.5, 202.0))
    assert found.diagonals is not None
    assert (found.diagonals.rising_mm, found.diagonals.falling_mm) == pytest.approx((250.711, 250.711), abs=5e-4)
