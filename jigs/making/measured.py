"""Readings of one size brought together: the value, how far it may be off, and which readings contradict one another.

Errors are at k = 2, in mm of the size. What differs from reading to reading shrinks with their number; what they have
in common (an instrument's bias, the scale of a print, the wire, the paper) is carried through and does not.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import Enum
from functools import cached_property
from itertools import combinations

from layouts.errors import OutOfRange
from layouts.units import finite, positive

APART_SD = 3.5
"""Readings further apart than so many standard deviations contradict one another: one pair in 2,000 by chance."""


class ErrorKind(Enum):
    """Where an error comes from; the value says it in words."""

    READING = "reading"
    SCALE = "scale"
    SHARED = "shared"


@dataclass(frozen=True, slots=True, kw_only=True)
class ErrorTerm:
    """A part of how far off a value may be: its cause, and how far at k = 2 [mm].

    mm keeps its sign where it is shared: values that move against one another with one cause cancel. Terms of one
    cause, readings aside, are one error.
    """

    cause: str
    mm: float
    kind: ErrorKind = ErrorKind.SHARED

    def __post_init__(self) -> None:
        finite(self.mm, self.cause)


@dataclass(frozen=True, slots=True, kw_only=True)
class Value:
    """What one reading makes a size [mm]: by which way and where it was read, and how it was worked out.

    place and end are "" but where a rod was read at right angles too, or at its other end. instrument is the name under
    which such a value may be kept. step_mm: what a scale is read to, so that rounding may move it by half of that.
    is_of_chain: of rings that hang in one another.
    """

    way: str
    mm: float
    terms: tuple[ErrorTerm, ...]
    instrument: str
    worked: str = ""
    place: str = ""
    end: str = ""
    number: int = 1
    step_mm: float = 0.0
    is_of_chain: bool = False

    def __post_init__(self) -> None:
        positive(self.mm, f"the size by {self.way}")

    @property
    def name(self) -> str:
        """What it is called beside others: 'strip, reading 2', 'caliper, at the other end'."""
        parts = self.way, self.place, self.end, f"reading {self.number}" if self.number > 1 else ""
        return ", ".join(filter(None, parts))

    @property
    def uncertainty_mm(self) -> float:
        """How far off it may be by itself, k = 2: the root of the sum of squares of its causes."""
        return _root(_by_cause([(1.0, self)]).values())

    @property
    def scatter_mm(self) -> float:
        """The part that differs from reading to reading."""
        return _root(term.mm for term in self.terms if term.kind is ErrorKind.READING)


@dataclass(frozen=True, slots=True, kw_only=True)
class Contradiction:
    """Two readings that are further apart than both can be off: by how much, and how far they may be (k = 2) [mm]."""

    one: str
    other: str
    apart_mm: float
    may_be_mm: float


@dataclass(frozen=True, kw_only=True)
class Measured:
    """A size from one or more readings of it; `what` says of what."""

    what: str
    values: tuple[Value, ...]

    def __post_init__(self) -> None:
        if not self.values:
            raise OutOfRange(f"no reading of the {self.what} is given", "give one or more")

    @cached_property
    def weights(self) -> tuple[float, ...]:
        """The part that each value has in the whole.

        Ways count by 1 / (how far off they may be)^2; in one way both ends of a rod alike, at an end its places alike,
        readings at one place by their scatter.
        Never below zero: what is best of two that share an error may lie outside both, and nobody would believe it.
        """
        ways = dict.fromkeys(value.way for value in self.values)
        within = {way: self._within(way) for way in ways}
        trust = {way: 1 / _root(_by_cause(within[way]).values()) ** 2 for way in ways}
        whole = sum(trust.values())
        part = {id(value): weight * trust[way] / whole for way in ways for weight, value in within[way]}
        return tuple(part[id(value)] for value in self.values)

    def _within(self, way: str) -> list[tuple[float, Value]]:
        """The values of one way with their part in it."""
        of_way = [value for value in self.values if value.way == way]
        places = dict.fromkeys((value.end, value.place) for value in of_way)
        ends = {end for end, _ in places}
        found = []
        for end, place in places:
            here = [value for value in of_way if (value.end, value.place) == (end, place)]
            trust = [1 / value.scatter_mm**2 if value.scatter_mm else 1.0 for value in here]
            alike = len(ends) * sum(1 for other, _ in places if other == end)
            found += [(each / sum(trust) / alike, value) for each, value in zip(trust, here, strict=True)]
        return found

    @cached_property
    def mm(self) -> float:
        """The size."""
        return sum(weight * value.mm for weight, value in zip(self.weights, self.values, strict=True))

    @cached_property
    def terms(self) -> tuple[ErrorTerm, ...]:
        """How far off it may be, by its causes, all readings as one."""
        found = _by_cause(list(zip(self.weights, self.values, strict=True)))
        kinds = {term.cause: term.kind for value in self.values for term in value.terms}
        reading = _root(mm for key, mm in found.items() if isinstance(key, tuple))
        shared = [
            ErrorTerm(cause=key, mm=abs(mm), kind=kinds[key])
            for key, mm in found.items()
            if isinstance(key, str) and abs(mm) > 0
        ]
        return (ErrorTerm(cause="reading", mm=reading, kind=ErrorKind.READING), *shared)

    def part_mm(self, kind: ErrorKind) -> float:
        """How far off it may be by one kind of cause, k = 2."""
        return _root(term.mm for term in self.terms if term.kind is kind)

    @cached_property
    def uncertainty_mm(self) -> float:
        """How far off it may be, k = 2. While readings contradict one another it holds all of them."""
        stated = _root(term.mm for term in self.terms)
        if not self.contradictions:
            return stated
        return max(stated, *(abs(value.mm - self.mm) for value in self.values))

    @cached_property
    def contradictions(self) -> tuple[Contradiction, ...]:
        """Every two readings at one place that are further apart than both can be off; what they share cancels."""
        found = []
        for one, other in combinations(self.values, 2):
            if (one.place, one.end) != (other.place, other.end):
                continue
            may_be = _root(_by_cause([(1.0, one), (-1.0, other)]).values())
            apart = abs(one.mm - other.mm)
            rounded = (one.step_mm + other.step_mm) / 2
            if apart - rounded > APART_SD / 2 * may_be:
                found.append(Contradiction(one=one.name, other=other.name, apart_mm=apart, may_be_mm=may_be))
        return tuple(found)

    @property
    def odd_one(self) -> str:
        """The reading that contradicts at least two others which agree among themselves; "" where it is not one."""
        pairs = [{pair.one, pair.other} for pair in self.contradictions]
        if len(pairs) < 2:
            return ""
        in_all = set.intersection(*pairs)
        return in_all.pop() if len(in_all) == 1 else ""

    @cached_property
    def instrument(self) -> str:
        """The instrument that it may be kept by: that of the way which counts most."""
        ways = {value.way: value for value in reversed(self.values)}  # the first of each
        parts = list(zip(self.weights, self.values, strict=True))
        heaviest = max(ways, key=lambda way: sum(weight for weight, value in parts if value.way == way))
        return ways[heaviest].instrument

    @property
    def scale(self) -> float:
        """How far that instrument's scale may be off here, a part, k = 2: of a printed strip its printer's."""
        of_it = [value for value in self.values if value.instrument == self.instrument]
        return max(sum(term.mm for term in value.terms if term.kind is ErrorKind.SCALE) / value.mm for value in of_it)

    @property
    def readings(self) -> int:
        """How many readings that instrument has here."""
        return sum(1 for value in self.values if value.instrument == self.instrument)

    def where(self, *, place: str | None = None, end: str | None = None) -> Measured | None:
        """The same of the readings at one place or one end alone; None without any."""
        here = tuple(
            value
            for value in self.values
            if (place is None or value.place == place) and (end is None or value.end == end)
        )
        return Measured(what=self.what, values=here) if here else None


def apart(one: Measured, other: Measured) -> tuple[float, float]:
    """How much larger one size is than another, and how far off that may be, k = 2 [mm]; what they share cancels."""
    parts = [(weight, value) for weight, value in zip(one.weights, one.values, strict=True)]
    parts += [(-weight, value) for weight, value in zip(other.weights, other.values, strict=True)]
    return one.mm - other.mm, _root(_by_cause(parts).values())


def _by_cause(parts: Sequence[tuple[float, Value]]) -> dict[str | tuple[int, str], float]:
    """The errors of a weighted sum of values, by cause; each reading is a cause of its own."""
    found: dict[str | tuple[int, str], float] = {}
    for weight, value in parts:
        for term in value.terms:
            key = (id(value), term.cause) if term.kind is ErrorKind.READING else term.cause
            found[key] = found.get(key, 0.0) + weight * term.mm
    return found


def _root(parts: Iterable[float]) -> float:
    """The root of the sum of squares."""
    return math.sqrt(sum(part * part for part in parts))
