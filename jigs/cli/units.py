"""The option that chooses how lengths are said, and the answer in which they are."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import click

from jigs.bench.place import bench_path

_OPTION: dict[str, Any] = {
    "type": click.Choice(["mm", "inch"]),
    "default": None,
    "help": "How lengths are said; inches have the millimetres beside. [default: as your bench has it, or mm]",
}


def units_parameter(otherwise: str = "") -> click.Option:
    """--units; `otherwise` says what counts where it is left out."""
    return click.Option(["--units"], **_said(otherwise))


def units_option(function: Callable[..., Any]) -> Callable[..., Any]:
    """Adds --units to a command."""
    return click.option("--units", **_OPTION)(function)


def units_of_order_option(function: Callable[..., Any]) -> Callable[..., Any]:
    """The same where an order may say it too."""
    return click.option("--units", **_said("as in the order"))(function)


@contextmanager
def in_units(units: str | None, bench_dir: str | None) -> Iterator[None]:
    """Within it lengths are said in this unit, or in that of the bench folder."""
    from jigs.bench.settings import units_for
    from layouts.lengths import said_in

    with said_in(units_for(bench_path(bench_dir), units or "")):
        yield


def _said(otherwise: str) -> dict[str, Any]:
    if not otherwise:
        return _OPTION
    return {**_OPTION, "help": f"How lengths are said; inches have the millimetres beside. [default: {otherwise}]"}
