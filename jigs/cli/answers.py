"""Printing a report: as text no wider than the terminal, or as JSON; and what the maker should be told loudly."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Callable, Sequence
from typing import Any

import click

from jigs.reports.report import Report


def json_option(function: Callable[..., Any]) -> Callable[..., Any]:
    """Adds --json, given to the command as `as_json`."""
    return click.option("--json", "as_json", is_flag=True, help="The same for scripts, keys with units.")(function)


def details_option(function: Callable[..., Any]) -> Callable[..., Any]:
    """Adds --details."""
    return click.option("--details", is_flag=True, help="Every term of the uncertainties too.")(function)


def say(report: Report, cautions: Sequence[str] = (), *, as_json: bool = False) -> None:
    """Prints the report, then the cautions: on the error stream where the output is for scripts."""
    if as_json:
        from jigs.reports import as_json as scripts

        click.echo(scripts.as_json(report))
    else:
        from jigs.reports.as_text import USUAL_WIDTH, as_text

        # A pipe has no width: what is written to a file does not depend on the window it was typed in.
        width = shutil.get_terminal_size().columns if sys.stdout.isatty() else USUAL_WIDTH
        click.echo(as_text(report, width))
    say_cautions(cautions, err=as_json)


def say_cautions(cautions: Sequence[str], *, err: bool = False) -> None:
    """Each caution on a line of its own."""
    for caution in cautions:
        click.echo(f"CAUTION: {caution}", err=err)
