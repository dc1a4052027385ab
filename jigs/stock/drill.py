"""Twist drills in four series, and the drill to take for a hole."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from layouts.errors import OutOfRange, UnknownName
from layouts.showing import inch_fraction
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


@cache
def drills(series: str) -> tuple[Drill, ...]:
    """Every drill of a series ("metric", "number", "letter", "inch"), thinnest first."""
    if series not in SERIES:
        raise UnknownName("drill series", series, SERIES)
    from jigs.tables import read_table

    table = read_table("drills")
    if series == "metric":
        sizes = _metric_sizes(table)
    elif series == "inch":
        steps = [
            (n / 64 * INCH_MM, row)
            for row in table["inch_steps"]
            for n in range(row["first_64ths"], row["last_64ths"] + 1)
        ]
        sizes = [(inch_fraction(mm)[0], mm, row["source"]) for mm, row in steps]
    else:
        sizes = [(row["name"], row["diameter_in"] * INCH_MM, row["source"]) for row in table[series]]
    found = (Drill(name=name, series=series, diameter_mm=mm, source=source) for name, mm, source in sizes)
    return tuple(sorted(found, key=_size))


def next_drill(series: str, at_least_mm: float) -> Drill:
    """The thinnest drill of a series that is at least so thick, in mm; refused past the thickest."""
    positive(at_least_mm, "hole")
    ladder = drills(series)
    at = bisect_left(ladder, at_least_mm - _SAME_MM, key=_size)
    if at == len(ladder):
        largest = f"{ladder[-1].name} ({ladder[-1].diameter_mm:.3f} mm)"
        raise OutOfRange(
            f"no {series} drill makes a hole of {at_least_mm:.3f} mm",
            f"the largest is {largest}: choose another series or a smaller hole",
        )
    return ladder[at]


def nearest_drill(series: str, diameter_mm: float) -> tuple[Drill, float]:
    """The drill of a series nearest a diameter in mm, and how far off it is: drill - wanted, in mm.

    >>> drill, off_mm = nearest_drill("inch", 9.5)
    >>> drill.name, round(off_mm, 3)
    ('3/8 in', 0.025)
    """
    positive(diameter_mm, "diameter")
    drill = min(drills(series), key=lambda d: abs(d.diameter_mm - diameter_mm))
    return drill, drill.diameter_mm - diameter_mm


def jobber_flute_mm(diameter_mm: float) -> float | None:
    """How long the flute of a jobber drill is, in mm; None for a drill thicker than the table has.

    >>> jobber_flute_mm(1.4), jobber_flute_mm(1.5), jobber_flute_mm(12.0)
    (18.0, 18.0, None)
    """
    from jigs.tables import read_table

    positive(diameter_mm, "drill diameter")
    rows = read_table("drills")["flutes"]
    return next((float(row["flute_mm"]) for row in rows if diameter_mm <= row["up_to_mm"] + _SAME_MM), None)


def _size(drill: Drill) -> float:
    return drill.diameter_mm


def _metric_sizes(table: Mapping[str, Any]) -> list[tuple[str, float, str]]:
    """Name, diameter in mm and source: the small ones are listed one by one, the others in steps."""
    sizes = [(row["diameter_mm"], row["source"]) for row in table["metric_small"]]
    for row in table["metric_steps"]:
        count = round((row["last_mm"] - row["first_mm"]) / row["step_mm"])
        sizes += [(round(row["first_mm"] + i * row["step_mm"], 4), row["source"]) for i in range(count + 1)]
    return [(f"{mm:.2f} mm", mm, source) for mm, source in sizes]
