"""The option --overwrite, and the question that takes its place where a person sits at a terminal."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from layouts.errors import printable

_KEY = "coilwright.overwrite"


def overwriting() -> click.Option:
    """The option --overwrite; the command does not get it, `may_overwrite` does."""

    def keep(context: click.Context, _: click.Parameter, value: bool) -> None:
        context.meta[_KEY] = value

    words = "Write over files that are there, whoever wrote them."
    return click.Option(["--overwrite"], is_flag=True, expose_value=False, callback=keep, help=words)


def overwrite_option(function: Callable[..., Any]) -> Callable[..., Any]:
    """Adds --overwrite to a command that is being made."""
    function.__dict__.setdefault("__click_params__", []).append(overwriting())  # as click's own decorators do
    return function


def may_overwrite(path: Path) -> bool:
    """Whether the option was given; or else whether a person at the terminal says yes."""
    context = click.get_current_context(silent=True)
    if context is not None and context.meta.get(_KEY):
        return True
    if not (sys.stdin.isatty() and sys.stderr.isatty()):
        return False
    question = f"{printable(str(path))} is there already, and Coilwright did not write it. Write over it?"
    return click.confirm(question, default=False, err=True)
