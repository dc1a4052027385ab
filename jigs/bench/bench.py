"""What the user owns: mandrels, drills, blades and spools, from the files of the bench folder. Lengths in mm.

Each file is a list of tables by name, and may be written by hand as well as by `coilwright bench add`:

    ["rod 7"]                    # mandrels.toml
    measured = "6.02 mm"         # by caliper; it counts, whatever the name says
    kind = "steel"               # steel, wood, plastic or household

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
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

from jigs.stock.blade import Blade, blades, measured_kerf
from jigs.stock.drill import Drill
from jigs.stock.metal import Metal, find_metal, temper_name
from jigs.stock.wire import Wire, mg_per_mm, parse_wire
from layouts.errors import OutOfRange, QuantityRefused, Refusal, UnknownName, shown
from layouts.files.entries import Entries, in_text, number, one_of, open_entries, words
from layouts.units import parse_length, parse_quantity, positive

KINDS = ("steel", "wood", "plastic", "household")
MOST_OWNED = 1000  # of each; a bench has less
WIDTH_OF_THICKNESS = 2.0  # a piercing blade is about twice as wide as thick (the table's own rows)

Owned = TypeVar("Owned")


@dataclass(frozen=True, slots=True, kw_only=True)
class Mandrel:
    """A thing to wind on, by its name, its measured diameter in mm and its kind."""

    name: str
    measured_mm: float
    kind: str = "steel"

    def __post_init__(self) -> None:
        if not 0.2 <= positive(self.measured_mm, "mandrel") <= 500:
            raise OutOfRange(f"a mandrel of {self.measured_mm:g} mm is none for rings", "give 0.2 mm to 500 mm")
        if self.kind not in KINDS:
            raise UnknownName("kind of mandrel", self.kind, KINDS)

    @property
    def is_wood(self) -> bool:
        """Whether a saw may run into it."""
        return self.kind == "wood"

    @property
    def is_hard(self) -> bool:
        """Whether it is hard and smooth, so that a coil slides off for the cutters."""
        return self.kind == "steel"


@dataclass(frozen=True, slots=True, kw_only=True)
class Spool:
    """Wire at hand, of one metal and temper: length in mm, whole millimetres rounded down."""

    name: str
    wire: Wire
    metal: Metal
    temper: str
    length_mm: int

    def __post_init__(self) -> None:
        positive(self.length_mm, "length on a spool")

    @classmethod
    def of_mass(cls, *, name: str, wire: Wire, metal: Metal, temper: str, mass_g: float) -> Spool:
        """A spool known by the mass of its wire: length = mass / (section x density)."""
        if metal.density_g_cm3 is None:
            raise QuantityRefused(f"no density of {metal.name} is known here", "give the length instead of the mass")
        length = positive(mass_g, "mass on a spool") * 1000 / mg_per_mm(wire.diameter_mm, metal.density_g_cm3)
        return cls(name=name, wire=wire, metal=metal, temper=temper, length_mm=math.floor(length))


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """Everything owned, each in the order of its file. With nothing owned the built-in series serve."""

    mandrels: tuple[Mandrel, ...] = ()
    drills: tuple[Drill, ...] = ()
    blades: tuple[Blade, ...] = ()
    spools: tuple[Spool, ...] = ()

    def mandrel(self, name: str) -> Mandrel:
        """The mandrel of that name; refused with the names that there are."""
        return _named(name, self.mandrels, "mandrel")

    def blade(self, name: str) -> Blade:
        """The owned blade of that name, with its measured kerf; else the table's."""
        from jigs.stock.blade import find_blade

        for blade in self.blades:
            if blade.name == name.strip():
                return blade
        return find_blade(name)


def read_bench(folder: Path) -> Bench:
    """What the files of the bench folder say is owned; a file that is not there is an empty one.

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
    measured = entry.need("measured", in_text(parse_length), '"6.02 mm"')
    kind = entry.take("kind", one_of(*KINDS), "steel")
    return _made(entry, lambda: Mandrel(name=name, measured_mm=measured, kind=kind) if measured else None)


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
    return _made(
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
            f"spool {shown(name)} has {'both' if mass else 'no'} length and mass", "give length or mass, one of the two"
        )
    if wire is None or metal is None:
        return None
    if mass is not None:
        return _made(entry, lambda: Spool.of_mass(name=name, wire=wire, metal=metal, temper=temper, mass_g=mass))
    if length is None:
        return None
    return _made(entry, lambda: Spool(name=name, wire=wire, metal=metal, temper=temper, length_mm=math.floor(length)))


READERS: Mapping[str, Callable[[str, Entries], Any]] = {
    "mandrel": mandrel_of,
    "drill": drill_of,
    "blade": blade_of,
    "spool": spool_of,
}
"""What can be owned, and the reader of its table; its file is the name with s.toml."""


def named_entries(top: Entries, read: Callable[[str, Entries], Owned | None]) -> tuple[Owned, ...]:
    """Every table of a file of named things, read; refuses the file if any has a fault."""
    found = []
    for name, entry in top.named(MOST_OWNED):
        if not _can_be_named(name):
            entry.fault(f"{shown(name)} is no name", "write 1 to 60 printable characters")
        found.append(read(name.strip(), entry))
        entry.close()
    top.book.finish()
    return tuple(one for one in found if one is not None)


def _read(path: Path, read: Callable[[str, Entries], Owned | None]) -> tuple[Owned, ...]:
    return named_entries(open_entries(path), read) if path.exists() else ()


def _can_be_named(name: str) -> bool:
    try:
        words()(name)
    except QuantityRefused:
        return False
    return True


def _made(entry: Entries, make: Callable[[], Owned]) -> Owned | None:
    """What is made, or a fault noted at the table when it refuses."""
    try:
        return make()
    except Refusal as refusal:
        entry.fault(refusal.problem, refusal.remedy)
        return None


def _named(name: str, things: tuple[Mandrel, ...], kind: str) -> Mandrel:
    for thing in things:
        if thing.name == name.strip():
            return thing
    raise UnknownName(kind, name, [thing.name for thing in things])
