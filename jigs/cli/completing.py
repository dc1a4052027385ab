"""Values that the shell completes: papers, metals, blades, and what is recorded in the bench folder."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any

import click

from jigs.bench.place import bench_path

if TYPE_CHECKING:
    from pathlib import Path

Complete = Callable[[click.Context, click.Parameter, str], list[Any]]


def completes(names: Callable[[click.Context], Iterable[str]]) -> Complete:
    """Completes one of the names, in any case. What cannot be read completes nothing."""

    def complete(ctx: click.Context, param: click.Parameter, incomplete: str) -> list[Any]:
        from layouts.errors import Refusal

        try:
            found = [name for name in names(ctx) if name.casefold().startswith(incomplete.casefold())]
        except (Refusal, OSError):
            found = []  # a refusal would be printed across the prompt
        # bash puts a value in as it is, other shells quote it themselves
        in_bash = os.environ.get("_COILWRIGHT_COMPLETE", "").startswith("bash")
        return [name.replace(" ", "\\ ") if in_bash else name for name in found]

    return complete


def bench_of(ctx: click.Context) -> Path:
    """The bench folder of a command that is not yet complete; click has read its options as far as they go."""
    return bench_path(ctx.params.get("bench_dir") or os.environ.get("COILWRIGHT_BENCH"))


@completes
def complete_papers(ctx: click.Context) -> Iterable[str]:
    """The papers of the table."""
    from layouts.pages.paper import papers

    return papers()


@completes
def complete_printers(ctx: click.Context) -> Iterable[str]:
    """The printers of the bench folder."""
    from jigs.actions.printer import list_printers

    return dict.fromkeys(printer.name for printer in list_printers(bench_of(ctx))[0])


@completes
def complete_machines(ctx: click.Context) -> Iterable[str]:
    """The lasers, knives and 3D printers of the bench folder."""
    from jigs.actions.machine import list_machines

    return dict.fromkeys(machine.name for machine in list_machines(bench_of(ctx)))


@completes
def complete_owned(ctx: click.Context) -> Iterable[str]:
    """The names of what is owned, of the kind that is named before."""
    from jigs.bench.reading import read_bench

    bench = read_bench(bench_of(ctx))
    kept: dict[str, Iterable[Any]] = {
        "mandrel": bench.mandrels,
        "drill": bench.drills,
        "blade": bench.blades,
        "spool": bench.spools,
        "instrument": bench.instruments,
    }
    return [thing.name for thing in kept.get(ctx.params.get("kind") or "", ())]


@completes
def complete_metals(ctx: click.Context) -> Iterable[str]:
    """The metals of the table."""
    from jigs.stock.metal import metals

    return [metal.name for metal in metals()]


@completes
def complete_blades(ctx: click.Context) -> Iterable[str]:
    """The saw blades of the table."""
    from jigs.stock.blade import blades

    return [blade.name for blade in blades()]


@completes
def complete_tempers(ctx: click.Context) -> Iterable[str]:
    """The four tempers."""
    from jigs.stock.metal import TEMPERS

    return TEMPERS


@completes
def complete_mandrel_names(ctx: click.Context) -> Iterable[str]:
    """The mandrels that are owned, by their names."""
    from jigs.bench.reading import read_bench

    return [mandrel.name for mandrel in read_bench(bench_of(ctx)).mandrels]


@completes
def complete_records(ctx: click.Context) -> Iterable[str]:
    """The records of batches, by their names."""
    from jigs.bench.reading import read_bench

    return [record.name for record in read_bench(bench_of(ctx)).records]


@completes
def complete_instruments(ctx: click.Context) -> Iterable[str]:
    """What sizes are read with: the instruments of one's own, and those of the table."""
    from jigs.bench.reading import read_bench
    from jigs.stock.instrument import instruments

    return dict.fromkeys(tool.name for tool in (*read_bench(bench_of(ctx)).instruments, *instruments()))


@completes
def complete_spools(ctx: click.Context) -> Iterable[str]:
    """The spools that are owned, by their names."""
    from jigs.bench.reading import read_bench

    return [spool.name for spool in read_bench(bench_of(ctx)).spools]


@completes
def complete_mandrels(ctx: click.Context) -> Iterable[str]:
    """The measured sizes of the mandrels that are owned, as they are typed."""
    from jigs.bench.reading import read_bench
    from layouts.showing import show_mm

    return dict.fromkeys(show_mm(mandrel.measured_mm, 3) for mandrel in read_bench(bench_of(ctx)).mandrels)
