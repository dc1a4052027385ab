"""An order as frozen values: who it is for, which rings and how many, how they are made, what the wire costs."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from math import ceil
from typing import NamedTuple

from jigs.making.cutting import CUTS
from jigs.making.material import Material
from jigs.making.ring import Ring
from jigs.making.trial import TrialCoil
from jigs.making.winding import MOST_RINGS, USUAL_REJECTS, USUAL_TAILS_MM
from jigs.orders.price import Price
from jigs.orders.weave import Weave
from jigs.stock.blade import Blade
from jigs.stock.wire import Wire, mg_per_mm
from layouts.errors import OutOfRange, QuantityRefused, UnknownName
from layouts.lengths import are_inches, down_to_step
from layouts.units import INCH_MM, finite, positive

USUAL_SPARES = 0.15  # common practice, no source: 10-20 %
LONGEST_SNIP_MM = 50.0
MOST_SEATS = 10_000
MOST_TURNS = 60  # at shared saws; no class is longer
MOST_RING_KINDS = 100
MOST_PIECES_MADE = 100_000
_SLACK = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Count:
    """So many rings: for the whole order, or for each seat."""

    rings: int
    each_seat: bool = False

    def units(self, seats: int) -> int:
        """Rings in all: what is shared out among the seats."""
        return self.rings * (seats if self.each_seat else 1)

    def rings_in_one(self, ring: Ring) -> int:
        """A unit is a ring."""
        return 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Chain:
    """A plain chain of a length [mm]: each closed ring adds one inside diameter, and the ends two wires."""

    length_mm: float
    pieces: int | None = None

    def units(self, seats: int) -> int:
        """Pieces in all; left out, one for each seat."""
        return seats if self.pieces is None else self.pieces

    def rings_in_one(self, ring: Ring) -> int:
        """(length - 2 d) / inside, rounded up; at least one.

        >>> Chain(length_mm=190).rings_in_one(Ring(wire_mm=1.2, inside_mm=5.0))
        38
        """
        return max(1, ceil((self.length_mm - 2 * ring.wire_mm) / ring.inside_mm - _SLACK))


@dataclass(frozen=True, slots=True, kw_only=True)
class Sample:
    """A weave of a length [mm] by a test piece: so many rings made so much length [mm]."""

    length_mm: float
    sample_rings: int
    sample_length_mm: float
    pieces: int | None = None

    def units(self, seats: int) -> int:
        """Pieces in all; left out, one for each seat."""
        return seats if self.pieces is None else self.pieces

    def rings_in_one(self, ring: Ring) -> int:
        """length x sample rings / sample length, rounded up."""
        return max(1, ceil(self.length_mm * self.sample_rings / self.sample_length_mm - _SLACK))


Amount = Count | Chain | Sample


@dataclass(frozen=True, slots=True, kw_only=True)
class Making:
    """How rings are made. blade, kerf_mm and trim_mm left out are chosen by the plan. Common practice otherwise.

    spares is a part (0.15 for 15 %); rejects are rings per winding; tails_mm is wire per winding.
    longest_coil_mm is the longest winding, left out what the mandrel bears; longest_section_mm is what is sawn in one
    piece, left out what the groove of a usual bench pin holds. together: one seat winds and cuts them for all.
    """

    cut: str = "saw"
    blade: Blade | None = None
    kerf_mm: float | None = None
    trim_mm: float | None = None
    spares: float = USUAL_SPARES
    rejects: int = USUAL_REJECTS
    tails_mm: float = USUAL_TAILS_MM
    longest_coil_mm: float | None = None
    longest_section_mm: float | None = None
    together: bool = False

    def __post_init__(self) -> None:
        if self.cut not in CUTS:
            raise UnknownName("cut", self.cut, CUTS)
        if (self.blade is not None or self.kerf_mm is not None) and self.cut != "saw":
            problem, key = "a blade or a kerf belongs to the saw", "blade" if self.kerf_mm is None else "kerf"
            raise QuantityRefused(problem, "leave it out, or cut with a saw", field=key)
        if self.trim_mm is not None and self.cut != "cutters":
            raise QuantityRefused("a trim belongs to cutters", "leave it out, or cut with cutters", field="trim")
        if not 0 <= finite(self.spares, "spares") <= 1:
            raise OutOfRange(f"spares of {100 * self.spares:g} %", "give 0 % to 100 %")


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderedRing:
    """One kind of ring: its wire and metal, its size (inside_mm, outside_mm or ratio), how many, how made, what for.

    mandrel names an owned one; mandrel_mm is a rod by its size; left out, the plan chooses. With a mandrel and no size
    the ring that comes off it is wanted, and the plan works it out. size_from says where a size comes from that the
    order does not give itself: 'the good AR of byzantine'.
    trial is a measured trial coil of its wire; it replaces the metal's springback.
    """

    name: str
    wire: Wire
    material: Material
    amount: Amount
    inside_mm: float | None = None
    outside_mm: float | None = None
    ratio: float | None = None
    making: Making = field(default_factory=Making)
    weave: Weave | None = None
    mandrel: str = ""
    mandrel_mm: float | None = None
    trial: TrialCoil | None = None
    size_from: str = ""

    def __post_init__(self) -> None:
        sizes = 3 - [self.inside_mm, self.outside_mm, self.ratio].count(None)
        if sizes > 1 or (not sizes and not self.mandrel and self.mandrel_mm is None):
            raise QuantityRefused("a ring needs one size", "give one of inside, outside or ratio, or a mandrel alone")
        if self.material.density_g_cm3 is None:
            metal = self.material.metal
            if metal is None:
                raise QuantityRefused("a ring needs its metal, or there is nothing to weigh", "name the metal")
            problem = f"no density of {metal.name} is known here"
            raise QuantityRefused(problem, "give it, such as 4.5 g/cm3", field="density")
        if self.has_size:
            _ = self.wanted

    @property
    def has_size(self) -> bool:
        """Whether its size is known; else it is what its mandrel gives."""
        return any(size is not None for size in (self.inside_mm, self.outside_mm, self.ratio))

    def rings_in_all(self, seats: int) -> int:
        """Rings of all seats, spares not counted; 0 where a length is to be filled and the size is not known yet."""
        if isinstance(self.amount, Chain) and not self.has_size:
            return 0
        ring = self.wanted if self.has_size else Ring(wire_mm=self.wire.diameter_mm, inside_mm=1.0)  # of no account
        return self.amount.units(seats) * self.amount.rings_in_one(ring)

    @property
    def wanted(self) -> Ring:
        """The closed ring that is wanted. Refused (`QuantityRefused`) where only a mandrel is given."""
        if not self.has_size:
            raise QuantityRefused(f"the size of {self.name} is not worked out yet", "plan the order first")
        if self.inside_mm is not None:
            return Ring(wire_mm=self.wire.diameter_mm, inside_mm=self.inside_mm)
        if self.outside_mm is not None:
            return Ring.of_outside(wire_mm=self.wire.diameter_mm, outside_mm=self.outside_mm)
        return Ring.of_ratio(wire_mm=self.wire.diameter_mm, ratio=self.ratio or 0.0)

    @property
    def supply_key(self) -> tuple[float, str]:
        """What makes two rings come from one wire: diameter (to a nanometre) and metal with its temper."""
        return supply_key(self.wire, self.material)

    @property
    def density_g_cm3(self) -> float:
        """The density of its metal."""
        return self.material.density_g_cm3 or 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Supply:
    """One wire as it is bought: its price, what is paid back for clippings and dust, the lengths it is sold in.

    Without lengths it is bought in one piece, as long as it takes; where it is sold by the foot, in whole feet.
    feet_mm are those of the lengths that are sold in feet and inches. snip_mm is lost at each cut of the wire; short_mm
    is what a length sold may be measured short by.
    """

    wire: Wire
    material: Material
    price: Price | None = None
    clippings_price: Price | None = None
    dust_price: Price | None = None
    lengths_mm: tuple[float, ...] = ()
    feet_mm: tuple[float, ...] = ()
    snip_mm: float = 0.0
    short_mm: float = 0.0
    cut_step_mm: float = 1.0

    def __post_init__(self) -> None:
        if not 0 <= finite(self.snip_mm, "snip") <= LONGEST_SNIP_MM:
            raise OutOfRange(f"a snip of {self.snip_mm:g} mm", f"give 0 mm to {LONGEST_SNIP_MM:g} mm", field="snip")
        if not finite(self.short_mm, "short measure") >= 0 or self.short_mm >= min(self.lengths_mm, default=math.inf):
            problem = f"a length {self.short_mm:g} mm short leaves no wire"
            raise OutOfRange(problem, "give less than the shortest length", field="short")
        for key, back in (("clippings", self.clippings_price), ("dust", self.dust_price)):
            if back is not None:
                self._refuse_back(back, key)

    @property
    def is_by_the_foot(self) -> bool:
        """Whether it is sold in feet alone: all its lengths, or without lengths by its price."""
        if self.lengths_mm:
            return set(self.lengths_mm) == set(self.feet_mm)
        return self.price is not None and self.price.is_by_the_foot

    def is_in_feet(self, length_mm: float) -> bool:
        """Whether a length of it is sold in feet."""
        return self.is_by_the_foot or length_mm in self.feet_mm

    @property
    def usable_mm(self) -> tuple[float, ...]:
        """What each length sold is counted on for: what it may be measured short by is left alone."""
        return tuple(down_to_step(length - self.short_mm, self.cut_step_mm, 1e-9) for length in self.lengths_mm)

    def charged_mm(self, length_mm: float) -> Fraction:
        """A length as it is sold: in feet and inches it is whole mm rounded down, and an eighth of an inch is meant."""
        if length_mm not in self.feet_mm and (self.lengths_mm or not self.is_by_the_foot):
            return Fraction(str(length_mm))
        eighth = Fraction(str(INCH_MM)) / 8
        return round(length_mm / eighth) * eighth

    def in_steps(self, step_mm: float) -> Supply:
        """The same wire, cut in steps of so many mm; where these are of an inch, feet and inches are what they say."""
        if step_mm == 1:
            return self
        meant = {mm: float(self.charged_mm(mm)) for mm in self.feet_mm}
        lengths = tuple(meant.get(mm, mm) for mm in self.lengths_mm)
        return replace(self, lengths_mm=lengths, feet_mm=tuple(meant.values()), cut_step_mm=step_mm)

    def _refuse_back(self, back: Price, key: str) -> None:
        if not back.is_by_mass:
            problem = f"scrap is weighed, and {back.given} is by length"
            raise QuantityRefused(problem, "give it per g, ozt or kg", field=key)
        if self.price and back.per_gram(self.mm_per_gram) > self.price.per_gram(self.mm_per_gram):
            problem = f"{back.given} for scrap is more than the wire costs, {self.price.given}"
            raise OutOfRange(problem, "check both prices", field=key)

    @property
    def mm_per_gram(self) -> float:
        """Length of one gram of this wire."""
        return 1000 / mg_per_mm(self.wire.diameter_mm, self.material.density_g_cm3 or 0.0)

    @property
    def key(self) -> tuple[float, str]:
        """As `OrderedRing.supply_key`."""
        return supply_key(self.wire, self.material)

    @property
    def name(self) -> str:
        """The wire and the metal in words."""
        return f"{self.wire.in_words if are_inches() else self.wire.given} {self.material.name}"

    @property
    def currencies(self) -> tuple[str, ...]:
        """The currency of each of its prices."""
        prices = (self.price, self.clippings_price, self.dust_price)
        return tuple(price.currency for price in prices if price is not None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Printing:
    """The paper and the printer of the pack. An empty printer is the default one, or none."""

    paper: str = "a4"
    landscape: bool = False
    printer: str = ""
    tray: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SharedSaws:
    """The saws that a class shares, and the minutes that one seat winds and saws for."""

    saws: int
    wind_min: int
    saw_min: int

    def __post_init__(self) -> None:
        for value, what in ((self.saws, "saws"), (self.wind_min, "minutes to wind"), (self.saw_min, "minutes to saw")):
            positive(value, what)


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """A job: its title, the seats it is for (one for a maker alone), its rings and what they are bought for.

    units: how lengths are said, "mm" or "inch", and with it the step in which wire is cut; "" where it does not say.
    """

    title: str
    rings: tuple[OrderedRing, ...]
    seats: int = 1
    supplies: tuple[Supply, ...] = ()
    printing: Printing = field(default_factory=Printing)
    date: str = ""
    units: str = ""
    shared_saws: SharedSaws | None = None

    def __post_init__(self) -> None:
        if self.shared_saws and all(ring.making.cut != "saw" for ring in self.rings):
            problem = "saws are shared, and no ring is sawn"
            raise QuantityRefused(problem, "leave out the saws and their minutes", field="saws")
        if self.shared_saws and self.seats > MOST_TURNS * self.shared_saws.saws:
            turns = -(-self.seats // self.shared_saws.saws)
            raise OutOfRange(f"{turns} turns at the saws", f"give saws for {MOST_TURNS} turns or fewer", field="saws")
        if not 1 <= self.seats <= MOST_SEATS:
            raise OutOfRange(f"{self.seats} seats", f"give 1 to {MOST_SEATS}")
        if not 1 <= len(self.rings) <= MOST_RING_KINDS:
            raise OutOfRange(f"{len(self.rings)} kinds of ring", f"give 1 to {MOST_RING_KINDS}")
        refuse_too_many(sum(ring.rings_in_all(self.seats) for ring in self.rings))
        for clash in clashes(self.rings, self.supplies):
            raise QuantityRefused(clash.problem, clash.remedy)

    @property
    def currencies(self) -> tuple[str, ...]:
        """The currency of all prices; empty without prices."""
        return tuple(dict.fromkeys(currency for supply in self.supplies for currency in supply.currencies))

    @property
    def currency(self) -> str:
        """The currency as it was written; empty without prices."""
        return self.currencies[0] if self.currencies else ""

    def supply_for(self, key: tuple[float, str]) -> Supply | None:
        """How this wire is bought; None where the order does not say."""
        return next((supply for supply in self.supplies if supply.key == key), None)


class Clash(NamedTuple):
    """A table of an order that does not go with the others: "ring" or "supply", its place from 0, and what is wrong.

    boxed: the same beside boxes, where it is said otherwise there.
    """

    kind: str
    place: int
    problem: str
    remedy: str
    boxed: str = ""


def clashes(rings: Sequence[OrderedRing | None], supplies: Sequence[Supply | None]) -> Iterator[Clash]:
    """What does not go together. None stands for a table that is at fault already."""
    yield from _twins("ring", [(ring.name, ring.name) if ring else None for ring in rings])
    yield from _twins("supply", [(supply.key, supply.name) if supply else None for supply in supplies])
    if None not in rings:
        used = {ring.supply_key: f"{ring.wire.given} {ring.material.name}" for ring in rings if ring}
        for place, supply in enumerate(supplies):
            if supply is not None and supply.key not in used:
                problem = f"no ring is made of {supply.name}; the rings are of {' and '.join(used.values())}"
                yield Clash("supply", place, problem, "use it in a ring, or leave it out")
    first = ""
    for place, supply in enumerate(supplies):
        for currency in supply.currencies if supply else ():
            first = first or currency
            if currency != first:
                yield Clash("supply", place, f"prices in {first} and {currency} cannot be added", "give all in one")
                break


_TWINS = {"ring": "two rings are called", "supply": "two of the wires to buy are"}


def _twins(kind: str, named: Sequence[tuple[object, str] | None]) -> Iterator[Clash]:
    """By what makes two tables the same, and its name in words: 1 mm and 1.0 mm are one wire."""
    seen = set()
    for place, pair in enumerate(named):
        if pair is not None and pair[0] in seen:
            boxed = f"{_TWINS[kind]} {pair[1]}; give each its own, or take one out"
            yield Clash(kind, place, f"two [[{kind}]] tables are for {pair[1]}", "give each its own", boxed)
        seen.add(pair and pair[0])


def supply_key(wire: Wire, material: Material) -> tuple[float, str]:
    """Diameter to a nanometre, and the metal with its temper."""
    return (round(wire.diameter_mm, 6), material.name)


def refuse_too_many(rings: int) -> int:
    """The number of rings, if one order may have so many."""
    if rings > MOST_RINGS:
        raise OutOfRange(
            f"{rings} rings are too many for one order, all seats counted",
            f"give at most {MOST_RINGS} in all, spares included",
        )
    return rings
