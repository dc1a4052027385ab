"""The command `sheet ruler`."""

from __future__ import annotations

import click

from jigs.cli.output import SheetOptions, deliver, sheet_options
from jigs.cli.quantities import LENGTH


@click.command("ruler")
@click.option(
    "--length", type=LENGTH, default="150 mm", metavar="LENGTH", show_default=True, help="Of its scale; up to 3 m."
)
@sheet_options
def command(length: float, sheet: SheetOptions) -> None:
    """A ruler to cut out, millimetres above and inches below; longer than the paper with --tile.

    \b
      coilwright sheet ruler
      coilwright sheet ruler --length "500 mm" --tile
      coilwright sheet ruler --length "1 m" --tile --paper a3 --landscape
    """
    from jigs.guides.ruler import ruler_sheet

    deliver(ruler_sheet(length), "ruler", sheet)
