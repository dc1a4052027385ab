"""The command `sheet ring-card`."""

from __future__ import annotations

import click

from jigs.cli.output import SheetOptions, deliver, sheet_options
from jigs.stock.wire import parse_wire
from layouts.errors import QuantityRefused
from layouts.units import parse_length, parse_length_range


@click.command("ring-card")
@click.option(
    "--wire", "wires", multiple=True, metavar="WIRE", help="A gauge with its system, or a diameter. Repeatable."
)
@click.option(
    "--inside",
    "insides",
    multiple=True,
    metavar="LENGTH or RANGE",
    help='An inside diameter, or a range: "3 mm..8 mm by 0.5 mm". Repeatable.',
)
@click.option("--tolerance", default="", metavar="LENGTH", help="Adds a small and a large disc: ID less and plus this.")
@sheet_options
def command(wires: tuple[str, ...], insides: tuple[str, ...], tolerance: str, sheet: SheetOptions) -> None:
    """Rings and their insides as black shapes at true size, and a wedge that reads the outside.

    \b
      coilwright sheet ring-card --wire "16 AWG" --inside "5 mm" --tolerance "0.1 mm"
      coilwright sheet ring-card --wire "16 AWG" --wire "18 SWG" --inside "3 mm..8 mm by 0.5 mm"
      coilwright sheet ring-card --wire "1.2 mm" --inside "3/16 in" --paper letter --format pdf,png
    """
    from jigs.guides.ring_card import ring_card

    _refuse_none("wire", wires, '--wire "16 AWG"')
    _refuse_none("inside diameter", insides, '--inside "5 mm" or --inside "3 mm..8 mm by 0.5 mm"')
    content = ring_card(
        [parse_wire(wire) for wire in wires],
        [inside for text in insides for inside in parse_length_range(text)],
        parse_length(tolerance) if tolerance else None,
    )
    deliver(content, "ring-card", sheet)


def _refuse_none(what: str, given: tuple[str, ...], example: str) -> None:
    if not given:
        raise QuantityRefused(f"a ring card needs one {what} or more", f"add {example}")
