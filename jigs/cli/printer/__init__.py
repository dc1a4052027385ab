"""The command `printer`: measure a printer once, and every later sheet comes out true."""

from __future__ import annotations

from jigs.cli.lazy import LazyGroup

command = LazyGroup(
    name="printer",
    package="jigs.cli.printer",
    commands={
        "measure": "Record a printer from the lengths that you read off its printer-check sheet.",
        "scan": "Record a printer from a scan of its printer-check sheet.",
        "list": "Every printer that has been measured.",
        "show": "One printer: what was read, its factors, and how far to trust them.",
        "default": "Choose the printer that sheets are made for when none is named.",
        "forget": "Delete a printer's record.",
    },
    help="""Measure a printer once, and every later sheet comes out true.

\b
  coilwright sheet printer-check
  coilwright printer measure office --tray "plain 80 g"
  coilwright sheet ring-card --wire "16 AWG" --inside "5 mm" --printer office

A printer is known by its name and by what lies in its tray: card feeds shorter than paper.
""",
)
