"""Whether a rod is round and straight-sided, as far as its readings can tell."""

from __future__ import annotations

from dataclasses import dataclass, replace

from jigs.making.measured import Measured, Value, apart
from jigs.making.measuring import OTHER_END, OVAL, RIGHT_ANGLES


@dataclass(frozen=True, slots=True, kw_only=True)
class Apart:
    """How far two diameters of a rod are apart, the second over the first, and how far off that may be (k = 2) [mm]."""

    mm: float
    off_mm: float

    @property
    def is_seen(self) -> bool:
        """Whether it is more than the readings may be off."""
        return abs(self.mm) > self.off_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class RodShape:
    """How oval a rod is at one place and how much thicker its other end is; None where that was not read."""

    oval: Apart | None
    taper: Apart | None


def shape_of(rod: Measured) -> RodShape:
    """The shape of a rod by the way that was read at both places, or at both ends; the last such way."""
    oval = taper = None
    for way in dict.fromkeys(value.way for value in rod.values):
        of_way = [  # without what an oval adds to a reading across: here that is what is looked for
            replace(value, terms=tuple(term for term in value.terms if term.cause != OVAL))
            for value in rod.values
            if value.way == way
        ]
        here = [value for value in of_way if not value.end]
        across = _apart(rod, [v for v in here if not v.place], [v for v in here if v.place == RIGHT_ANGLES])
        along = _apart(rod, here, [v for v in of_way if v.end == OTHER_END])
        oval, taper = across or oval, along or taper
    return RodShape(oval=oval, taper=taper)


def _apart(rod: Measured, one: list[Value], other: list[Value]) -> Apart | None:
    if not one or not other:
        return None
    here, there = (Measured(what=rod.what, values=tuple(values)) for values in (one, other))
    mm, off = apart(there, here)
    return Apart(mm=mm, off_mm=off)
