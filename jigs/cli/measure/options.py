"""The options that several of the commands `measure ...` share, and what they make of them."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import click

from jigs.cli.answers import json_option, say
from jigs.cli.bench_folder import bench_option
from jigs.cli.completing import complete_metals, complete_printers, complete_spools
from jigs.cli.quantities import DENSITY, LENGTH, METAL, WIRE
from jigs.cli.units import units_option

if TYPE_CHECKING:
    from jigs.actions.keep_measured import Kept
    from jigs.actions.measure import Common, Found, WireGiven

_Function = Callable[..., Any]
_Decorator = Callable[[_Function], _Function]


def readings(name: str, key: str, help_words: str, kind: Any = LENGTH, metavar: str = "LENGTH") -> _Decorator:
    """An option for a reading, given again for each."""
    return click.option(name, key, type=kind, multiple=True, metavar=metavar, help=help_words)


def common_options(function: _Function) -> _Function:
    """Adds what was read with, the printer of the sheet, units, JSON and the bench."""
    for option in (
        bench_option,
        units_option,
        json_option,
        click.option("--tray", default="", metavar="TEXT", help="The paper that it was printed on."),
        click.option(
            "--printer",
            default="",
            metavar="NAME",
            shell_complete=complete_printers,
            help="The printer that the sheet was made true for, whose scale counts; none: it was not. "
            "[default: the usual one]",
        ),
        click.option(
            "--length-with",
            default="",
            metavar="INSTRUMENT",
            help="What lengths were read with: rule, loupe, caliper or a printed strip.",
        ),
        click.option(
            "--with",
            "across_with",
            default="caliper",
            show_default=True,
            metavar="INSTRUMENT",
            help="What reads across; `coilwright tables instruments` lists them.",
        ),
    ):
        function = option(function)
    return function


def wire_options(function: _Function) -> _Function:
    """Adds the wire that the size is worked out with."""
    for option in (
        click.option(
            "--spool", default="", metavar="NAME", shell_complete=complete_spools, help="Or: a spool of your bench."
        ),
        click.option("--wire-good-for", type=LENGTH, help="How good that is (k = 2); within 1 % when left out."),
        click.option("--wire", type=WIRE, help="The wire: a gauge with its system, or its diameter."),
    ):
        function = option(function)
    return function


def metal_options(function: _Function) -> _Function:
    """Adds what is weighed."""
    for option in (
        click.option("--density", "density_g_cm3", type=DENSITY, help="Or: its density."),
        click.option("--metal", type=METAL, shell_complete=complete_metals, help="What it is of."),
    ):
        function = option(function)
    return function


def replace_option(function: _Function) -> _Function:
    """Adds --replace."""
    return click.option("--replace", is_flag=True, help="Write over what is there under that name.")(function)


def common_of(given: dict[str, Any]) -> Common:
    """What was read with and the printer, taken out of what was given."""
    from jigs.actions.measure import Common

    return Common(**{key: given.pop(key) for key in ("across_with", "length_with", "printer", "tray")})


def wire_of(given: dict[str, Any]) -> WireGiven:
    """The wire, taken out of what was given."""
    from jigs.actions.measure import WireGiven

    return WireGiven(wire=given.pop("wire"), good_for_mm=given.pop("wire_good_for"), spool=given.pop("spool"))


def say_found(found: Found, *, as_json: bool) -> None:
    """The report, and loudly what contradicts."""
    from jigs.reports.measuring import cautions_of, measured_report

    say(measured_report(found), cautions_of(found), as_json=as_json)


def say_kept(kept: Kept, *, as_json: bool) -> None:
    """Where it is kept."""
    click.echo(f"\n{kept.kind} {kept.name} is in {kept.file}", err=as_json)
