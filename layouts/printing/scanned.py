"""A printer's record from a scan of its printer-check sheet."""

from __future__ import annotations

from typing import TYPE_CHECKING

from layouts.pages.paper import Paper
from layouts.printing.printer import Diagonals, InkPair, Printer, Reading

if TYPE_CHECKING:
    from layouts.scanning.reading import Scan

_PLACES = 4  # of a millimetre
OTHER_WAY = "scan-other-way"  # the instrument of the way that a rule does not lie


def record_of(scan: Scan, *, name: str, stock: str, date: str, sheet: str, paper: Paper) -> Printer:
    """The printer as measured. Refuses (`OutOfRange`) what a printer cannot be."""
    (wide, high), fit = scan.target.span_mm, scan.fit
    (rising, falling), (black, white) = scan.diagonals_mm, scan.ring_mm
    yardstick = scan.yardstick
    instrument = f"scan-{yardstick.name}" if yardstick else "scan"
    # A card sets both ways of the scanner by its own sides; a rule its own way, and nothing else is known of the other.
    lengths = [side.true_mm for side in yardstick.sides] if yardstick else [wide, high]
    other = OTHER_WAY if len(lengths) == 1 else ""
    lengths = [lengths[0], high] if other else lengths
    readings = [
        Reading(length_mm=round(length, _PLACES), read_mm=round(length * ratio, _PLACES), instrument=by)
        for length, ratio, by in zip(lengths, (fit.across, fit.along), ("", other), strict=True)
    ]
    return Printer(
        name=name,
        stock=stock,
        instrument=instrument,
        across=readings[0],
        along=readings[1],
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
