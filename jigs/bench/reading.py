"""The bench folder's files of what is owned, read. Lengths in mm.

Each file is a list of tables by name, and may be written by hand as well as by `coilwright bench add`:

    ["rod 7"]                    # mandrels.toml
    measured = "6.02 mm"         # by caliper; it counts, whatever the name says
    kind = "steel"               # steel, wood, plastic or household
    length = "200 mm"            # limits the windings: 30 mm of it are held; left out, 150 mm are counted on

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
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any, TypeVar

from jigs.bench.bench import KINDS, Bench, Mandrel, Spool
from jigs.stock.blade import Blade, blades, measured_kerf
from jigs.stock.drill import Drill
from jigs.stock.metal import find_metal, temper_name
from jigs.stock.rod import parse_rod
from jigs.stock.wire import parse_wire
from layouts.errors import shown
from layouts.files.entries import Entries, made, named_entries, open_entries
from layouts.files.values import in_text, number, one_of
from layouts.units import parse_length, parse_quantity

WIDTH_OF_THICKNESS = 2.0  # a piercing blade is about twice as wide as thick (the table's own rows)

Owned = TypeVar("Owned")


def read_bench(folder: Path) -> Bench:
    """What the files of the bench folder say is owned; a missing file counts as empty.

    Refuses (`FileFaulty`) a file with faults, all of them at once, each with its line.
    """
    return Bench(
        mandrels=_read(folder / "mandrels.toml", mandrel_of),
        drills=_read(folder / "drills.toml", drill_of),
        blades=_read(folder / "blades.toml", blade_of),
        spools=_read(folder / "spools.toml", spool_of),
    )


def mandrel_of(name: str, entry: Entries) -> Mandrel | None:
    """A mandrel from its table."""
    measured = entry.need("measured", in_text(parse_rod), '"6.02 mm"')
    kind = entry.take("kind", one_of(*KINDS), "steel")
    length = entry.take("length", in_text(parse_length), None)
    if not measured:
        return None
    return made(entry, lambda: Mandrel(name=name, measured_mm=measured, kind=kind, length_mm=length))


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
            entry.fault(f"blade {shown(name)} is not in the table", "give its thickness and teeth_per_inch too")
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
    if entry.has("length") == entry.has("mass"):
        entry.fault(
            f"spool {shown(name)} has {'both length and' if mass else 'neither length nor'} mass",
            "give its length or its mass, one of the two",
        )
    if wire is None or metal is None:
        return None
    if mass is not None:
        return made(entry, lambda: Spool.of_mass(name=name, wire=wire, metal=metal, temper=temper, mass_g=mass))
    if length is None:
        return None
    return made(entry, lambda: Spool(name=name, wire=wire, metal=metal, temper=temper, length_mm=math.floor(length)))


READERS: Mapping[str, Callable[[str, Entries], Any]] = {
    "mandrel": mandrel_of,
    "drill": drill_of,
    "blade": blade_of,
    "spool": spool_of,
}
"""What can be owned, and the reader of its table; its file is the name with s.toml."""


def _read(path: Path, read: Callable[[str, Entries], Owned | None]) -> tuple[Owned, ...]:
    return named_entries(open_entries(path, needed=False), read)
