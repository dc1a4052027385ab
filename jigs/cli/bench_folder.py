"""Where the bench folder of this user is: named by an option, or by the environment, or the usual place."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

VARIABLE = "COILWRIGHT_BENCH"


_OPTION: dict[str, Any] = {
    "default": "",
    "envvar": VARIABLE,
    "metavar": "DIR",
    "help": "Your bench folder; `coilwright bench` says where it is.",
}


def bench_parameter() -> click.Option:
    """--bench, given to the command as `bench_dir`."""
    return click.Option(["--bench", "bench_dir"], **_OPTION)


def bench_option(function: Callable[..., Any]) -> Callable[..., Any]:
    """Adds --bench to a command."""
    return click.option("--bench", "bench_dir", **_OPTION)(function)


def bench_path(bench_dir: str | None) -> Path:
    """The bench folder: the one that is named, or the usual place of the system for one user's data."""
    if bench_dir:
        return Path(bench_dir).expanduser()
    from platformdirs import user_data_path  # the only use of it

    return user_data_path("coilwright", appauthor=False)
