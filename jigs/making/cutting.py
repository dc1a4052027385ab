"""What a cut takes along the wire, per ring: a saw's kerf, a cutter's trim, or nothing. Lengths in mm."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from jigs.stock.blade import Blade
from layouts.errors import OutOfRange, QuantityRefused, UnknownName
from layouts.units import finite, positive

USUAL_TRIM_WIRES = 1.0  # P: wire diameters trimmed per ring by flush cutters; 0.5 to 1.5 is seen
CUTS = ("saw", "cutters", "none")


@dataclass(frozen=True, slots=True, kw_only=True)
class Saw:
    """A piercing saw. Its kerf is measured, or a blade's from the table; with both, the measured counts."""

    name: ClassVar[str] = "saw"
    blade: Blade | None = None
    measured_kerf_mm: float | None = None

    def __post_init__(self) -> None:
        if self.measured_kerf_mm is not None:
            positive(self.measured_kerf_mm, "kerf")
        elif self.blade is None:
            raise QuantityRefused("a saw cut needs its kerf", "name the blade, such as 2/0, or give the kerf itself")

    @property
    def loss_mm(self) -> float:
        """Wire lost per ring: the kerf."""
        if self.measured_kerf_mm is not None:
            return self.measured_kerf_mm
        return self.blade.kerf_mm if self.blade else 0.0

    @property
    def rests_on(self) -> str:
        """Which kerf was used, and where it comes from."""
        if self.measured_kerf_mm is not None:
            with_blade = f" with blade {self.blade.name}" if self.blade else ""
            return f"saw: kerf {self.loss_mm:.3f} mm as given{with_blade}"
        blade, how = (self.blade.name, self.blade.kerf_source) if self.blade else ("", "")
        return f"saw: kerf {self.loss_mm:.3f} mm of blade {blade} ({how}): measure a cut"


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutters:
    """Flush cutters: the pointed end is trimmed away before every ring."""

    name: ClassVar[str] = "cutters"
    trim_mm: float
    usual: bool = False

    def __post_init__(self) -> None:
        if finite(self.trim_mm, "trim") < 0:
            raise OutOfRange(f"a trim of {self.trim_mm:g} mm is negative", "give zero or more")

    @classmethod
    def for_wire(cls, wire_mm: float) -> Cutters:
        """The usual trim for a wire: 1.0 wire diameter, common practice, no source."""
        return cls(trim_mm=USUAL_TRIM_WIRES * positive(wire_mm, "wire"), usual=True)

    @property
    def loss_mm(self) -> float:
        """Wire lost per ring: the trim."""
        return self.trim_mm

    @property
    def rests_on(self) -> str:
        """Which trim was used, and where it comes from."""
        if self.usual:
            share = f"{USUAL_TRIM_WIRES:g} wire"
            return f"cutters: trim {self.trim_mm:.3f} mm = {share}, common practice: measure yours"
        return f"cutters: trim {self.trim_mm:.3f} mm as given"


@dataclass(frozen=True, slots=True, kw_only=True)
class NoCut:
    """No wire lost: every ring is a whole turn, closed flat."""

    name: ClassVar[str] = "none"

    @property
    def loss_mm(self) -> float:
        """Nothing."""
        return 0.0

    @property
    def rests_on(self) -> str:
        """That no loss was counted."""
        return "no cut counted: a whole turn closed flat"


Cut = Saw | Cutters | NoCut


def choose_cut(
    name: str | None,
    *,
    wire_mm: float,
    blade: Blade | None = None,
    kerf_mm: float | None = None,
    trim_mm: float | None = None,
) -> Cut:
    """The cut that was meant. Without a name, a blade or a kerf means the saw and a trim means cutters.

    Refuses what contradicts: a blade or a kerf with anything but the saw, a trim with anything but cutters.
    """
    sawn, trimmed = blade is not None or kerf_mm is not None, trim_mm is not None
    meant = name or ("saw" if sawn else "cutters" if trimmed else "none")
    if meant not in CUTS:
        raise UnknownName("cut", meant, CUTS)
    if sawn and meant != "saw":
        raise QuantityRefused("a blade or a kerf belongs to the saw", "leave it out, or cut with the saw")
    if trimmed and meant != "cutters":
        raise QuantityRefused("a trim belongs to cutters", "leave it out, or cut with cutters")
    if meant == "saw":
        return Saw(blade=blade, measured_kerf_mm=kerf_mm)
    if meant == "cutters":
        return Cutters.for_wire(wire_mm) if trim_mm is None else Cutters(trim_mm=trim_mm)
    return NoCut()
