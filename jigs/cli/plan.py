"""The command `plan`: an order as rings, windings, wire and cost."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from jigs.bench.place import bench_path
from jigs.cli.answers import json_option, say, say_cautions
from jigs.cli.bench_folder import bench_option
from jigs.cli.quantities import LENGTH, WIRE
from jigs.cli.units import units_of_order_option
from jigs.stock.wire import Wire
from layouts.errors import QuantityRefused


@click.command("plan")
@click.argument("order", metavar="ORDER")
@click.option("--from-wire", "wire_length_mm", type=LENGTH, help="What this much of the wire makes, ring by ring.")
@click.option("--in-wire", "other_wire", type=WIRE, help="The same weaves in another wire: the AR is kept.")
@click.option("--ring", "ring_name", metavar="NAME", help="Only this ring, for --from-wire and --in-wire.")
@click.option("--without-records", is_flag=True, help="As it would be if no batch had been recorded.")
@json_option
@click.option("--csv", "as_csv", is_flag=True, help="For a spreadsheet: a row for each ring and share, and the sum.")
@click.option(
    "--decimal", type=click.Choice(["point", "comma"]), help="For --csv; a comma for a spreadsheet that writes 1,5."
)
@units_of_order_option
@bench_option
def command(
    order: str,
    wire_length_mm: float | None,
    other_wire: Wire | None,
    ring_name: str | None,
    without_records: bool,
    as_json: bool,
    as_csv: bool,
    decimal: str | None,
    units: str | None,
    bench_dir: str | None,
) -> None:
    """The plan of an order: mandrels, windings, wire to cut and to buy, cost.

    ORDER is a TOML file; `coilwright order new` writes one to start from.
    --from-wire and --in-wire read the plan the other way.

    \b
      coilwright plan bracelet.toml
      coilwright plan bracelet.toml --from-wire "3 m" --ring "chain ring"
      coilwright plan bracelet.toml --in-wire "1.5 mm" --csv
    """
    from jigs.actions.order import plan_order
    from jigs.cli.progress import ProgressBar
    from jigs.planning.inverse import from_wire
    from jigs.reports.as_csv import as_csv as spreadsheet_text
    from jigs.reports.plan import from_wire_report, plan_report, spreadsheet
    from layouts.lengths import said_in

    if as_json and as_csv:
        raise QuantityRefused("--json and --csv are two answers", "give one of the two")
    if as_csv and wire_length_mm is not None:
        raise QuantityRefused("--from-wire has no --csv", "give --json, or neither")
    if decimal is not None and not as_csv:
        raise QuantityRefused("--decimal goes with --csv", "give that too, or leave it out")
    if ring_name is not None and wire_length_mm is None and other_wire is None:
        raise QuantityRefused("--ring goes with --from-wire or --in-wire", "give one of them too, or leave it out")
    with ProgressBar() as bar:
        how: dict[str, Any] = {"wire": other_wire, "ring": ring_name, "units": units or ""}
        how["without_records"] = without_records
        plan = plan_order(Path(order), bench_path(bench_dir), **how, progress=bar.show)
    with said_in(plan.order.units):
        if as_csv:
            click.echo(spreadsheet_text(spreadsheet(plan), decimal or "point"), nl=False)
            say_cautions(plan.cautions, err=True)
        elif wire_length_mm is not None:
            say(from_wire_report(from_wire(plan, wire_length_mm, ring_name)), plan.cautions, as_json=as_json)
        else:
            say(plan_report(plan), plan.cautions, as_json=as_json)
