"""What a printed length is read with, and what that leaves unknown: the terms of an uncertainty and their sum."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from layouts.errors import UnknownName
from layouts.pages.paper import CHECK_MM

COVERAGE = 2.0  # k: the true value lies within in about 95 of 100 cases
ROOT3 = math.sqrt(3.0)  # half width of a rectangular distribution over its standard uncertainty


@dataclass(frozen=True, slots=True, kw_only=True)
class Instrument:
    """What a length is read with; errors in mm, as half widths."""

    name: str
    words: str
    fixed: float
    per_metre: float
    end: float
    source: str
    share: float = 0.0  # of the length
    skew: float = 0.0  # degrees: by how much what reads a skew may lean itself
    edge: float = 0.0  # mm: what its tone curve may do to an edge of ink
    by_scan: bool = False  # no person reads it
    percent: bool = False  # it reads the size of the print, not a length

    def error_mm(self, length_mm: float) -> float:
        """How far the instrument itself may be off: fixed + per_metre x (metres, rounded up) + share x length."""
        return self.fixed + self.per_metre * math.ceil(length_mm / 1000) + self.share * length_mm

    @property
    def ends_mm(self) -> float:
        """Standard uncertainty of reading both ends: sqrt(2) end / sqrt(3)."""
        return math.sqrt(2.0) * self.end / ROOT3


@cache
def instruments() -> dict[str, Instrument]:
    """Every instrument by name."""
    import tomllib

    rows = tomllib.loads(Path(__file__).with_name("instruments.toml").read_text(encoding="utf-8"))
    return {name: Instrument(name=name, **row) for name, row in rows.items()}


def find_instrument(name: str) -> Instrument:
    """The instrument called `name`. Refuses an unknown one (`UnknownName`)."""
    if name not in instruments():
        raise UnknownName("instrument", name, instruments())
    return instruments()[name]


def hand_tools() -> dict[str, Instrument]:
    """Every instrument that a person reads, by name."""
    return {name: tool for name, tool in instruments().items() if not tool.by_scan}


def find_hand_tool(name: str) -> Instrument:
    """The instrument called `name` that a person reads; refuses those of a scan too (`UnknownName`)."""
    if name not in hand_tools():
        raise UnknownName("instrument", name, hand_tools())
    return hand_tools()[name]


def reads_percent(name: str) -> bool:
    """Whether the instrument called `name` reads the size of the print; an unknown one does not."""
    return name in instruments() and instruments()[name].percent


@dataclass(frozen=True, slots=True, kw_only=True)
class Term:
    """One term of an uncertainty: what it is, and its standard uncertainty in the budget's unit."""

    words: str
    standard: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Budget:
    """An uncertainty and the terms that make it, all standard; they are independent of each other."""

    terms: tuple[Term, ...]

    @property
    def expanded(self) -> float:
        """k = 2 times the root of the sum of squares."""
        return COVERAGE * math.sqrt(sum(term.standard**2 for term in self.terms))


def budget_of_line(length_mm: float, tool: Instrument) -> Budget:
    """Of a length as read, as a share of it: the instrument, and reading both ends."""
    error = tool.error_mm(length_mm)
    return Budget(
        terms=(
            Term(words=f"{tool.words}, ±{error:g} mm", standard=error / ROOT3 / length_mm),
            Term(words=f"both ends read to ±{tool.end:g} mm", standard=tool.ends_mm / length_mm),
        )
    )


@cache
def proved_by_bars() -> float:
    """How far off a sheet may be (k = 2, a share) whose check bars read right by a rule of which no more is known.

    >>> round(100 * proved_by_bars(), 2)
    0.71
    """
    return budget_of_line(CHECK_MM, find_instrument("rule")).expanded


def bars_in_words() -> str:
    """What check bars prove of a sheet that is not corrected, as a sentence."""
    percent = math.ceil(1e4 * proved_by_bars() - 1e-6) / 100
    return f"Check bars that read right by rule prove a sheet's scale to {percent:g} %."
