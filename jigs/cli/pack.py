"""The command `pack`: everything an order needs at the bench, as one print job."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import count
from pathlib import Path
from typing import TYPE_CHECKING

import click

from jigs.cli.bench_folder import bench_option, bench_path
from layouts.errors import OutOfRange

if TYPE_CHECKING:
    from jigs.cli.output import SheetOptions
    from jigs.orders.order import Order
    from jigs.packing.pack import Pack
    from jigs.planning.plan import Plan

MOST_PICTURES = 300  # pages as SVG or PNG: each is a file


@click.command("pack")
@click.argument("order", metavar="ORDER")
@click.option("--paper", default="", metavar="NAME", help="a4, letter, a5, a3 or legal. [default: as in the order]")
@click.option("--printer", default="", metavar="NAME", help="Made true for this printer. [default: as in the order]")
@click.option("--stock", default="", metavar="TEXT", help="The paper in its tray. [default: as in the order]")
@click.option("--card", default="", metavar="TEXT", help="The card, where that was measured too.")
@click.option("--hand", type=click.Choice(["left", "right"]), default="right", show_default=True, help="Of the saw.")
@click.option(
    "--sets",
    type=click.Choice(["each", "once"]),
    default="each",
    show_default=True,
    help="each: job cards, ring cards, strips and labels for each seat; pins and totals once."
    " once: one set for all seats with the same work.",
)
@click.option("--format", "formats", default="pdf", metavar="LIST", show_default=True, help="pdf, svg, png.")
@click.option("--out", default="", metavar="FILE-or-DIR", help="Where to write. [default: this folder]")
@click.option("--date", default="", metavar="TEXT", help="A date to print. [default: as in the order]")
@bench_option
def command(order: str, card: str, hand: str, sets: str, **given: str) -> None:
    """One print job for an order: job cards, ring cards, dowels, bench pins, labels.

    ORDER is a TOML file; `coilwright order new` writes one to start from.
    The cover says what is where, and which pages go on card.

    \b
      coilwright pack bracelet.toml
      coilwright pack bracelet.toml --paper letter --out pack.pdf
      coilwright pack bracelet.toml --printer study --stock "80 g" --card "card 160 g"
    """
    from jigs.cli.order_file import order_and_bench
    from jigs.planning.plan import make_plan

    wanted, owned = order_and_bench(order, bench_path(given["bench_dir"]))
    options = _options(wanted, given)
    write_pack(make_plan(wanted, owned), options, name=f"{Path(order).stem}-pack", card=card, hand=hand, sets=sets)


def _options(order: Order, given: dict[str, str]) -> SheetOptions:
    """What is typed, else what the order says."""
    from jigs.cli.output import SheetOptions

    printing = order.printing
    return SheetOptions(
        paper=given["paper"] or printing.paper,
        landscape=printing.landscape,
        tile=True,
        formats=given["formats"],
        out=given["out"],
        title=order.title,
        date=given["date"] or order.date,
        printer=given["printer"] or printing.printer,
        stock=given["stock"] or printing.stock,
        bench_dir=given["bench_dir"],
    )


def write_pack(
    plan: Plan, options: SheetOptions, *, name: str, card: str = "", hand: str = "right", sets: str = "each"
) -> tuple[Path, ...]:
    """Makes the pack of a plan, writes it in every format asked for, and says what is in it. Returns the paths."""
    from jigs.cli.output import setup_for, stem_for, write
    from jigs.cli.progress import Progress
    from jigs.packing.pack import make_pack
    from layouts.render import formats_in

    formats = formats_in(options.formats)
    stem = stem_for(options.out, name, formats)
    paper = setup_for(options)
    if card and paper.printer is None:
        raise OutOfRange("--card without a printer", "name one with --printer, or choose a default one")
    on_card = setup_for(replace(options, stock=card)) if card else paper
    with Progress("Laying out") as bar:
        pack = make_pack(plan, paper, on_card, hand=hand, sets=sets, report=bar.show)
    _refuse_too_many_pictures(len(pack.pages), formats)
    _say(pack, plan)
    files = sum(1 if form == "pdf" else len(pack.pages) for form in formats)
    with Progress("Writing") as bar:
        steps = count(1)
        return write(pack.pages, stem, options, lambda: bar.show(next(steps), files))


def _refuse_too_many_pictures(pages: int, formats: Sequence[str]) -> None:
    if pages > MOST_PICTURES and set(formats) - {"pdf"}:
        raise OutOfRange(
            f"{pages} pages as pictures of their own are more than {MOST_PICTURES}",
            "ask for pdf alone, or for one set of sheets: --sets once",
        )


def _say(pack: Pack, plan: Plan) -> None:
    """The pages, what is left out, and what the maker should be told loudly."""
    from jigs.cli.columns import columns

    rows = [(entry.pages, entry.what, entry.on, entry.use) for entry in pack.entries]
    click.echo(columns(("page", "sheet", "on", "use"), rows))
    for words in pack.left_out:
        click.echo(f"Left out: {words}")
    for caution in plan.cautions:
        click.echo(f"CAUTION: {caution}")
