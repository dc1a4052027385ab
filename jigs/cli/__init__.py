"""The command line: parses, calls, reports. The one place that turns a refusal into one line and exit code 2."""

from __future__ import annotations

import re
import sys

import click

from jigs.cli.lazy import LazyGroup

_COMMANDS = {
    "page": "Everything in your browser, on this machine alone.",
    "ring": "The numbers from a mandrel to a closed ring, each with its source.",
    "wire": "One wire in every system, with its nearest neighbours.",
    "order": "An order to fill in: what is made, for how many, from which wire.",
    "plan": "From an order to mandrels, windings, wire to buy and cost.",
    "pack": "From an order to one print job: cards, strips, labels, cutting list.",
    "measure": "A rod, wire, ring or coil by paper, rule and pencil, or by caliper.",
    "record": "What came out of a batch: from then on every plan counts on it.",
    "sheet": "A true-scale sheet to print: printer check, ring card, dowel, bench pin.",
    "cut": "For a laser or a knife: coupon, plate of holes and more, as DXF or SVG.",
    "solid": "For a 3D printer: plate of holes, stepped plug and more, as 3MF or STL.",
    "printer": "Measure a printer once, and every later sheet comes out true.",
    "machine": "Measure a laser, a knife or a 3D printer once, by a coupon.",
    "bench": "Where your bench folder is, and what is in it.",
    "tables": "The tables of gauges, metals, blades, drills and more, with their sources.",
    "demo": "A full set of sheets for a small class, and the numbers behind them.",
}


def _say_version(context: click.Context, _: click.Parameter, wanted: bool) -> None:
    if not wanted:
        return
    from importlib.metadata import PackageNotFoundError, version

    try:
        click.echo(f"coilwright {version('coilwright')}")
    except PackageNotFoundError:
        click.echo("coilwright, not installed: run from its source")
    context.exit()


cli = LazyGroup(
    name="coilwright",
    context_settings={"help_option_names": ["-h", "--help"]},
    params=[
        click.Option(
            ["--version"],
            is_flag=True,
            is_eager=True,
            expose_value=False,
            callback=_say_version,
            help="Show the version and exit.",
        )
    ],
    package="jigs.cli",
    commands=_COMMANDS,
    help="""True-scale printed bench aids for jump rings, and the numbers behind them.

\b
  coilwright demo
  coilwright ring --wire "16 AWG" --metal copper --mandrel "5 mm" --cut saw --blade 2
  coilwright sheet ring-card --wire "1.2 mm" --inside "3 mm..8 mm by 0.5 mm"

A length carries its unit and a gauge its system: "5 mm", "5/16 in", "16 AWG", "18 SWG".
""",
)


def main() -> None:
    """Runs the command; what is refused is one line on the error stream and exit code 2."""
    from jigs.terminal import guarded

    sys.exit(guarded(_run))


def _run() -> int:
    from jigs.cli.refusals import said, say_faults
    from layouts.errors import Refusal

    try:
        code = cli.main(prog_name="coilwright", standalone_mode=False)
        return code if isinstance(code, int) else 0
    # newer clicks raise it where older ones print the help: a group by itself is a question, not a fault
    except click.exceptions.NoArgsIsHelpError as error:
        click.echo(error.format_message())
        return 0
    except click.Abort:
        click.echo("coilwright: stopped", err=True)
        return 130  # 128 and the number of the signal, as shells count it
    except (Refusal, click.ClickException) as error:
        words = _words(error) if isinstance(error, click.ClickException) else said(say_faults(error))
        click.echo(f"coilwright: {' '.join(words.split())}", err=True)
        return 2


def _words(error: click.ClickException) -> str:
    """What click found wrong, and what to write instead where it does not say."""
    words = error.format_message()
    if isinstance(error, click.NoSuchOption) and re.match(r"-[0-9.,]", error.option_name):
        return f"{error.option_name} begins with a minus, and a size is above zero; give one such as 1.2 mm"
    if isinstance(error, click.MissingParameter):
        # the first example of the command's help that has what is missing
        lines = (error.ctx.command.help or "").splitlines() if error.ctx else []
        option = next((name for name in error.param.opts if name.startswith("-")), "") if error.param else ""
        for line in lines:
            if line.strip().startswith("coilwright ") and option in line:
                return f"{words.rstrip('.')}; for example: {line.strip()}"
    return words
