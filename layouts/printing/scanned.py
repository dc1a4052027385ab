"""A printer's record from a scan of its printer-check sheet."""

from __future__ import annotations

from typing import TYPE_CHECKING

from layouts.pages.paper import Paper
from layouts.printing.printer import Diagonals, InkPair, Printer, Reading

if TYPE_CHECKING:
    from layouts.scanning.reading import Scan

_PLACES = 4  # of a millimetre


def record_of(scan: Scan, *, name: str, stock: str, date: str, sheet: str, paper: Paper) -> Printer:
    """The printer as measured. Refuses (`OutOfRange`) what a printer cannot be."""
    (across_mm, along_mm), (wide, high), fit = scan.lengths_mm, scan.target.span_mm, scan.fit
    (rising, falling), (black, white) = scan.diagonals_mm, scan.ring_mm
    return Printer(
        name=name,
        stock=stock,
        instrument=scan.instrument,
        across=Reading(length_mm=across_mm, read_mm=round(across_mm * fit.across, _PLACES)),
        along=Reading(length_mm=along_mm, read_mm=round(along_mm * fit.along, _PLACES)),
        diagonals=Diagonals(
            across_mm=round(wide, _PLACES),
            along_mm=round(high, _PLACES),
            rising_mm=round(rising, _PLACES),
            falling_mm=round(falling, _PLACES),
        ),
        ink=(InkPair(black_mm=round(black, _PLACES), white_mm=round(white, _PLACES)),),
        date=date,
        sheet=sheet,
        paper=paper.name,
        landscape=paper.landscape,
    )
