"""The command `sheet bench-pin`."""

from __future__ import annotations

import click

from jigs.cli.output import SheetOptions, deliver, sheet_options
from jigs.cli.quantities import BLADE, LENGTH
from jigs.making.pin import HANDS, LAYOUTS, Pin
from jigs.stock.blade import Blade


@click.command("bench-pin")
@click.option("--length", type=LENGTH, default="120 mm", metavar="LENGTH", show_default=True, help="Front to back.")
@click.option("--width", type=LENGTH, default="75 mm", metavar="LENGTH", show_default=True, help="Side to side.")
@click.option("--thickness", type=LENGTH, default="19 mm", metavar="LENGTH", show_default=True, help="Of the wood.")
@click.option(
    "--coil-outside", type=LENGTH, default="8 mm", metavar="LENGTH", show_default=True, help="Of the coil to hold."
)
@click.option("--blade", type=BLADE, default="2", metavar="SIZE", show_default=True, help="Piercing-saw blade.")
@click.option("--kerf", type=LENGTH, metavar="LENGTH", help="As measured in a trial cut, instead of the table's.")
@click.option(
    "--hand", default="right", metavar="HAND", show_default=True, help=f"{' or '.join(HANDS)}: holds the saw."
)
@click.option(
    "--layout",
    "layouts",
    multiple=True,
    default=("full",),
    metavar="NAME",
    show_default=True,
    help=f"What to cut, repeatable: {', '.join(LAYOUTS)}.",
)
@sheet_options
def command(
    length: float,
    width: float,
    thickness: float,
    coil_outside: float,
    blade: Blade,
    kerf: float | None,
    hand: str,
    layouts: tuple[str, ...],
    sheet: SheetOptions,
) -> None:
    """A template for a bench pin: vee and hole, starter kerfs, coil groove with slit, 45 degree guide.

    \b
      coilwright sheet bench-pin
      coilwright sheet bench-pin --hand left --coil-outside "9.5 mm" --blade 2/0
      coilwright sheet bench-pin --layout vee --layout kerfs --width "2 1/2 in"
    """
    from jigs.guides.bench_pin import bench_pin

    pin = Pin(
        length_mm=length,
        width_mm=width,
        thickness_mm=thickness,
        coil_outside_mm=coil_outside,
        blade=blade if kerf is None else blade.with_kerf(kerf),
        hand=hand,
        layouts=layouts,
    )
    deliver(bench_pin(pin), "bench-pin", sheet)
