"""The command `demo`: a full set of sheets for a small class that never was, and the numbers behind them."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from jigs.making.batch import Batch
    from layouts.sheet import Content

_STORY = """An evening class of eight seats makes a bronze chain bracelet with a toggle clasp: 400 rings, 5.0 mm inside,
of 1.2 mm phosphor bronze, and a few clasp rings of 1.6 mm wire wound on a wooden dowel."""

_CLASS = "Evening class: bronze chain bracelet"


@click.command("demo")
@click.option("--paper", default="a4", metavar="NAME", show_default=True, help="a4, letter, a5, a3 or legal.")
@click.option("--out", default="out", metavar="DIR", show_default=True, help="The folder to write into.")
def command(paper: str, out: str) -> None:
    """A full set of sheets for a small class, and the numbers behind them.

    \b
      coilwright demo
      coilwright demo --paper letter
      coilwright demo --out /tmp/bench
    """
    from layouts.errors import MissingLibrary
    from layouts.paper import find_paper
    from layouts.render import save
    from layouts.sheet import Setup, compose

    setup = Setup(paper=find_paper(paper), title=_CLASS)
    click.echo(f"{_STORY}\n")
    missing = ""
    for name, purpose, content in _sheets():
        pages, stem = compose(content, setup), Path(out) / name
        save(pages, stem, ("pdf", "svg"))
        try:
            save(pages, stem, ("png",))
        except MissingLibrary as error:
            missing = str(error)
        click.echo(f"{stem}.pdf  {purpose}")
    click.echo(f"\nNo previews: {missing}." if missing else f"\nThe same as SVG, and as PNG previews, in {out}.")
    click.echo(_HOW_TO_PRINT)
    click.echo(_ledger())


_HOW_TO_PRINT = """
How to print: choose "actual size" or 100 %, never "fit" or "shrink". Print the printer check first; let it rest some
minutes; lay a steel rule on both check bars. They must read 100 mm across and along. If they do not, mend the setting.
Every other sheet carries the same bars.
"""


def _sheets() -> Iterator[tuple[str, str, Content]]:
    """Name, what it is for, and content of each sheet, in the order of use."""
    from jigs.guides.bench_pin import bench_pin
    from jigs.guides.dowel import dowel_sheet
    from jigs.guides.printer_check import printer_check
    from jigs.guides.ring_card import ring_card
    from jigs.making.anchor import Anchor, Dowel
    from jigs.making.pin import Pin
    from jigs.stock.blade import find_blade
    from jigs.stock.wire import parse_wire

    chain, clasp = parse_wire("1.2 mm"), parse_wire("1.6 mm")
    dowels = [Dowel(diameter_mm=9.6, second_diameter_mm=9.7), Dowel(diameter_mm=7.9)]
    anchors = [
        Anchor(dowel=dowel, wire=wire, turns=turns)
        for dowel, wire, turns in zip(dowels, (clasp, chain), (10, 14), strict=True)
    ]
    yield "printer-check", "is this printer true? Print it first", printer_check()
    yield (
        "ring-card",
        "lay a ring on it: inside, outside, large or small",
        ring_card([chain, clasp], [4.5, 5.0, 5.5, 8.0, 10.0], 0.1),
    )
    yield "dowel", "wrap it round the dowel, prick the crosses, drill", dowel_sheet(anchors)
    pin = Pin(length_mm=120, width_mm=75, thickness_mm=19, coil_outside_mm=7.4, blade=find_blade("2/0"), hand="right")
    yield "bench-pin", "glue it on the wood, saw and drill", bench_pin(pin)


def _ledger() -> str:
    """The numbers of the chain rings."""
    from jigs.cli.ring import for_people

    return for_people(_batch())


def _batch() -> Batch:
    from jigs.making.batch import Batch
    from jigs.making.cutting import choose_cut
    from jigs.making.material import choose_material
    from jigs.stock.blade import find_blade
    from jigs.stock.metal import find_metal
    from jigs.stock.wire import parse_wire

    wire = parse_wire("1.2 mm")
    cut = choose_cut("saw", wire_mm=wire.diameter_mm, blade=find_blade("2/0"))
    material = choose_material(find_metal("phosphor bronze"), "soft")
    return Batch(wire=wire, material=material, inside_mm=5.0, cut=cut, rings=400)
