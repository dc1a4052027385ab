"""The command `plan`: an order as rings, coils, wire and cost."""

from __future__ import annotations

import csv
import io
import json

import click

from jigs.cli.bench_folder import bench_option, bench_path
from jigs.cli.quantities import LENGTH, WIRE
from jigs.stock.wire import Wire
from layouts.errors import QuantityRefused


@click.command("plan")
@click.argument("order", metavar="ORDER")
@click.option("--from-wire", "wire_length_mm", type=LENGTH, help="What this much of the wire makes, ring by ring.")
@click.option("--in-wire", "other_wire", type=WIRE, help="The same weaves in another wire: the AR is kept.")
@click.option("--ring", "ring_name", metavar="NAME", help="Only this ring, for --from-wire and --in-wire.")
@click.option("--json", "as_json", is_flag=True, help="The same for scripts, keys with units.")
@click.option("--csv", "as_csv", is_flag=True, help="For a spreadsheet: a row for each ring and share, and the sum.")
@bench_option
def command(
    order: str,
    wire_length_mm: float | None,
    other_wire: Wire | None,
    ring_name: str | None,
    as_json: bool,
    as_csv: bool,
    bench_dir: str | None,
) -> None:
    """The plan of an order: mandrels, coils, wire to cut and to buy, cost.

    ORDER is a TOML file; `coilwright order new` writes one to start from.
    --from-wire and --in-wire read the plan the other way.

    \b
      coilwright plan bracelet.toml
      coilwright plan bracelet.toml --from-wire "3 m" --ring "chain ring"
      coilwright plan bracelet.toml --in-wire "1.5 mm" --csv
    """
    from jigs.cli.order_file import order_and_bench
    from jigs.cli.plan_words import from_wire_words, plan_words
    from jigs.planning.figures import figures, from_wire_figures, rows
    from jigs.planning.inverse import from_wire, in_wire
    from jigs.planning.plan import make_plan

    _refuse_two_answers(as_json, as_csv, wire_length_mm, other_wire, ring_name)
    wanted, owned = order_and_bench(order, bench_path(bench_dir))
    plan = make_plan(in_wire(wanted, other_wire, ring_name) if other_wire else wanted, owned)
    if wire_length_mm is not None:
        answers = from_wire(plan, wire_length_mm, ring_name)
        click.echo(json.dumps(from_wire_figures(answers), indent=2) if as_json else from_wire_words(answers))
    elif as_csv:
        click.echo(_csv(rows(plan)), nl=False)
    else:
        click.echo(json.dumps(figures(plan), indent=2, ensure_ascii=False) if as_json else plan_words(plan))
    for caution in plan.cautions:
        click.echo(f"CAUTION: {caution}", err=as_json or as_csv)


def _refuse_two_answers(
    as_json: bool, as_csv: bool, length_mm: float | None, wire: Wire | None, ring_name: str | None
) -> None:
    if as_json and as_csv:
        raise QuantityRefused("--json and --csv are two answers", "give one of the two")
    if as_csv and length_mm is not None:
        raise QuantityRefused("--from-wire has no --csv", "give --json, or neither")
    if ring_name is not None and length_mm is None and wire is None:
        raise QuantityRefused("--ring goes with --from-wire or --in-wire", "give one of them too, or leave it out")


def _csv(table: object) -> str:
    text = io.StringIO()
    csv.writer(text, lineterminator="\n").writerows(table)  # type: ignore[arg-type]
    return text.getvalue()
