"""What a sheet says of how far it can be trusted: the printer's record, and what each gauge is good for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import TYPE_CHECKING

from layouts.pages.page import Gauge
from layouts.showing import show_number

if TYPE_CHECKING:
    from layouts.printing.printer import Printer

CALIPER_SHARE = 0.02  # a size to be held closer than this share of itself wants a caliper (common practice, no source)


def good_for(gauges: Sequence[Gauge], printer: Printer) -> tuple[str, ...]:
    """The notes for a corrected sheet with these gauges: what each is good for (k = 2), and where a caliper is needed.

    Of a sheet that is not corrected it is not known.
    """
    if not gauges:
        return ()
    caliper = _caliper_note(sorted(gauges, key=lambda gauge: gauge.size_mm), printer)
    return f"Good for (k = 2): {'; '.join(_bands(gauges, printer))}.", *caliper


def _bands(gauges: Sequence[Gauge], printer: Printer) -> Iterator[str]:
    """'5.0 mm disc: ±0.08 mm', or '3.0 to 4.5 mm disc: ±0.08 mm' for all sizes of a kind that share a figure."""
    in_order = sorted(gauges, key=lambda gauge: (gauge.name, gauge.size_mm))
    for (name, good), group in groupby(in_order, key=lambda gauge: (gauge.name, printer.good_for_mm(gauge.size_mm))):
        sizes = [gauge.size_mm for gauge in group]
        least, most = (show_number(size, least=1) for size in (sizes[0], sizes[-1]))
        yield f"{least if least == most else f'{least} to {most}'} mm {name}: ±{good:.2f} mm"


def _caliper_note(gauges: Sequence[Gauge], printer: Printer) -> Iterator[str]:
    """Where the tolerance asked for is less than the gauge can show, or under 2 % of the size."""
    beyond = [gauge for gauge in gauges if 0 < gauge.tolerance_mm < _least_mm(gauge, printer)]
    if beyond:
        least, most = (show_number(gauge.size_mm, least=1) for gauge in (beyond[0], beyond[-1]))
        sizes = least if least == most else f"{least} to {most}"
        asked = min(gauge.tolerance_mm for gauge in beyond)
        yield f"Use a caliper for {sizes} mm: ±{asked:g} mm is closer than a printed gauge can be trusted."


def _least_mm(gauge: Gauge, printer: Printer) -> float:
    return max(CALIPER_SHARE * gauge.size_mm, printer.good_for_mm(gauge.size_mm))
