"""The options of a record: one for each field, in the order of the boxes on the job card; and asking for them."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import click

from jigs.bench.record import FIELDS, SIZES
from jigs.cli.asking import ask, in_a_terminal, read_by
from layouts.units import parse_length

_WHOLE = ("good", "rejects", "chain_rings")


def field_options(function: Callable[..., Any]) -> Callable[..., Any]:
    """Adds an option for every field, given to the command by its key ("with" as "with_")."""
    for field in reversed(FIELDS):
        name = f"--{field.key.replace('_', '-')}"
        if field.key == "confirmed":
            option = click.option(name, field.key, is_flag=True, default=None, help=_about(field.about))
        elif field.key in _WHOLE:
            option = click.option(name, field.key, type=int, metavar="NUMBER", help=_about(field.about))
        elif field.key in SIZES:
            again = f"{_about(field.about)[:-1]}; again for each reading."
            option = click.option(name, field.key, multiple=True, metavar="LENGTH", help=again)
        else:
            option = click.option(name, _dest(field.key), metavar="TEXT", help=_about(field.about))
        function = option(function)
    return function


def values_of(given: dict[str, Any]) -> dict[str, Any]:
    """The values by the keys of the file."""
    return {field.key: given[_dest(field.key)] for field in FIELDS if given.get(_dest(field.key)) not in (None, ())}


def asked(values: dict[str, Any]) -> dict[str, Any]:
    """The values with the boxes asked for that are still empty; Enter leaves a box out. Only in a terminal."""
    if not in_a_terminal() or any(values.get(key) for key in SIZES):
        return values
    click.echo("The boxes of the job card, one by one; Enter leaves one out. A bare figure is in mm.")
    for field in FIELDS:
        is_asked = field.box or (field.key == "metal" and not values.get("spool"))
        if values.get(field.key) or not is_asked or (field.key == "wire" and values.get("spool")):
            continue
        if field.key == "chain_rings" and not values.get("chain"):
            continue
        read = read_by(parse_length, "mm") if field.key in SIZES else str
        if words := ask(f"{field.box or field.key} ({field.about})", read, "").strip():
            values[field.key] = int(words) if field.key in _WHOLE and words.isdecimal() else words
    return values


def _dest(key: str) -> str:
    return f"{key}_" if key == "with" else key


def _about(words: str) -> str:
    return f"{words[0].upper()}{words[1:]}."
