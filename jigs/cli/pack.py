"""The command `pack`: everything an order needs at the bench, as one print job."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import click

from jigs.bench.place import bench_path
from jigs.cli.answers import say, say_cautions
from jigs.cli.bench_folder import bench_option
from jigs.cli.completing import complete_papers, complete_printers
from jigs.cli.overwriting import may_overwrite, overwrite_option
from jigs.cli.units import units_of_order_option
from layouts.errors import listed
from layouts.pages.paper import papers
from layouts.render import FORMATS


@click.command("pack")
@click.argument("order", metavar="ORDER")
@click.option(
    "--paper",
    shell_complete=complete_papers,
    default="",
    metavar="NAME",
    help=f"{listed(papers())}. [default: as in the order]",
)
@click.option(
    "--printer",
    shell_complete=complete_printers,
    default="",
    metavar="NAME",
    help="Made true for this printer. [default: as in the order]",
)
@click.option("--tray", default="", metavar="TEXT", help="The paper in its tray. [default: as in the order]")
@click.option("--card", default="", metavar="TEXT", help="The card in its tray, if that was measured too.")
@click.option(
    "--hand",
    type=click.Choice(["left", "right"]),
    default="right",
    show_default=True,
    help="The hand that holds the saw.",
)
@click.option(
    "--sets",
    type=click.Choice(["each", "once"]),
    default="each",
    show_default=True,
    help="each: job cards, ring cards, strips and labels for each seat; pins and totals once."
    " once: one set for all seats with the same work.",
)
@click.option("--format", "formats", default="pdf", metavar="LIST", show_default=True, help=f"{', '.join(FORMATS)}.")
@click.option("--out", default="", metavar="FILE-or-DIR", help="Where to write. [default: this folder]")
@click.option("--date", default="", metavar="TEXT", help="A date to print. [default: as in the order]")
@units_of_order_option
@click.option("--without-records", is_flag=True, help="As it would be if no batch had been recorded.")
@overwrite_option
@bench_option
def command(order: str, card: str, hand: str, sets: str, without_records: bool, **given: Any) -> None:
    """One print job for an order: job cards, ring cards, dowels, bench pins, labels.

    ORDER is a TOML file; `coilwright order new` writes one to start from.
    The cover says what is where, and which pages go on card.

    \b
      coilwright pack bracelet.toml
      coilwright pack bracelet.toml --paper letter --out pack.pdf
      coilwright pack bracelet.toml --printer study --tray "80 g" --card "card 160 g"
    """
    from jigs.actions.order import plan_order
    from jigs.actions.output import Output
    from jigs.actions.pack import How, pack_plan
    from jigs.cli.output import say_printer, say_written
    from jigs.cli.progress import ProgressBar
    from jigs.reports.contents import contents
    from layouts.lengths import said_in

    bench, given["units"] = bench_path(given.pop("bench_dir")), given["units"] or ""
    output, name = Output(bench=bench, may_overwrite=may_overwrite, **given), f"{Path(order).stem}-pack"
    with ProgressBar() as bar:
        plan = plan_order(Path(order), bench, units=output.units, without_records=without_records, progress=bar.show)
        how = How(card=card, hand=hand, sets=sets)
        packed = pack_plan(plan, output, date.today(), name=name, how=how, progress=bar.show)
    for prepared in packed.prepared:
        say_printer(prepared.printer, prepared.warnings)
    say(replace(contents(packed.pack.entries).pick("pages", "sheet", "on", "use"), heading=""))
    for words in packed.pack.left_out:
        click.echo(f"Left out: {words}")
    with said_in(plan.order.units):
        say_cautions(plan.cautions)
    say_written(packed.paths)
