"""What the user owns: mandrels, drills, blades, spools, instruments and records, as frozen values. Lengths in mm."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from jigs.making.winding import longest_winding
from jigs.stock.blade import Blade
from jigs.stock.drill import Drill
from jigs.stock.instrument import Instrument, find_instrument, instruments
from jigs.stock.metal import Metal
from jigs.stock.rod import parse_rod
from jigs.stock.section import NotRound
from jigs.stock.wire import Wire, mg_per_mm
from layouts.errors import OutOfRange, QuantityRefused, UnknownName, shown
from layouts.units import positive

if TYPE_CHECKING:
    from jigs.bench.record import Record

KINDS = ("steel", "wood", "plastic", "household")
ONE_WAY, ALL_ROUND = "one way", "at right angles too"
"""How a rod is read across: its wide or its narrow side alone where it is oval, or both."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Mandrel:
    """A thing to wind on: its name, its measured diameter in mm, its kind, and its length in mm where that is known.

    instrument is what it was measured with, by name, and readings how often; measured_mm is then their mean. scale is a
    part (k = 2) by which that may have been off, of a printed strip its printer's; None: as the table has it.
    is_read_all_round: at right angles too, so that of an oval rod the mean is known.
    """

    name: str
    measured_mm: float
    kind: str = "steel"
    length_mm: float | None = None
    instrument: str = "caliper"
    readings: int = 1
    scale: float | None = None
    is_read_all_round: bool = False

    def __post_init__(self) -> None:
        if not 0.2 <= positive(self.measured_mm, "mandrel") <= 500:
            problem = f"a mandrel of {self.measured_mm:g} mm cannot be wound on"
            raise OutOfRange(problem, "give 0.2 mm to 500 mm", field="measured")
        if self.kind not in KINDS:
            raise UnknownName("kind of mandrel", self.kind, KINDS)
        longest_winding(length_mm=self.length_mm)  # refuses one too short for what holds it

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
    """Wire at hand, of one metal and temper: length in mm, whole millimetres rounded down.

    instrument is what the wire's diameter was measured with, by name, and readings how often, scale as a mandrel's; ""
    as it is sold.
    """

    name: str
    wire: Wire
    metal: Metal
    temper: str
    length_mm: int
    instrument: str = ""
    readings: int = 1
    scale: float | None = None

    def __post_init__(self) -> None:
        positive(self.length_mm, "length on a spool")

    @classmethod
    def of_mass(cls, *, name: str, wire: Wire, metal: Metal, temper: str, mass_g: float, **more: Any) -> Spool:
        """A spool known by the mass of its wire: length = mass / (section x density)."""
        if metal.density_g_cm3 is None:
            problem = f"no density of {metal.name} is known here"
            raise QuantityRefused(problem, "give the length instead of the mass", field="mass")
        length = positive(mass_g, "mass on a spool") * 1000 / mg_per_mm(wire.diameter_mm, metal.density_g_cm3)
        return cls(name=name, wire=wire, metal=metal, temper=temper, length_mm=math.floor(length), **more)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """Everything owned, each in the order of its file. With nothing owned the built-in series serve."""

    mandrels: tuple[Mandrel, ...] = ()
    drills: tuple[Drill, ...] = ()
    blades: tuple[Blade, ...] = ()
    spools: tuple[Spool, ...] = ()
    instruments: tuple[Instrument, ...] = ()
    records: tuple[Record, ...] = ()

    def mandrel(self, name: str) -> Mandrel:
        """The mandrel of that name; refused with the known names."""
        for mandrel in self.mandrels:
            if mandrel.name == name.strip():
                return mandrel
        raise UnknownName("mandrel", name, [mandrel.name for mandrel in self.mandrels])

    def spool(self, name: str) -> Spool:
        """The spool of that name; refused with the known names."""
        for spool in self.spools:
            if spool.name == name.strip():
                return spool
        raise UnknownName("spool", name, [spool.name for spool in self.spools])

    def instrument(self, name: str, reads: str = "") -> Instrument:
        """The instrument of that name, one's own before the table's; refused with the known names.

        With `reads` one that does not read that is refused with those that do.
        """
        found = find_instrument(name, self.instruments)
        if reads and reads not in found.reads:
            own = [tool.name for tool in self.instruments]
            all_of_them = (*self.instruments, *(tool for tool in instruments() if tool.name not in own))
            what = {"inside": "an inside", "outside": "an outside", "turns": "turns"}.get(reads, f"a {reads}")
            known = [tool.name for tool in all_of_them if reads in tool.reads]
            raise UnknownName(f"instrument that reads {what}", name, known)
        return found

    def instrument_of(self, thing: Mandrel | Spool) -> Instrument:
        """What a mandrel or a spool's wire was measured with, with the scale that it had then."""
        return self.instrument(thing.instrument).off_by(thing.scale)

    def rod_mm(self, words: str) -> float:
        """The diameter of what is wound on [mm]: as measured where it is one of these by its name, else as written."""
        for mandrel in self.mandrels:
            if mandrel.name == words.strip():
                return mandrel.measured_mm
        try:
            return parse_rod(words)
        except NotRound:
            raise
        except QuantityRefused:
            if words.strip()[:1].isdigit():  # a size, and that says what it lacks
                raise
            owned = ", ".join(mandrel.name for mandrel in self.mandrels) or "none"
            raise QuantityRefused(
                f"{shown(words)} is neither a mandrel of your bench nor a size",
                f'write a size such as "5 mm", or one of yours (owned: {owned})',
            ) from None

    def blade(self, name: str) -> Blade:
        """The owned blade of that name, with its measured kerf; else the table's."""
        from jigs.stock.blade import find_blade

        for blade in self.blades:
            if blade.name == name.strip():
                return blade
        return find_blade(name)
