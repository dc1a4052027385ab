"""The commands `bench add ...`: what you own, written into the bench folder; comments and order stay."""

from __future__ import annotations

from typing import Any

import click

from jigs.bench.place import bench_path
from jigs.cli.bench_folder import bench_option
from jigs.cli.quantities import COUNT, NUMBER

replace_option = click.option("--replace", is_flag=True, help="Write over what is there under that name.")


@click.group("add")
def command() -> None:
    """What you own: a plan then takes it instead of the built-in series.

    \b
      coilwright bench add mandrel "rod 7" --measured "6.02 mm" --kind steel
      coilwright bench add blade 2/0 --kerf "0.29 mm"
      coilwright bench add spool "blue reel" --wire "1.2 mm" --metal "phosphor bronze" --length "4.3 m"
    """


@command.command("mandrel")
@click.argument("name")
@click.option("--measured", required=True, metavar="LENGTH", help="Its diameter by caliper.")
@click.option("--kind", default="steel", show_default=True, metavar="KIND", help="steel, wood, plastic or household.")
@click.option("--length", metavar="LENGTH", help="How long it is; 30 mm of it are held. Left out, 150 mm count.")
@click.option("--with", "with_", metavar="INSTRUMENT", help="What it was measured with; a caliper when left out.")
@click.option("--readings", type=COUNT, metavar="NUMBER", help="How many readings it is the mean of.")
@click.option("--scale", metavar="PERCENT", help="Of a printed strip: how far its printer's scale may be off.")
@click.option(
    "--right-angles", is_flag=True, help="They were read at right angles too: of an oval rod the mean is known."
)
@replace_option
@bench_option
def mandrel(name: str, right_angles: bool, replace: bool, bench_dir: str | None, **given: Any) -> None:
    """A thing to wind on, by its name and its measured diameter.

    \b
      coilwright bench add mandrel "rod 7" --measured "6.02 mm"
      coilwright bench add mandrel "oak dowel" --measured "7.9 mm" --kind wood --length "300 mm"
      coilwright bench add mandrel "blue pen" --measured "7.4 mm" --kind household
    """
    from jigs.bench.bench import ALL_ROUND

    _add("mandrel", name, given | {"read": ALL_ROUND if right_angles else None}, replace, bench_dir)


@command.command("drill")
@click.argument("name")
@click.option("--diameter", required=True, metavar="LENGTH", help="Its diameter.")
@replace_option
@bench_option
def drill(name: str, replace: bool, bench_dir: str | None, **given: str | None) -> None:
    """A drill for cross-holes.

    \b
      coilwright bench add drill "1.3 mm" --diameter "1.3 mm"
      coilwright bench add drill "#54" --diameter "1.397 mm"
      coilwright bench add drill "1/16" --diameter "1/16 in"
    """
    _add("drill", name, given, replace, bench_dir)


@command.command("blade")
@click.argument("name")
@click.option("--kerf", required=True, metavar="LENGTH", help="What it cuts, measured in a trial cut.")
@click.option("--thickness", metavar="LENGTH", help="Of a blade that is not in the table.")
@click.option("--teeth-per-inch", "teeth_per_inch", type=NUMBER, metavar="NUMBER", help="Of such a blade.")
@replace_option
@bench_option
def blade(name: str, replace: bool, bench_dir: str | None, **given: Any) -> None:
    """A saw blade with the kerf that you measured.

    \b
      coilwright bench add blade 2/0 --kerf "0.29 mm"
      coilwright bench add blade 4 --kerf "0.41 mm" --replace
      coilwright bench add blade "old spiral" --kerf "0.9 mm" --thickness "0.8 mm" --teeth-per-inch 40
    """
    _add("blade", name, given, replace, bench_dir)


@command.command("spool")
@click.argument("name")
@click.option("--wire", required=True, metavar="WIRE", help="A gauge with its system, or a diameter.")
@click.option("--metal", required=True, metavar="METAL", help="One of `coilwright tables metals`.")
@click.option("--temper", default="soft", show_default=True, metavar="TEMPER", help="soft, half-hard, hard or spring.")
@click.option("--length", metavar="LENGTH", help="How much wire is on it.")
@click.option("--mass", metavar="MASS", help="Or: how much by weight, without the reel.")
@click.option("--with", "with_", metavar="INSTRUMENT", help="What its diameter was measured with, if it was.")
@click.option("--readings", type=COUNT, metavar="NUMBER", help="How many readings it is the mean of.")
@click.option("--scale", metavar="PERCENT", help="Of a printed strip: how far its printer's scale may be off.")
@replace_option
@bench_option
def spool(name: str, replace: bool, bench_dir: str | None, **given: Any) -> None:
    """Wire at hand: a plan uses it up before it buys.

    \b
      coilwright bench add spool "blue reel" --wire "1.2 mm" --metal "phosphor bronze" --length "4.3 m"
      coilwright bench add spool "coil in tin" --wire "18 AWG" --metal sterling --mass "31 g"
      coilwright bench add spool "blue reel" --wire "1.2 mm" --metal bronze --length "2.1 m" --replace
    """
    _add("spool", name, given, replace, bench_dir)


@command.command("instrument")
@click.argument("name")
@click.option("--scatter", metavar="LENGTH", help="How far 95 of 100 readings of one thing lie from their mean.")
@click.option("--bias", metavar="LENGTH", help="How far all of its readings may be off together.")
@click.option("--scale", metavar="PERCENT", help="How far its scale may be off, in percent of the length.")
@replace_option
@bench_option
def instrument(name: str, replace: bool, bench_dir: str | None, **given: str | None) -> None:
    """What you read sizes with, where it reads otherwise than that of `coilwright tables instruments`.

    \b
      coilwright bench add instrument "old caliper" --scatter "0.05 mm" --bias "0.04 mm"
      coilwright bench add instrument caliper --bias "0.01 mm"
      coilwright bench add instrument wedge --scatter "0.08 mm" --replace
    """
    _add("instrument", name, given, replace, bench_dir)


def _add(kind: str, name: str, given: dict[str, Any], replace: bool, bench_dir: str | None) -> None:
    from jigs.actions.bench import add_to_bench

    given = {key.rstrip("_"): value for key, value in given.items()}  # `with` is a word of Python's own
    file = add_to_bench(bench_path(named_folder(bench_dir)), kind, name, given, replace=replace)
    click.echo(f"{kind} {name.strip()} is in {file}")


def named_folder(bench_dir: str | None) -> str | None:
    """The folder that was typed, here or before "add", as in `coilwright bench --bench DIR add`; else what is set."""
    context: click.Context | None = click.get_current_context()
    while context is not None:
        if context.get_parameter_source("bench_dir") is click.core.ParameterSource.COMMANDLINE:
            return str(context.params["bench_dir"])
        context = context.parent
    return bench_dir
