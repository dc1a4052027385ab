"""Rods that serve as mandrels: metric and inch rod, ground rod, and the shanks of drills."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from functools import cache, lru_cache
from itertools import chain, zip_longest

from jigs.stock.drill import drills
from jigs.stock.section import refuse_rod_not_round
from layouts.errors import OutOfRange
from layouts.showing import inch_fraction
from layouts.units import INCH_MM, parse_length, positive

METRIC_STEP_MM = 0.5
INCH_STEPS = 64
GROUND_TWENTIETHS = (
    2,
    4,
    5,
    6,
    8,
    12,
    14,
    15,
    16,
    18,
)  # over whole mm: tenths and quarters, halves apart (from memory)
GROUND_MM = (1.0, 13.0)  # thinnest and thickest ground rod (from memory)

_TWISTED = ("metric", "number", "letter")  # drills whose shanks are looked at; those by inches are rod as well
_SAME_PLACES = 6  # decimals of a millimetre to which two sizes are one


class RodKind(Enum):
    """What a mandrel is bought as; the value says it in words."""

    METRIC = "metric"
    INCH = "inch"
    GROUND = "ground rod"
    SHANK = "drill shank"


@dataclass(frozen=True, slots=True, kw_only=True)
class Rod:
    """A rod as it is sold: name, nominal diameter in mm, and kind.

    Rods are seldom their nominal size, and a drill's shank is often a few hundredths under its drill
    (common practice, no source): measure the one you wind on.
    """

    name: str
    diameter_mm: float
    kind: RodKind

    def __post_init__(self) -> None:
        positive(self.diameter_mm, "rod diameter")


def parse_rod(text: str) -> float:
    """The diameter [mm] of a round rod that a person typed; another section is refused by its name.

    >>> parse_rod("5/16 in")
    7.9375
    """
    refuse_rod_not_round(text)
    return parse_length(text)


@lru_cache(maxsize=4096)  # a plan of many rings asks thousands of times for the same few
def nearest_rods(diameter_mm: float, count: int = 4) -> tuple[Rod, ...]:
    """The rods nearest a diameter in mm, one of each kind before a second of any; nearest first.

    Metric rods go by 0.5 mm, inch rods by 1/64 in, ground rods of steel by 0.1 mm with the quarters between, drill
    shanks by the metric, number and letter drills as far as these reach. A size that is sold as rod is not listed
    again as ground rod, nor as a shank.
    """
    positive(diameter_mm, "mandrel")
    if count < 1:
        raise OutOfRange(f"{count} rods leave nothing to choose from", "ask for one or more")
    metric_mm = [METRIC_STEP_MM * n for n in _steps_around(diameter_mm / METRIC_STEP_MM, count)]
    metric = [Rod(name=f"{mm:.1f} mm", diameter_mm=mm, kind=RodKind.METRIC) for mm in metric_mm]
    inch_mm = [INCH_MM * n / INCH_STEPS for n in _steps_around(diameter_mm / INCH_MM * INCH_STEPS, count)]
    inch = [Rod(name=inch_fraction(mm, INCH_STEPS)[0], diameter_mm=mm, kind=RodKind.INCH) for mm in inch_mm]
    ground = _ground(diameter_mm, count, apart_from=metric + inch)
    families = (metric, inch, ground, _shanks(diameter_mm, apart_from=metric + inch + ground))
    ranked = (_nearest_first(family, diameter_mm) for family in families)
    in_turn = [rod for rod in chain.from_iterable(zip_longest(*ranked)) if rod is not None]
    return tuple(_nearest_first(in_turn[:count], diameter_mm))


def _nearest_first(rods: list[Rod], diameter_mm: float) -> list[Rod]:
    return sorted(rods, key=lambda rod: abs(rod.diameter_mm - diameter_mm))


def _steps_around(steps: float, count: int) -> range:
    """Whole steps, at least one, enough on both sides of a place to find the ``count`` nearest and more."""
    return range(max(1, round(steps) - count - 1), max(1, round(steps)) + count + 2)


def _ground(diameter_mm: float, count: int, apart_from: list[Rod]) -> list[Rod]:
    reach = count // len(GROUND_TWENTIETHS) + 2
    around = range(max(0, int(diameter_mm) - reach), int(diameter_mm) + reach + 1)
    sizes = [round(mm + n / 20, 2) for mm in around for n in GROUND_TWENTIETHS]
    taken, (least, most) = {round(rod.diameter_mm, _SAME_PLACES) for rod in apart_from}, GROUND_MM
    return [
        Rod(name=f"ground rod {mm:g} mm", diameter_mm=mm, kind=RodKind.GROUND)
        for mm in sizes
        if least <= mm <= most and mm not in taken
    ]


def _shanks(diameter_mm: float, apart_from: list[Rod]) -> list[Rod]:
    sold = _all_shanks()
    if not sold[0].diameter_mm <= diameter_mm <= sold[-1].diameter_mm:
        return []
    taken = {round(rod.diameter_mm, _SAME_PLACES) for rod in apart_from}
    return [rod for rod in sold if round(rod.diameter_mm, _SAME_PLACES) not in taken]


@cache
def _all_shanks() -> tuple[Rod, ...]:
    """The shanks of all drills, the thinnest first; made once, since a plan asks for those near many a size."""
    sold = sorted((drill.diameter_mm, drill.name) for series in _TWISTED for drill in drills(series))
    return tuple(Rod(name=f"drill {name}", diameter_mm=mm, kind=RodKind.SHANK) for mm, name in sold)
