"""The command `sheet printer-check`."""

from __future__ import annotations

import click

from jigs.cli.output import SheetOptions, deliver, sheet_options


@click.command("printer-check")
@sheet_options
def command(sheet: SheetOptions) -> None:
    """Rulers, long base lines, a bank card's outline and ink bars, to see whether a print is true.

    \b
      coilwright sheet printer-check
      coilwright sheet printer-check --paper letter --landscape
      coilwright sheet printer-check --paper a3 --format pdf,png

    One page on any paper. A5 has room for the rulers, the base lines, the card and the marks for a scan alone.
    """
    from layouts.printing.check_sheet import printer_check

    deliver(printer_check(), "printer-check", sheet)
