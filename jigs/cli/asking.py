"""Asking in a terminal: one question at a time, what is refused is said and asked again."""

from __future__ import annotations

import sys
from collections.abc import Callable

import click

from jigs.cli.refusals import said
from layouts.errors import Refusal
from layouts.units import with_unit


def in_a_terminal() -> bool:
    """Whether somebody is there to answer."""
    return sys.stdin.isatty()


def ask(question: str, read: Callable[[str], str], default: str | None = None) -> str:
    """An answer that `read` takes; what it refuses is said, and asked again. Enter gives the default as it is."""

    def checked(words: str) -> str:
        try:
            return words if words == default else read(words)
        except Refusal as error:
            raise click.UsageError(said(error)) from error

    answer: str = click.prompt(question, default=default, value_proc=checked, show_default=bool(default))
    return answer


def read_by(read: Callable[[str], object], unit: str = "") -> Callable[[str], str]:
    """Words that `read` takes; a bare figure is in the unit that was asked for."""

    def words_of(words: str) -> str:
        given = with_unit(words, unit)
        read(given)
        return given

    return words_of
