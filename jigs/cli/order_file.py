"""Reading an order for a command: every fault on a line of its own, then one refusal."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

import click

from jigs.bench.bench import Bench
from jigs.bench.reading import read_bench
from jigs.orders.order import Order
from jigs.orders.reading import Names, read_order, read_weaves
from layouts.errors import FileRefused
from layouts.files.faults import MOST_FAULTS_SHOWN, FileFaulty

Read = TypeVar("Read")


def order_and_bench(file: str, folder: Path) -> tuple[Order, Bench]:
    """The order in a file and what is owned."""
    bench = with_all_faults(lambda: read_bench(folder))
    weaves = with_all_faults(lambda: read_weaves(folder / "weaves.toml"))
    return with_all_faults(lambda: read_order(Path(file), Names(bench=bench, weaves=weaves))), bench


def with_all_faults(read: Callable[[], Read]) -> Read:
    """What is read. Where a file has several faults, each is a line of the error stream, and their count refuses it."""
    try:
        return read()
    except FileFaulty as refusal:
        shown = refusal.faults[:MOST_FAULTS_SHOWN]
        if len(shown) == 1:
            raise
        for fault in shown:
            click.echo(str(fault), err=True)
        left = len(refusal.faults) - len(shown)
        if left:
            click.echo(f"and {left} more faults", err=True)
        count, name = len(refusal.faults), refusal.faults[0].file
        raise FileRefused(f"{count} faults in {name}", "nothing was made") from None
