"""What a sheet says of how far it can be trusted: the printer's record, and what each gauge is good for."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from typing import TYPE_CHECKING

from layouts.lengths import are_inches, sized, sized_each
from layouts.pages.page import Sized
from layouts.showing import show_number

if TYPE_CHECKING:
    from layouts.printing.printer import Printer

CALIPER_SHARE = 0.02  # a size to be held closer than this share of itself wants a caliper (common practice, no source)


def good_for(gauges: Sequence[Sized], printer: Printer) -> tuple[str, ...]:
    """The notes for a corrected sheet with these gauges: what each is good for (k = 2), and where a caliper is needed.

    Of a sheet that is not corrected it is not known.
    """
    if not gauges:
        return ()
    bands = []  # "5.0 mm disc: ±0.08 mm", or "3.0 to 4.5 mm disc: ±0.08 mm" for sizes of a kind that share a figure
    in_order = sorted(gauges, key=lambda gauge: (gauge.name, gauge.size_mm))
    for (name, good), group in groupby(in_order, key=lambda gauge: (gauge.name, printer.good_for_mm(gauge.size_mm))):
        sizes = _span([gauge.size_mm for gauge in group])
        bands.append(f"{sizes} {name}: ±{sized(good, 2)}")
    notes = [f"Good for (k = 2): {'; '.join(bands)}."]
    beyond = [
        gauge
        for gauge in sorted(gauges, key=lambda gauge: gauge.size_mm)
        if 0 < gauge.tolerance_mm < max(CALIPER_SHARE * gauge.size_mm, printer.good_for_mm(gauge.size_mm))
    ]
    if beyond:
        sizes, asked = _span([gauge.size_mm for gauge in beyond]), min(gauge.tolerance_mm for gauge in beyond)
        notes.append(f"Use a caliper for {sizes}: ±{sized(asked)} is closer than a printed gauge can be trusted.")
    return tuple(notes)


def _span(sizes_mm: Sequence[float]) -> str:
    """Sizes in order as '5.0 mm', or '3.0 to 4.5 mm'."""
    ends = list(dict.fromkeys((sizes_mm[0], sizes_mm[-1])))
    if are_inches():
        return sized_each(" to ".join("{}" for _ in ends), ends, 1)
    return f"{' to '.join(dict.fromkeys(show_number(size, least=1) for size in ends))} mm"
