"""What each way of measuring would reach for a size, worked out by the same laws as its readings. Lengths in mm."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial

from jigs.making import measuring
from jigs.making.measured import Measured, Value
from jigs.making.measuring import KnownWire
from jigs.stock.instrument import Instrument
from layouts.errors import OutOfRange

STRIP_MM = 170.0
"""The longest chain that a strip on A4 takes, about; a longer one is read with fewer rings."""

CHAINS = (40, 20, 10, 5)
BETTER = 0.9  # a way is worth naming where it leaves less than this part of what is left

Tools = Callable[[str], Instrument]


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """A way to measure, in words, and how far off it may be, k = 2; bought: with more than rule, paper and pencil."""

    words: str
    off_mm: float
    bought: bool = False


def rings_for(inside_mm: float, wire_mm: float, strip_mm: float = STRIP_MM) -> int:
    """The most rings, of 40, 20, 10 and 5, whose chain is not longer than a strip; at least two.

    >>> rings_for(5.0, 1.0), rings_for(3.0, 0.8), rings_for(20.0, 2.0)
    (20, 40, 5)
    """
    fits = (count for count in CHAINS if count * inside_mm + 2 * wire_mm <= strip_mm)
    return next(fits, max(2, math.floor((strip_mm - 2 * wire_mm) / inside_mm)))


def ways_to_measure(what: str, mm: float, tool: Tools, wire: KnownWire | None = None) -> tuple[Reach, ...]:
    """Every way to measure a "rod", a "wire", a "ring" or a "coil" of about that size.

    Those that need nothing bought come first; the best before the others.
    """
    found = []
    for words, bought, values in _WAYS[what](mm, tool, wire):
        try:
            off_mm = Measured(what=what, values=tuple(values())).uncertainty_mm
        except OutOfRange:  # a size that this way cannot read
            continue
        found.append(Reach(words=words, off_mm=off_mm, bought=bought))
    return tuple(sorted(found, key=lambda reach: (reach.bought, reach.off_mm)))


def better_ways(measured: Measured, what: str, tool: Tools, wire: KnownWire | None = None) -> tuple[Reach, ...]:
    """The ways that would leave clearly less than what is left now."""
    limit = BETTER * measured.uncertainty_mm
    return tuple(reach for reach in ways_to_measure(what, measured.mm, tool, wire) if reach.off_mm < limit)


_Ways = Iterator[tuple[str, bool, Callable[[], list[Value]]]]


def _rod(mm: float, tool: Tools, wire: KnownWire | None) -> _Ways:
    def strip(name: str) -> list[Value]:
        return [measuring.rod_by_strip(mm, tool(name), counted_mm=0.1, paper_mm=0.1, number=n) for n in (1, 2, 3)]

    def unwound() -> list[Value]:
        known = wire or KnownWire(diameter_mm=mm / 7, off_mm=0.01)
        length = 20 * math.hypot(math.pi * (mm + known.diameter_mm), known.diameter_mm)
        return [measuring.rod_by_unwound(length, 20, known, tool("rule"))]

    def across(name: str) -> list[Value]:
        places = ("", measuring.RIGHT_ANGLES)
        return [measuring.across_rod(mm, tool(name), place=place) for place in places]

    yield "the wrap strip, read three times", False, lambda: strip("strip")
    yield (
        "the wrap strip, read three times, its paper measured by a hundred sheets",
        False,
        lambda: strip("strip, paper measured"),
    )
    yield "20 turns of a known wire, unwound and straightened", False, unwound
    yield "a caliper, at right angles too", True, lambda: across("caliper")
    yield "a micrometer, at right angles too", True, lambda: across("micrometer")


def _wire(mm: float, tool: Tools, wire: KnownWire | None) -> _Ways:
    def turns(count: int, name: str, times: int = 1) -> list[Value]:
        length = measuring.turns_length_mm(mm, count, 8 * mm)
        numbers = range(1, times + 1)
        return [measuring.wire_by_turns(length, count, tool(name), rod_mm=8 * mm, number=n) for n in numbers]

    def weighed(step_g: float) -> list[Value]:
        grams = math.pi / 4 * mm**2 * 8.9  # a metre of bronze
        return [measuring.wire_by_mass(grams, 1000.0, 8.9, step_g=step_g, tool=tool("rule"))]

    yield "40 close turns on the strip", False, lambda: turns(40, "wire strip")
    yield "40 close turns on the strip, read three times", False, lambda: turns(40, "wire strip", 3)
    yield "40 close turns by rule and loupe", False, lambda: turns(40, "loupe")
    yield "a metre weighed to 0.01 g, its density known", True, lambda: weighed(0.01)
    yield "a micrometer", True, lambda: [measuring.directly(mm, tool("micrometer"))]


def _ring(mm: float, tool: Tools, wire: KnownWire | None) -> _Ways:
    known = wire or KnownWire(diameter_mm=mm / 5, off_mm=0.01)

    def chain(count: int) -> list[Value]:
        length = count * mm + 2 * known.diameter_mm
        return [measuring.inside_by_chain(length, count, known, tool("chain strip"), number=n) for n in (1, 2, 3)]

    most = rings_for(mm, known.diameter_mm)
    for count in (most, most // 2):
        if count >= 2:
            yield f"a chain of {count} closed rings, read three times", False, partial(chain, count)
    yield "a caliper in the inside, three times", True, lambda: _times(mm, tool("caliper"))


def _coil(mm: float, tool: Tools, wire: KnownWire | None) -> _Ways:
    known = wire or KnownWire(diameter_mm=mm / 5, off_mm=0.01)

    def straightened() -> list[Value]:
        length = 20 * math.hypot(math.pi * (mm + known.diameter_mm), known.diameter_mm)
        return [measuring.inside_by_straightened(length, 20, known, tool("rule"))]

    yield "20 turns straightened", False, straightened
    yield "a caliper in the inside, three times", True, lambda: _times(mm, tool("caliper"))


def _times(mm: float, tool: Instrument) -> list[Value]:
    return [measuring.directly(mm, tool, number=number) for number in (1, 2, 3)]


_WAYS: dict[str, Callable[[float, Tools, KnownWire | None], _Ways]] = {
    "rod": _rod,
    "wire": _wire,
    "ring": _ring,
    "coil": _coil,
}
