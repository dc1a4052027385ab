"""The commands `bench add ...`: what you own, written into the bench folder; comments and order stay."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import click

from jigs.cli.bench_folder import bench_folder, bench_option
from layouts.errors import QuantityRefused, shown

if TYPE_CHECKING:
    from layouts.files.entries import Entries

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
@replace_option
@bench_option
def mandrel(name: str, replace: bool, bench_dir: str | None, **given: str | None) -> None:
    """A thing to wind on, by its name and its measured diameter.

    \b
      coilwright bench add mandrel "rod 7" --measured "6.02 mm"
      coilwright bench add mandrel "oak dowel" --measured "7.9 mm" --kind wood
      coilwright bench add mandrel "blue pen" --measured "7.4 mm" --kind household
    """
    _add("mandrel", name, given, replace, bench_dir)


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
@click.option("--teeth-per-inch", "teeth_per_inch", type=float, metavar="NUMBER", help="Of such a blade.")
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
@click.option("--metal", required=True, metavar="METAL", help="A metal of the table.")
@click.option("--temper", default="soft", show_default=True, metavar="TEMPER", help="soft, half-hard, hard or spring.")
@click.option("--length", metavar="LENGTH", help="What is on it.")
@click.option("--mass", metavar="MASS", help="Or: what is on it by weight, without the reel.")
@replace_option
@bench_option
def spool(name: str, replace: bool, bench_dir: str | None, **given: str | None) -> None:
    """Wire at hand: a plan uses it up before it buys.

    \b
      coilwright bench add spool "blue reel" --wire "1.2 mm" --metal "phosphor bronze" --length "4.3 m"
      coilwright bench add spool "coil in tin" --wire "18 AWG" --metal sterling --mass "31 g"
      coilwright bench add spool "blue reel" --wire "1.2 mm" --metal bronze --length "2.1 m" --replace
    """
    if given["length"] and given["mass"]:
        raise QuantityRefused("--length and --mass are two answers", "give one of the two")
    _add("spool", name, given, replace, bench_dir)


def _add(kind: str, name: str, given: dict[str, Any], replace: bool, bench_dir: str | None) -> None:
    """Writes one table under its name; what the file's own reader refuses is not written."""
    file = f"{kind}s.toml"
    values = {key: value for key, value in given.items() if value is not None}
    _refuse_options(kind, name, values, list(given))
    folder = bench_folder(named_folder(bench_dir))
    folder.edit(
        file,
        _change(kind, name.strip(), values, replace),
        checker(kind),
        head=f"# {kind.capitalize()}s of this bench.\n",
    )
    click.echo(f"{kind} {name.strip()} is in {folder.path / file}")


def checker(kind: str) -> Callable[[Entries], object]:
    """What refuses a file of that kind with any fault, by its line."""
    from jigs.bench.reading import READERS
    from layouts.files.entries import named_entries

    return lambda top: named_entries(top, READERS[kind])


def _refuse_options(kind: str, name: str, values: dict[str, Any], keys: list[str]) -> None:
    """Refuses what was typed by the names of the options, before any file is read."""
    from jigs.bench.reading import READERS
    from layouts.files.entries import Book, Entries, named_entries
    from layouts.files.faults import FileFaulty

    try:
        named_entries(Entries({name.strip(): values}, Book(file="", lines={})), READERS[kind])
    except FileFaulty as refusal:
        fault = refusal.faults[0]
        key, colon, rest = fault.wrong.partition(": ")
        if colon and key in keys:
            raise QuantityRefused(f"{_option(key)}: {rest}", fault.right) from None
        right = re.sub(r"\w+", lambda word: _option(word[0]) if word[0] in keys else word[0], fault.right)
        raise QuantityRefused(fault.wrong, right.replace("its --", "--")) from None


def _option(key: str) -> str:
    return f"--{key.replace('_', '-')}"


def named_folder(bench_dir: str | None) -> str | None:
    """The folder that was typed, here or before "add", as in `coilwright bench --bench DIR add`; else what is set."""
    context: click.Context | None = click.get_current_context()
    while context is not None:
        if context.get_parameter_source("bench_dir") is click.core.ParameterSource.COMMANDLINE:
            return str(context.params["bench_dir"])
        context = context.parent
    return bench_dir


def _change(kind: str, name: str, values: dict[str, Any], replace: bool) -> Callable[[Any], None]:
    """The change of a document: a new table, or new values in the one that is there, its comments kept."""

    def change(document: Any) -> None:
        import tomlkit

        if name not in document:
            table = tomlkit.table()
            table.update(values)
            document[name] = table
            return
        if not replace:
            raise QuantityRefused(f"{kind} {shown(name)} is there already", "give --replace to write over it")
        for key in [key for key in document[name] if key not in values]:
            del document[name][key]
        document[name].update(values)

    return change
