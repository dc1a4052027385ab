"""A figure that knows what it is based on: value, band, unit, basis and words."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum
from typing import Protocol, TypeVar

from layouts.errors import OutOfRange
from layouts.units import INCH_MM, finite

_ROUNDING = 1e-9  # by which the ends of a band may cross their middle: the same sum in another order


class Basis(Enum):
    """What a figure is based on, the most trusted first; the value says it in words.

    rank is the place in the order of trust: 0 for what was measured.
    """

    rank: int

    MEASURED = "measured"
    RECORDED = "recorded"
    CERTIFICATE = "certificate"
    TABLE = "table"
    USUAL = "common practice"
    NOMINAL = "by its name"
    WANTED = "asked for"
    WORKED_OUT = "worked out"
    NOT_COUNTED = "not counted"

    def __init__(self, words: str) -> None:
        self.rank = len(type(self).__members__)


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A value with its unit ("" for a plain number), the band it lies in, and what it is based on.

    low and high are None where no band is known; high alone is None where the band has no upper end, as when a
    wire may spring straight. words say what it is based on ("blade 2/0, kerf 0.28 mm"). is_change: the value is
    added to the size before it in a ledger (springback, cut), rather than a size of its own.
    """

    name: str
    value: float
    unit: str = "mm"
    low: float | None = None
    high: float | None = None
    basis: Basis
    words: str
    is_change: bool = False

    def __post_init__(self) -> None:
        slack = _ROUNDING * max(1.0, abs(finite(self.value, self.name)))
        if self.high is not None and self.low is None:
            raise OutOfRange(f"the band of the {self.name} has no low end", "give both ends, or the low one alone")
        low = self.value if self.low is None else finite(self.low, self.name)
        high = self.value if self.high is None else finite(self.high, self.name)
        if not low - slack <= self.value <= high + slack:
            raise OutOfRange(
                f"the {self.name} of {self.value:g} is outside its own band from {low:g} to {high:g}",
                "give a low end, a value and a high end that rise",
            )

    @property
    def inches(self) -> float | None:
        """The value in inches; None where it is not a length."""
        return self.value / INCH_MM if self.unit == "mm" else None


class _Based(Protocol):
    @property
    def basis(self) -> Basis: ...


_Of = TypeVar("_Of", bound=_Based)


def best(candidates: Iterable[_Of | None]) -> _Of | None:
    """What to use, of several figures (or laws) for one thing: the most trusted basis; of equals, the first.

    What was measured goes before what was recorded, that before a certificate, a table, common practice and a name.
    None without any. Refuses figures of different units, which are not for one thing.
    """
    known = [one for one in candidates if one is not None]
    units = {one.unit for one in known if isinstance(one, Figure)}
    if len(units) > 1:
        names = " and ".join(unit or "no unit" for unit in sorted(units))
        raise OutOfRange(f"one figure is given in {names}", "give figures of one unit")
    return min(known, key=lambda one: one.basis.rank, default=None)
