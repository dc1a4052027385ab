"""Twist drills in four series, and the drill to take for a hole."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from functools import cache
from math import gcd

from layouts.errors import OutOfRange, UnknownName
from layouts.units import INCH_MM, positive

SERIES = ("metric", "number", "letter", "inch")

_SAME_MM = 1e-9  # a drill this much under the size asked for is that size, worked out with rounding


@dataclass(frozen=True, slots=True, kw_only=True)
class Drill:
    """A twist drill by its name on the shank, its series, its diameter in mm, and its source."""

    name: str
    series: str
    diameter_mm: float
    source: str = "as given"

    def __post_init__(self) -> None:
        positive(self.diameter_mm, "drill diameter")

    @property
    def inches(self) -> float:
        """The diameter in inches."""
        return self.diameter_mm / INCH_MM


def drills(series: str) -> tuple[Drill, ...]:
    """Every drill of a series ("metric", "number", "letter", "inch"), thinnest first."""
    if series not in SERIES:
        raise UnknownName("drill series", series, SERIES)
    return _drills(series)


def next_drill(series: str, at_least_mm: float) -> Drill:
    """The thinnest drill of a series that is at least so thick, in mm; refused past the thickest."""
    positive(at_least_mm, "hole")
    stock = drills(series)
    at = bisect_left(stock, at_least_mm - _SAME_MM, key=_size)
    if at == len(stock):
        largest = f"{stock[-1].name} ({stock[-1].diameter_mm:.3f} mm)"
        raise OutOfRange(
            f"no {series} drill makes a hole of {at_least_mm:.3f} mm",
            f"the largest is {largest}: choose another series or a smaller hole",
        )
    return stock[at]


def nearest_drill(series: str, diameter_mm: float) -> tuple[Drill, float]:
    """The drill of a series nearest a diameter in mm, and how far off it is: drill - wanted, in mm.

    >>> drill, off_mm = nearest_drill("inch", 9.5)
    >>> drill.name, round(off_mm, 3)
    ('3/8 in', 0.025)
    """
    positive(diameter_mm, "diameter")
    drill = min(drills(series), key=lambda d: abs(d.diameter_mm - diameter_mm))
    return drill, drill.diameter_mm - diameter_mm


def _size(drill: Drill) -> float:
    return drill.diameter_mm


@cache
def _drills(series: str) -> tuple[Drill, ...]:
    makers = {"metric": _metric, "number": _listed, "letter": _listed, "inch": _fractional}
    return tuple(sorted(makers[series](series), key=_size))


def _listed(series: str) -> list[Drill]:
    from jigs.tables import read_table

    return [
        Drill(name=row["name"], series=series, diameter_mm=row["diameter_in"] * INCH_MM, source=row["source"])
        for row in read_table("drills")[series]
    ]


def _metric(series: str) -> list[Drill]:
    from jigs.tables import read_table

    table = read_table("drills")
    sizes = [(row["diameter_mm"], row["source"]) for row in table["metric_small"]]
    for row in table["metric_steps"]:
        count = round((row["last_mm"] - row["first_mm"]) / row["step_mm"])
        sizes += [(round(row["first_mm"] + i * row["step_mm"], 4), row["source"]) for i in range(count + 1)]
    return [Drill(name=f"{mm:.2f} mm", series=series, diameter_mm=mm, source=source) for mm, source in sizes]


def _fractional(series: str) -> list[Drill]:
    from jigs.tables import read_table

    return [
        Drill(name=_fraction(n), series=series, diameter_mm=n / 64 * INCH_MM, source=row["source"])
        for row in read_table("drills")["inch_steps"]
        for n in range(row["first_64ths"], row["last_64ths"] + 1)
    ]


def _fraction(sixty_fourths: int) -> str:
    """'3/8 in' for 24: a reduced fraction of an inch, up to one inch."""
    shared = gcd(sixty_fourths, 64)
    return "1 in" if sixty_fourths == 64 else f"{sixty_fourths // shared}/{64 // shared} in"
