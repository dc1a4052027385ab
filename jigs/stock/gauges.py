"""Gauges of wire: AWG by its formula, Imperial SWG by its table, and the words for them."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from layouts.errors import OutOfRange, QuantityRefused, shown
from layouts.units import INCH_MM, positive

SYSTEMS = ("AWG", "SWG")
AWG_SOURCE = "ASTM B258, exact formula"

_NUMBER = r"[1-7]/0|0{1,7}|[1-9]\d?"
_WORD = r"(?: *(?:gauge|ga\.?|g))"
_GAUGE = re.compile(rf"({_NUMBER}){_WORD}? *(AWG|SWG)|(AWG|SWG) *({_NUMBER})", re.ASCII | re.IGNORECASE)
_BARE = re.compile(rf"#?({_NUMBER}){_WORD}?", re.ASCII | re.IGNORECASE)
_SYSTEM_AT_AN_END = re.compile(r"(AWG|SWG).*|.*(AWG|SWG)", re.ASCII | re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Gauge:
    """One step of a gauge system. Numbers above 1/0 go below zero: 1/0 is 0, 4/0 is -3."""

    system: str
    number: int
    diameter_mm: float
    source: str

    @property
    def inches(self) -> float:
        """The diameter in inches."""
        return self.diameter_mm / INCH_MM

    def __str__(self) -> str:
        return f"{gauge_number(self.number)} {self.system}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Neighbours:
    """The gauge nearest a diameter in one system, and the gauges on both sides of it where there are any."""

    diameter_mm: float
    nearest: Gauge
    thicker: Gauge | None
    thinner: Gauge | None

    @property
    def residue_mm(self) -> float:
        """How much thicker the wire is than the nearest gauge: wire - gauge, in mm."""
        return self.diameter_mm - self.nearest.diameter_mm


def gauge_in(words: str) -> Gauge | None:
    """The gauge that the words are, its system with it: '16 AWG', 'swg 4/0'. None where they are none."""
    match = _GAUGE.fullmatch(words)
    return find_gauge((match[2] or match[3]).upper(), _gauge_value(match[1] or match[4])) if match else None


def awg_diameter_mm(n: int) -> float:
    """Diameter in mm of an American wire gauge, 4/0 (n = -3) to 40: 0.005 in x 92^((36 - n) / 39).

    The exact formula, not rounded to 0.0001 in as the standard's own table is. Source: ASTM B258.

    >>> round(awg_diameter_mm(16), 6)
    1.290846
    """
    return find_gauge("AWG", n).diameter_mm


def swg_diameter_mm(n: int) -> float:
    """Diameter in mm of an Imperial standard wire gauge, 7/0 (n = -6) to 50. Source: BS 3737:1964, by row.

    >>> round(swg_diameter_mm(18), 6)
    1.2192
    """
    return find_gauge("SWG", n).diameter_mm


@cache
def gauges(system: str) -> tuple[Gauge, ...]:
    """Every gauge of "AWG" or "SWG", thickest first."""
    if system == "AWG":
        return tuple(
            Gauge(system="AWG", number=n, diameter_mm=0.005 * INCH_MM * 92 ** ((36 - n) / 39), source=AWG_SOURCE)
            for n in range(-3, 41)
        )
    if system != "SWG":
        raise QuantityRefused(f"{shown(system)} is not a gauge system", "write AWG or SWG")
    from jigs.tables import read_table

    return tuple(
        Gauge(
            system="SWG",
            number=_gauge_value(row["gauge"]),
            diameter_mm=row["diameter_in"] * INCH_MM,
            source=row["source"],
        )
        for row in read_table("gauges")["swg"]
    )


def find_gauge(system: str, n: int) -> Gauge:
    """One gauge by its number (1/0 is 0, 4/0 is -3); a number outside the system is refused."""
    steps = gauges(system)
    first, last = steps[0], steps[-1]
    if n not in range(first.number, last.number + 1):
        raise OutOfRange(
            f"there is no {gauge_number(n)} {system} here",
            f"write a gauge from {first} to {last}, or the diameter, such as 1.2 mm",
        )
    return steps[n - first.number]


def neighbours(diameter_mm: float) -> tuple[Neighbours, ...]:
    """The nearest gauge in AWG and in SWG, each with the gauges on both sides of it."""
    positive(diameter_mm, "wire diameter")
    found = []
    for steps in map(gauges, SYSTEMS):
        at = steps.index(min(steps, key=lambda gauge: abs(gauge.diameter_mm - diameter_mm)))
        found.append(
            Neighbours(
                diameter_mm=diameter_mm,
                nearest=steps[at],
                thicker=steps[at - 1] if at > 0 else None,
                thinner=steps[at + 1] if at + 1 < len(steps) else None,
            )
        )
    return tuple(found)


def gauge_number(n: int) -> str:
    """A gauge number as it is written: '16', '1/0' for 0, '4/0' for -3."""
    return str(n) if n > 0 else f"{1 - n}/0"


def _gauge_value(number: str) -> int:
    """'16' is 16, '1/0' and '0' are 0, '4/0' and '0000' are -3."""
    if number.endswith("/0"):
        return 1 - int(number[:-2])
    return int(number) if int(number) else 1 - len(number)


def refuse_half_a_gauge(words: str) -> None:
    """Refuse a gauge without its system, and a system without a gauge that can be read."""
    if match := _BARE.fullmatch(words):
        n = _gauge_value(match[1])
        readings = [g for system in SYSTEMS for g in gauges(system) if g.number == n]
        if readings:
            could_be = " or ".join(f"{g} ({g.diameter_mm:.4g} mm)" for g in readings)
            remedy = "write one of them" if len(readings) > 1 else "write the system too"
            raise QuantityRefused(f"{shown(words)} could be {could_be}", remedy)
    if _SYSTEM_AT_AN_END.fullmatch(words):
        raise QuantityRefused(
            f"{shown(words)} is not a wire gauge",
            "write a whole gauge, such as 16 AWG or 4/0 AWG, or the diameter, such as 1.2 mm",
        )
