"""Which gauge a measured wire is, and how likely against its neighbours. Diameters in mm."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from jigs.stock.gauges import SYSTEMS, gauges
from layouts.units import positive

ALIKE = 0.01
"""Sizes less than this part of one another share a name: no bench tells them apart."""

DRAWN_SD = 0.005  # how far wire is off its name as it is sold, one standard deviation (common practice, no source)
FITS_SD = 3.0  # a wire further off a size than so many standard deviations is not of it
_TENTHS = range(2, 61)  # metric wire is sold by tenths of a millimetre (common practice, no source)


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """A size that wire is sold in: its name, or names where several are alike, and the mean of their diameters.

    is_shared: several gauges are of it.
    """

    name: str
    diameter_mm: float
    is_shared: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Likely:
    """A size that a wire may be of: how likely, of 1, and how many standard deviations the wire is off it."""

    size: Size
    likelihood: float
    off_sd: float

    @property
    def fits(self) -> bool:
        """Whether the wire can be of that size at all."""
        return self.off_sd <= FITS_SD


@cache
def gauge_sizes(thinnest_mm: float, thickest_mm: float) -> tuple[Size, ...]:
    """Every gauge of AWG and SWG between two diameters, the thinnest first; those that are alike as one."""
    return _alike(_drawn(thinnest_mm, thickest_mm))


@cache
def sold_sizes() -> tuple[Size, ...]:
    """The same with the tenths of a millimetre that metric wire is sold in."""
    metric = [(tenths / 10, len(SYSTEMS), f"{tenths / 10:.1f} mm") for tenths in _TENTHS]
    return _alike([*_drawn(-math.inf, math.inf), *metric])


_Named = tuple[float, int, str]  # a diameter [mm], the place of its system in a name, and its name


def _drawn(thinnest_mm: float, thickest_mm: float) -> list[_Named]:
    return [
        (gauge.diameter_mm, place, str(gauge))
        for place, system in enumerate(SYSTEMS)
        for gauge in gauges(system)
        if thinnest_mm <= gauge.diameter_mm <= thickest_mm
    ]


def likely_sizes(diameter_mm: float, off_mm: float) -> tuple[Likely, ...]:
    """The sizes that a wire may be of, the likeliest first; off_mm is how far off the diameter may be, k = 2.

    Each size has the likelihood exp(-z^2 / 2) / s, with s^2 = (off / 2)^2 + (0.5 % of the size)^2 and z the distance
    over s, over the sum of all: as if each were as common as any other. At least the two nearest are there.
    """
    off = positive(off_mm, "how far off the wire may be") / 2
    positive(diameter_mm, "wire")
    weighed = []
    for size in sold_sizes():
        sd = math.hypot(off, DRAWN_SD * size.diameter_mm)
        z = abs(diameter_mm - size.diameter_mm) / sd
        weighed.append((-z * z / 2 - math.log(sd), z, size))
    most = max(weight for weight, _, _ in weighed)
    whole = sum(math.exp(weight - most) for weight, _, _ in weighed)
    found = [
        Likely(size=size, likelihood=math.exp(weight - most) / whole, off_sd=z)
        for weight, z, size in sorted(weighed, key=lambda one: -one[0])
    ]
    return tuple(one for number, one in enumerate(found) if number < 2 or one.likelihood >= 0.01)


def _alike(sizes: list[_Named]) -> tuple[Size, ...]:
    """The sizes in ascending order, those within 1 % of the first of a run joined to it."""
    runs: list[list[_Named]] = []
    for size in sorted(sizes):
        if runs and size[0] < runs[-1][0][0] * (1 + ALIKE):
            runs[-1].append(size)
        else:
            runs.append([size])
    return tuple(
        Size(
            name=" = ".join(name for _, _, name in sorted(run, key=lambda one: one[1])),
            diameter_mm=sum(mm for mm, _, _ in run) / len(run),
            is_shared=len(run) > 1,
        )
        for run in runs
    )
