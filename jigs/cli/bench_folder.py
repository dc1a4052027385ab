"""The option that names the bench folder; the environment may name it too."""

from __future__ import annotations

from collections.abc import Callable
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
