"""The bench folder's files of what is owned, read. Lengths in mm.

Each file is a list of tables by name, and may be written by hand as well as by `coilwright bench add`:

    ["rod 7"]                    # mandrels.toml
    measured = "6.02 mm"         # by caliper; it counts, whatever the name says
    kind = "steel"               # steel, wood, plastic or household
    length = "200 mm"            # limits the windings: 30 mm of it are held; left out, 150 mm are counted on
    with = "strip"               # what it was measured with; a caliper when left out
    readings = 3                 # of which it is the mean; one when left out
    scale = "0.5 %"              # how far the strip's printer may be off; as `tables instruments` has it when left out
    read = "at right angles too" # of an oval rod the mean is known then; "one way" when left out

    ["1.3 mm"]                   # drills.toml
    diameter = "1.30 mm"

    ["2/0"]                      # blades.toml: a size of the table, or a blade of your own with its thickness
    kerf = "0.29 mm"             # measured in a trial cut
    thickness = "0.26 mm"
    teeth_per_inch = 56

    ["bronze, blue reel"]        # spools.toml
    wire = "1.2 mm"
    metal = "phosphor bronze"
    temper = "soft"
    length = "4.3 m"             # or mass = "52 g"
    with = "caliper"             # what its diameter was measured with, and readings and scale; left out, it is as sold

    ["old caliper"]              # instruments.toml: one that reads otherwise than the one of the table
    scatter = "0.05 mm"          # 95 of 100 readings of one thing lie so near to each other's mean
    bias = "0.04 mm"             # and so far all of them may be off together
    scale = "0.2 %"              # of the length, where it is printed or may be stretched
"""

from __future__ import annotations

import math
import os
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any, TypeVar

from jigs.bench.bench import ALL_ROUND, KINDS, ONE_WAY, Bench, Mandrel, Spool
from jigs.stock.blade import Blade, blades, measured_kerf
from jigs.stock.drill import Drill
from jigs.stock.figure import Basis
from jigs.stock.instrument import READS, Instrument, instruments
from jigs.stock.metal import find_metal, temper_name
from jigs.stock.rod import parse_rod
from jigs.stock.wire import parse_wire
from layouts.errors import UnknownName, shown
from layouts.files.entries import Entries, made, named_entries, open_entries
from layouts.files.values import in_text, list_of, number, one_of, percent, whole, words
from layouts.units import parse_length, parse_quantity

MOST_READINGS = 1000  # of one diameter
RECORDS = "records.toml"
WIDTH_OF_THICKNESS = 2.0  # a piercing blade is about twice as wide as thick (the table's own rows)

Owned = TypeVar("Owned")


def read_bench(folder: Path) -> Bench:
    """What the files of the bench folder say is owned; a missing file counts as empty.

    Refuses (`FileFaulty`) a file with faults, all of them at once, each with its line.
    """
    owned = read_owned(folder)
    if not os.path.lexists(folder / RECORDS):
        return owned
    from jigs.bench.records import record_reader  # many a bench has none, and starts faster

    records = _read(folder / RECORDS, record_reader(owned))
    return replace(owned, records=records) if records else owned


def read_owned(folder: Path) -> Bench:
    """The same without the records of batches."""
    return Bench(
        mandrels=_read(folder / "mandrels.toml", mandrel_of),
        drills=_read(folder / "drills.toml", drill_of),
        blades=_read(folder / "blades.toml", blade_of),
        spools=_read(folder / "spools.toml", spool_of),
        instruments=_read(folder / "instruments.toml", instrument_of),
    )


def mandrel_of(name: str, entry: Entries) -> Mandrel | None:
    """A mandrel from its table."""
    measured = entry.need("measured", in_text(parse_rod), '"6.02 mm"')
    kind = entry.take("kind", one_of(*KINDS), "steel")
    more = _measured_with(entry, "caliper")
    more["is_read_all_round"] = entry.take("read", one_of(ONE_WAY, ALL_ROUND), ONE_WAY) == ALL_ROUND
    length = entry.take("length", in_text(parse_length), None)
    if not measured:
        return None
    return made(entry, lambda: Mandrel(name=name, measured_mm=measured, kind=kind, length_mm=length, **more))


def drill_of(name: str, entry: Entries) -> Drill | None:
    """A drill from its table."""
    diameter = entry.need("diameter", in_text(parse_length), '"1.30 mm"')
    return Drill(name=name, series="owned", diameter_mm=diameter) if diameter else None


def blade_of(name: str, entry: Entries) -> Blade | None:
    """A blade from its table: what it does not say is taken from the blade of that name in our own table."""
    known = {blade.name: blade for blade in blades()}.get(name.removeprefix("#"))
    kerf = entry.need("kerf", in_text(parse_length), '"0.29 mm"')
    thickness = entry.take("thickness", in_text(parse_length), known.thickness_mm if known else None)
    teeth = entry.take("teeth_per_inch", number(5, 200), known.teeth_per_inch if known else None)
    if thickness is None or teeth is None:
        if not entry.has("thickness") or not entry.has("teeth_per_inch"):
            lacking = "teeth_per_inch" if entry.has("thickness") else "thickness"
            wrong = f"blade {shown(name)} is not in the table"
            boxed = f"{wrong}; give its thickness and its teeth per inch too"
            entry.fault(wrong, "give its thickness and teeth_per_inch too", lacking, boxed)
        return None
    if kerf is None:
        return None
    width = known.width_mm if known else WIDTH_OF_THICKNESS * thickness
    return made(
        entry,
        lambda: Blade(
            name=name,
            thickness_mm=thickness,
            width_mm=width,
            teeth_per_inch=teeth,
            kerf=measured_kerf(kerf),
            source="owned",
        ),
    )


def spool_of(name: str, entry: Entries) -> Spool | None:
    """A spool from its table; without a temper it is taken soft."""
    wire = entry.need("wire", in_text(parse_wire), '"1.2 mm"')
    metal = entry.need("metal", in_text(find_metal), '"phosphor bronze"')
    temper = entry.take("temper", in_text(temper_name), "soft")
    length = entry.take("length", in_text(parse_length), None)
    mass = entry.take("mass", in_text(lambda text: parse_quantity(text, "mass")), None)
    more = _measured_with(entry, "")
    if entry.has("length") == entry.has("mass"):
        entry.fault(
            f"spool {shown(name)} has {'both length and' if mass else 'neither length nor'} mass",
            "give its length or its mass, one of the two",
            "mass" if entry.has("length") else "length",
        )
    if wire is None or metal is None:
        return None
    if mass is not None:
        whole_spool = partial(Spool.of_mass, mass_g=mass)
    elif length is not None:
        whole_spool = partial(Spool, length_mm=math.floor(length))
    else:
        return None
    return made(entry, lambda: whole_spool(name=name, wire=wire, metal=metal, temper=temper, **more))


def instrument_of(name: str, entry: Entries) -> Instrument | None:
    """An instrument of one's own: what it does not say is taken from that of the table by its name."""
    known = {instrument.name: instrument for instrument in instruments()}.get(name)
    scatter = entry.take("scatter", in_text(parse_length), known.scatter_mm if known else None)
    bias = entry.take("bias", in_text(parse_length), known.bias_mm if known else 0.0)
    scale = entry.take("scale", percent(10), known.scale if known else 0.0)
    reads = entry.take("reads", list_of(one_of(*READS), len(READS)), known.reads if known else READS)
    if scatter is None:
        if not entry.has("scatter"):
            boxed = "nothing is known here of an instrument of that name; give its scatter, such as 0.03 mm"
            entry.fault(f"{entry.title} has no scatter", 'add a line such as scatter = "0.03 mm"', "scatter", boxed)
        return None
    return made(
        entry,
        lambda: Instrument(
            name=name,
            scatter_mm=scatter,
            bias_mm=bias,
            scale=scale,
            reads=reads,
            girth=known is not None and known.girth,
            printed=known is not None and known.printed,
            basis=Basis.MEASURED,
            source="as given",
        ),
    )


def _measured_with(entry: Entries, usual: str) -> dict[str, Any]:
    """With what a diameter was measured, how often, and at what scale."""
    return {
        "instrument": entry.take("with", words(40), usual),
        "readings": entry.take("readings", whole(1, MOST_READINGS), 1),
        "scale": entry.take("scale", percent(10), None),
    }


def reader_of(kind: str, folder: Path) -> Callable[[str, Entries], Any]:
    """The reader of one kind's tables; a record knows what else is on the bench by name. Refuses an unknown kind."""
    if kind == "record":
        from jigs.bench.records import record_reader

        return record_reader(read_owned(folder))
    if kind not in READERS:
        raise UnknownName("kind of thing", kind, (*READERS, "record"))
    return READERS[kind]


READERS: Mapping[str, Callable[[str, Entries], Any]] = {
    "mandrel": mandrel_of,
    "drill": drill_of,
    "blade": blade_of,
    "spool": spool_of,
    "instrument": instrument_of,
}
"""What can be owned, and the reader of its table; its file is the name with s.toml."""


def _read(path: Path, read: Callable[[str, Entries], Owned | None]) -> tuple[Owned, ...]:
    return named_entries(open_entries(path, needed=False), read)
