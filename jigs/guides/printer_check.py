"""The sheet `printer-check`: the check sheet of printing, among the bench's own."""

from __future__ import annotations

from jigs.guides.catalogue import Made, Sheet
from layouts.printing.check_sheet import printer_check

SHEET = Sheet(
    name="printer-check",
    summary="Rulers, base lines and a card outline: is this printer true?",
    about=(
        "Rulers, long base lines, a bank card's outline and ink bars, to see whether a print is true.",
        "One page on any paper. A5 has room for the rulers, the base lines, the card and the marks for a scan alone.",
    ),
    fields=(),
    build=lambda: Made(content=printer_check()),
    examples=({}, {"paper": "letter", "landscape": True}, {"paper": "a3", "format": "pdf,png"}),
    place=10,
    use="is this printer true? Print it first",
    demo={},
)
