"""What sizes of rods, coils, rings and chains are read with, and how far its readings are to be trusted."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cache

from jigs.stock.figure import Basis
from layouts.errors import OutOfRange, UnknownName
from layouts.units import finite, positive

COVERAGE = 2.0  # k: what errors are stated at, and how many standard deviations that is
READS = ("rod", "wire", "inside", "outside", "chain", "turns")
"""What an instrument may read: a rod or wire across, a coil or ring inside or outside, chains and turns end to end."""
WORST_MM = 5.0  # an instrument that is further off measures nothing here


@dataclass(frozen=True, slots=True, kw_only=True)
class Instrument:
    """An instrument by its name. scatter_mm and bias_mm are at k = 2, in mm of what is read; scale likewise, a part.

    girth: it goes round a rod, and so reads the right mean of an oval one; others read across at one place. printed: it
    is paper, and its scale is its printer's: in the table that of a sheet not corrected whose check bars read right.
    The scatter differs from reading to reading. Bias and scale are shared by all its readings: many readings with one
    instrument never come nearer than these.
    """

    name: str
    scatter_mm: float
    bias_mm: float
    scale: float = 0.0
    reads: tuple[str, ...] = READS
    girth: bool = False
    printed: bool = False
    basis: Basis
    source: str
    about: str = ""

    def __post_init__(self) -> None:
        for value, what in ((positive(self.scatter_mm, "scatter"), "scatter"), (self.bias_mm, "bias")):
            if not 0 <= finite(value, what) <= WORST_MM:
                raise OutOfRange(f"a {what} of {value:g} mm", f"give 0 mm to {WORST_MM:g} mm", field=what)
        if not 0 <= finite(self.scale, "scale") <= 0.1:
            raise OutOfRange(f"a scale off by {100 * self.scale:g} %", "give 0 % to 10 %", field="scale")
        for what in self.reads:
            if what not in READS:
                raise UnknownName("thing to read", what, READS)

    def off_by(self, scale: float | None) -> Instrument:
        """The same off a printer whose scale may be off by that part (k = 2); None, or not printed: as it is."""
        return self if scale is None or not self.printed else replace(self, scale=scale)

    def uncertainty_mm(self, length_mm: float = 0.0, readings: int = 1) -> float:
        """At k = 2, of the mean of so many readings of a length: sqrt(scatter^2 / n + bias^2 + (scale x length)^2)."""
        if readings < 1:
            raise OutOfRange(f"{readings} readings", "give one or more")
        shared = self.bias_mm**2 + (self.scale * finite(length_mm, "length")) ** 2
        return float((self.scatter_mm**2 / readings + shared) ** 0.5)

    @property
    def scatter_sd(self) -> float:
        """One standard deviation of its scatter [mm]."""
        return self.scatter_mm / COVERAGE

    @property
    def bias_sd(self) -> float:
        """One standard deviation of its bias [mm]."""
        return self.bias_mm / COVERAGE

    @property
    def scale_sd(self) -> float:
        """One standard deviation of its scale, a part."""
        return self.scale / COVERAGE


@cache
def instruments() -> tuple[Instrument, ...]:
    """Every instrument of the table."""
    from jigs.tables import read_table
    from layouts.printing.budget import proved_by_bars

    return tuple(
        Instrument(
            name=row["name"],
            scatter_mm=row["scatter_mm"],
            bias_mm=row["bias_mm"],
            scale=proved_by_bars() if row.get("printed") else 0.0,
            reads=tuple(row["reads"]),
            girth=row.get("girth", False),
            printed=row.get("printed", False),
            basis=Basis.USUAL if "common practice" in row["source"] else Basis.TABLE,
            source=row["source"],
            about=row["about"],
        )
        for row in read_table("instruments")["instrument"]
    )


def find_instrument(name: str, owned: Iterable[Instrument] = ()) -> Instrument:
    """The instrument of that name: one of those owned, else of the table. Refuses an unknown one (`UnknownName`).

    >>> find_instrument("caliper").bias_mm
    0.02
    """
    known = (*owned, *instruments())
    for instrument in known:
        if instrument.name == name.strip():
            return instrument
    raise UnknownName("instrument", name, dict.fromkeys(instrument.name for instrument in known))
