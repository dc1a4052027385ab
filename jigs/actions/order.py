"""Orders: a new one to fill in, and the plan of one."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from functools import partial
from pathlib import Path

from jigs.bench.reading import read_bench
from jigs.bench.settings import units_for
from jigs.orders.example import example
from jigs.orders.own_weaves import read_weaves
from jigs.orders.reading import Names, read_order
from jigs.planning.inverse import in_wire
from jigs.planning.plan import Plan, make_plan
from jigs.planning.sizes import with_sizes
from jigs.stock.wire import Wire
from layouts.errors import FileRefused, printable
from layouts.files.whole import write_whole
from layouts.lengths import said_in


def new_order(path: Path, *, for_class: bool = True, units: str = "") -> None:
    """Writes a commented order to fill in, ready to plan as it is. A file that is there already is left alone."""
    if path.suffix != ".toml":
        raise FileRefused(f"an order is a TOML file, and {path.name} is not named as one", f"name it {path.stem}.toml")
    with suppress(OSError):  # what cannot be looked at cannot be written either, and that says why
        if path.is_symlink() or path.exists():
            raise FileRefused(f"{printable(str(path))} is there already", "give another name")
    write_whole(
        path,
        example(for_class=for_class, units=units).encode(),
        remedy="give another name, in a folder that you can write in",
    )


def plan_order(
    path: Path,
    bench: Path,
    *,
    wire: Wire | None = None,
    ring: str | None = None,
    units: str = "",
    without_records: bool = False,
    progress: Callable[[str, int, int], None] = lambda doing, done, total: None,
) -> Plan:
    """The plan of the order in a file, with what is owned according to the files in the folder `bench`.

    With a wire, the same weaves in that wire (of one ring, where it is named): the AR is kept. Every fault of a file
    is refused at once (`FileFaulty`). Lengths are said, and wire is cut, in these units; left out, in those of the
    order, then of the bench. `without_records`: as if no batch had been recorded. `progress` is told how many steps
    of how many are done.
    """
    owned = read_bench(bench)
    if without_records:
        owned = replace(owned, records=())
    order = read_order(path, Names(bench=owned, weaves=read_weaves(bench / "weaves.toml")))
    order = replace(order, units=units_for(bench, units, order.units))
    planning = partial(progress, "Planning")
    with said_in(order.units):
        return make_plan(in_wire(with_sizes(order, owned), wire, ring) if wire else order, owned, planning)
