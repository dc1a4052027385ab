"""The command `demo`: the order of a small class that never was, its sheets and pack, and the numbers behind them."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from jigs.planning.plan import Plan
    from layouts.pages.page import Content, Setup

_STORY = """An evening class of eight seats makes a bronze chain bracelet with a toggle clasp: 400 rings, 5.0 mm inside,
of 1.2 mm phosphor bronze, and a few clasp rings of 1.6 mm wire wound on a wooden dowel.
"""
_HOW_TO_PRINT = """
How to print: choose "actual size" or 100 %, never "fit" or "shrink". Print the printer check first; let it rest some
minutes; lay a steel rule on both check bars. They must read 100 mm across and along. If they do not, mend the setting.
Every other sheet carries the same bars.

The chain rings of one seat, spares among them, from the mandrel to the closed ring:
"""


@click.command("demo")
@click.option("--paper", default="a4", metavar="NAME", show_default=True, help="a4, letter, a5, a3 or legal.")
@click.option("--out", default="out", metavar="DIR", show_default=True, help="The folder to write into.")
def command(paper: str, out: str) -> None:
    """An order with its sheets and its pack, for a small class, and the numbers behind them.

    \b
      coilwright demo
      coilwright demo --paper letter
      coilwright demo --out bench
    """
    from jigs.orders.example import example
    from jigs.orders.reading import order_of
    from jigs.planning.plan import make_plan
    from layouts.pages.page import Setup
    from layouts.pages.paper import find_paper

    folder, order = Path(out), order_of(example())
    plan = make_plan(order)
    click.echo(_STORY)
    _write_order(folder / "bracelet.toml", example())
    _write_sheets(folder, Setup(paper=find_paper(paper), title=order.title), plan)
    _write_pack(folder, paper, plan)
    click.echo(_HOW_TO_PRINT)
    click.echo(_ledger(plan))


def _write_order(path: Path, text: str) -> None:
    """The order as a file to play with. One that was changed is the user's, and stays."""
    from layouts.files.whole import write_whole

    if path.exists() and path.read_bytes() != text.encode():
        click.echo(f"{path}  was changed by you and stays; the demo makes its own order")
        return
    write_whole(path, text.encode())
    click.echo(f"{path}  the order: change it, then `coilwright pack {path}`")


def _write_sheets(folder: Path, setup: Setup, plan: Plan) -> None:
    """Each sheet as PDF and SVG, and as a preview where the machine can draw one."""
    from layouts.errors import MissingLibrary
    from layouts.pages.sheet import compose
    from layouts.render import save

    missing = ""
    for name, purpose, content in _sheets(plan):
        pages, stem = compose(content, setup), folder / name
        save(pages, stem, ("pdf", "svg"))
        try:
            save(pages, stem, ("png",))
        except MissingLibrary as refusal:
            missing = str(refusal)
        click.echo(f"{stem}.pdf  {purpose}")
    click.echo(f"No previews: {missing}." if missing else f"The same as SVG, and as PNG previews, in {folder}.")


def _sheets(plan: Plan) -> Iterator[tuple[str, str, Content]]:
    """Name, what it is for, and content of each sheet, in the order of use."""
    from jigs.guides.bench_pin import bench_pin
    from jigs.guides.dowel import dowel_sheet
    from jigs.guides.ring_card import ring_card
    from jigs.making.anchor import Anchor, Dowel
    from jigs.making.pin import Pin
    from jigs.stock.blade import find_blade
    from layouts.printing.check_sheet import printer_check

    chain, clasp = (ring.ordered.wire for ring in plan.rings)
    yield "printer-check", "is this printer true? Print it first", printer_check()
    card = ring_card([chain, clasp], [4.5, 5.0, 5.5, 8.0, 9.8], 0.1)
    yield "ring-card", "lay a ring on it: inside, outside, large or small", card
    dowels = [
        Anchor(dowel=Dowel(diameter_mm=9.4, second_diameter_mm=9.5), wire=clasp, turns=8),
        Anchor(dowel=Dowel(diameter_mm=7.9, second_diameter_mm=8.0), wire=chain, turns=14, second="slot"),
        Anchor(dowel=Dowel(diameter_mm=6.3), wire=chain, turns=12, series="number"),
    ]
    yield "dowel", "wrap it round the dowel, prick the crosses, drill", dowel_sheet(dowels)
    pin = Pin(length_mm=120, width_mm=75, thickness_mm=19, coil_outside_mm=7.4, blade=find_blade("2/0"), hand="right")
    yield "bench-pin", "glue it on the wood, saw and drill", bench_pin(pin)


def _write_pack(folder: Path, paper: str, plan: Plan) -> None:
    from jigs.cli.output import SheetOptions
    from jigs.cli.pack import write_pack

    click.echo("\nThe pack of the order, everything for the bench as one print job:")
    options = SheetOptions(
        paper=paper,
        landscape=False,
        tile=True,
        formats="pdf",
        out=str(folder / "bracelet-pack.pdf"),
        title=plan.order.title,
        date="",
        printer="none",
    )
    write_pack(plan, options, name="bracelet-pack")


def _ledger(plan: Plan) -> str:
    from dataclasses import replace

    from jigs.cli.ring import for_people

    chain = plan.rings[0]
    return for_people(replace(chain.batch, rings=chain.shares[0].made))
