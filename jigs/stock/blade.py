"""Piercing-saw blades by size, and the kerf they cut."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache

from jigs.stock.figure import Basis, Figure
from layouts.errors import OutOfRange, UnknownName
from layouts.lengths import sized, sized_each
from layouts.units import positive

WIDEST_KERF = 2.0  # in thicknesses of the blade: no saw cuts wider that runs true
_SEEN_MM = 0.01, 0.03  # P: what a cut is wider than its blade is thick, from maker to maker


@dataclass(frozen=True, slots=True, kw_only=True)
class Blade:
    """A saw blade: thickness, width and the kerf it cuts in mm, teeth per inch. source is that of the blade."""

    name: str
    thickness_mm: float
    width_mm: float
    teeth_per_inch: float
    kerf: Figure
    source: str

    def __post_init__(self) -> None:
        positive(self.thickness_mm, "blade thickness")
        positive(self.width_mm, "blade width")
        positive(self.teeth_per_inch, "teeth per inch")
        if positive(self.kerf_mm, "kerf") < self.thickness_mm:
            raise OutOfRange(
                f"a kerf of {self.kerf_mm:g} mm is under the {self.thickness_mm:g} mm of blade {self.name}",
                "measure the cut again, or choose a finer blade",
                field="kerf",
            )
        if self.kerf_mm > WIDEST_KERF * self.thickness_mm + 1e-9:
            raise OutOfRange(
                f"a kerf of {self.kerf_mm:g} mm is over {WIDEST_KERF:g} times the {self.thickness_mm:g} mm of blade "
                f"{self.name}",
                "measure the cut again, or name the blade that made it",
                field="kerf",
            )

    @property
    def kerf_mm(self) -> float:
        """The kerf alone."""
        return self.kerf.value

    @property
    def kerf_words(self) -> str:
        """What the kerf is based on."""
        if self.kerf.basis is not Basis.TABLE:
            return self.kerf.words
        allowance = sized(round(self.kerf_mm - self.thickness_mm, 4))
        return self.kerf.words.format(allowance=allowance, seen=sized_each("{}-{}", _SEEN_MM))

    def with_kerf(self, kerf_mm: float) -> Blade:
        """The same blade with the kerf, in mm, that was measured in a trial cut."""
        return replace(self, kerf=measured_kerf(kerf_mm))


def measured_kerf(kerf_mm: float) -> Figure:
    """The kerf, in mm, that was measured in a trial cut."""
    return Figure(name="kerf", value=positive(kerf_mm, "kerf"), basis=Basis.MEASURED, words="measured")


@cache
def blades() -> tuple[Blade, ...]:
    """Every blade of the table, finest first. Kerf is thickness + 0.02 mm (common practice, no source)."""
    from jigs.tables import read_table

    table = read_table("blades")
    return tuple(
        Blade(
            name=row["size"],
            thickness_mm=row["thickness_mm"],
            width_mm=row["width_mm"],
            teeth_per_inch=row["teeth_per_inch"],
            kerf=Figure(
                name="kerf",
                value=round(row["thickness_mm"] + table["kerf_allowance_mm"], 4),
                basis=Basis.TABLE,
                words=table["kerf_source"],
            ),
            source=row["source"],
        )
        for row in table["blade"]
    )


def find_blade(name: str) -> Blade:
    """The blade of that size: "2", "#2", "4/0"; "0" is 1/0.

    >>> find_blade("2/0").thickness_mm
    0.26
    """
    wanted = name.strip().removeprefix("#").strip()
    wanted = "1/0" if wanted == "0" else wanted
    for blade in blades():
        if blade.name == wanted:
            return blade
    raise UnknownName("saw blade", name, [blade.name for blade in blades()])
