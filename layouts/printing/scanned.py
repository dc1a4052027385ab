"""A printer's record from a scan of its printer-check sheet."""

from __future__ import annotations

import math
from statistics import fmean
from typing import TYPE_CHECKING

from layouts.pages.paper import Paper
from layouts.printing.printer import Diagonals, InkPair, Printer, Reading

if TYPE_CHECKING:
    from layouts.scanning.ink import Ink
    from layouts.scanning.reading import Scan
    from layouts.scanning.reversal import Turned

_PLACES = 4  # of a millimetre
_PAIR_MM = 1.0  # the bar and the gap that are recorded as the ink leaves them
OTHER_WAY = "scan-other-way"  # the instrument of the way that a rule does not lie


def record_of(
    found: Scan | Turned, *, name: str, tray: str, date: str, sheet: str, paper: Paper, ink: Ink | None = None
) -> Printer:
    """The printer as measured; its ink where that was read. Refuses (`OutOfRange`) what a printer cannot be."""
    scan = found.pictures[0]
    (wide, high), fit, pairs = scan.target.span_mm, found.fit, tuple[InkPair, ...]()
    if ink:
        black, white = (round(_PAIR_MM + sign * 2 * ink.spread_mm, _PLACES) for sign in (1, -1))
        pairs = (InkPair(black_mm=black, white_mm=white, edge_mm=math.ceil(ink.edge_mm * 1000) / 1000),)
    rising, falling = found.diagonals_mm
    instrument, across, along = _sized_by(found)
    readings = (
        Reading(length_mm=round(length, _PLACES), read_mm=round(length * ratio, _PLACES), instrument=by)
        for (length, by), ratio in zip((across, along), (fit.across, fit.along), strict=True)
    )
    return Printer(
        name=name,
        tray=tray,
        instrument=instrument,
        **dict(zip(("across", "along"), readings, strict=True)),
        diagonals=Diagonals(
            across_mm=round(wide, _PLACES),
            along_mm=round(high, _PLACES),
            rising_mm=round(rising, _PLACES),
            falling_mm=round(falling, _PLACES),
        ),
        ink=pairs,
        date=date,
        sheet=sheet,
        paper=paper.name,
        landscape=paper.landscape,
        # Not 0, which is refused where a length is read: a record must be readable again.
        residual_mm=max(round(fmean(each.seen.rms_mm for each in found.pictures), _PLACES), 10**-_PLACES),
    )


_Size = tuple[float, str]  # a length in mm, and the instrument of this way where it is not that of the record


def _sized_by(found: Scan | Turned) -> tuple[str, _Size, _Size]:
    """The instrument, and what sets the size of each way.

    A card sets both ways of a scanner by its own sides; a rule its own way, and nothing is known of the other. After
    reversal the two ways are one, and all sides together set the size: as one side of the root of their squares' sum.
    """
    first = found.pictures[0]
    (wide, high), yardstick = first.target.span_mm, first.yardstick
    if len(found.pictures) > 1:
        known = {scan.yardstick.name: scan.yardstick for scan in found.pictures if scan.yardstick}
        if not known:
            return "scan-turned", (wide, ""), (high, "")
        name, yardstick = min(known.items())  # the same card twice is one yardstick: it is off by the same in both
        length = math.hypot(*(side.true_mm for side in yardstick.sides))
        return f"scan-turned-{name}", (length, ""), (length, "")
    if yardstick is None:
        return "scan", (wide, ""), (high, "")
    if len(yardstick.sides) == 1:
        return "scan-rule", (yardstick.sides[0].true_mm, ""), (high, OTHER_WAY)
    across, along = (side.true_mm for side in yardstick.sides)
    return f"scan{'' if yardstick.is_sure else '-pale'}-card", (across, ""), (along, "")
