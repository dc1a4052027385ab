"""The options of a record: one for each field, in the order of the boxes on the job card; and asking for them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from jigs.bench.record import FIELDS, SIZES
from jigs.cli.asking import ask, in_a_terminal
from jigs.cli.quantities import COUNT
from layouts.units import with_unit

_WHOLE = ("good", "rejects", "chain_rings")


def field_options(function: Callable[..., Any]) -> Callable[..., Any]:
    """Adds an option for every field, given to the command by its key ("with" as "with_")."""
    for field in reversed(FIELDS):
        name = f"--{field.key.replace('_', '-')}"
        if field.key == "confirmed":
            option = click.option(name, field.key, is_flag=True, default=None, help=_about(field.about))
        elif field.key in _WHOLE:
            option = click.option(name, field.key, type=COUNT, metavar="NUMBER", help=_about(field.about))
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


def asked(bench: Path, values: dict[str, Any]) -> dict[str, Any]:
    """The values with the boxes asked for that are still empty; Enter leaves a box out. Only in a terminal.

    Each answer is looked at as it is given, so that nothing typed is lost at the end.
    """
    from jigs.actions.record import check_field, knows_spool

    if not in_a_terminal() or any(values.get(key) for key in SIZES):
        return values
    click.echo("The boxes of the job card, one by one; Enter leaves one out. A bare figure is in mm.")
    for field in FIELDS:
        key, is_known = field.key, knows_spool(bench, values.get("spool", ""))
        is_asked = field.box or key == "wanted" or (key in ("metal", "temper") and not is_known)
        if values.get(key) or not is_asked or (key == "wire" and is_known):
            continue
        if key == "chain_rings" and not values.get("chain"):
            continue

        def read(words: str, key: str = key) -> str:
            given = with_unit(words, "mm") if key in (*SIZES, "wanted") else words.strip()
            check_field(bench, key, _value(key, given), values)
            return given

        needed = key == "mandrel" or (key == "wire" and not is_known)
        if words := ask(f"{field.box or key} ({field.about})", read, None if needed else "").strip():
            values[key] = _value(key, words)
    return values


def _value(key: str, words: str) -> Any:
    return int(words) if key in _WHOLE and words.isdecimal() else words


def _dest(key: str) -> str:
    return f"{key}_" if key == "with" else key


def _about(words: str) -> str:
    return f"{words[0].upper()}{words[1:]}."
