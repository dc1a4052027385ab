"""What a cut takes along the wire, per ring: a saw's kerf, a cutter's trim, or nothing. Lengths in mm."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

from jigs.stock.blade import Blade
from jigs.stock.figure import Basis, Figure, best
from layouts.errors import OutOfRange, QuantityRefused, UnknownName
from layouts.lengths import sized
from layouts.units import finite, positive

USUAL_TRIM_WIRES = 1.0  # P: wire diameters trimmed per ring by flush cutters; 0.5 to 1.5 is seen
MOST_LOST_WIRES, ALWAYS_LOST_MM = 4.0, 1.0  # to one cut, at most: so many wires; but a blade may be so wide
CUTS = ("saw", "cutters", "none")


@dataclass(frozen=True, slots=True, kw_only=True)
class Saw:
    """A piercing saw. Its kerf is measured, or a blade's from the table; with both, the measured counts."""

    name: ClassVar[str] = "saw"
    is_sawn: ClassVar[bool] = True
    is_snipped: ClassVar[bool] = False
    blade: Blade | None = None
    measured_kerf_mm: float | None = None

    def __post_init__(self) -> None:
        if self.measured_kerf_mm is not None:
            positive(self.measured_kerf_mm, "kerf")
        elif self.blade is None:
            raise QuantityRefused("a saw cut needs its kerf", "name the blade, such as 2/0, or give the kerf itself")

    @property
    def loss(self) -> Figure:
        """The kerf: wire lost per ring [mm], and where it comes from."""
        given = of_blade = None
        if self.measured_kerf_mm is not None:
            words = f"kerf {sized(self.measured_kerf_mm, 3)} as given"
            words += f" with blade {self.blade.name}" if self.blade else ""
            given = _loss("kerf", self.measured_kerf_mm, Basis.MEASURED, f"saw: {words}")
        if self.blade is not None:
            kerf = self.blade.kerf
            advice = ": measure a cut" if kerf.basis.rank > Basis.RECORDED.rank else ""
            words = f"saw: kerf {sized(kerf.value, 3)} of blade {self.blade.name} ({self.blade.kerf_words}){advice}"
            of_blade = replace(kerf, words=words)
        return best((given, of_blade)) or _loss("kerf", 0.0, Basis.NOT_COUNTED, "saw: no kerf")

    @property
    def loss_mm(self) -> float:
        """Wire lost per ring: the kerf."""
        return self.loss.value


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutters:
    """Flush cutters: the pointed end is trimmed away before every ring. loss is the trim: wire lost per ring [mm]."""

    name: ClassVar[str] = "cutters"
    is_sawn: ClassVar[bool] = False
    is_snipped: ClassVar[bool] = True
    loss: Figure

    def __post_init__(self) -> None:
        if self.loss.value < 0:
            raise OutOfRange(f"a trim of {self.loss.value:g} mm is negative", "give zero or more")

    @classmethod
    def measured(cls, trim_mm: float) -> Cutters:
        """By the trim as it was measured."""
        finite(trim_mm, "trim")
        return cls(loss=_loss("trim", trim_mm, Basis.MEASURED, f"cutters: trim {sized(trim_mm, 3)} as given"))

    @classmethod
    def for_wire(cls, wire_mm: float) -> Cutters:
        """The usual trim for a wire: 1.0 wire diameter, common practice, no source."""
        trim = USUAL_TRIM_WIRES * positive(wire_mm, "wire")
        words = f"cutters: trim {sized(trim, 3)} = {USUAL_TRIM_WIRES:g} wire, common practice: measure yours"
        return cls(loss=_loss("trim", trim, Basis.USUAL, words))

    @property
    def loss_mm(self) -> float:
        """Wire lost per ring: the trim."""
        return self.loss.value


@dataclass(frozen=True, slots=True, kw_only=True)
class NoCut:
    """No wire lost: every ring is a whole turn, closed flat."""

    name: ClassVar[str] = "none"
    is_sawn: ClassVar[bool] = False
    is_snipped: ClassVar[bool] = False

    @property
    def loss(self) -> Figure:
        """That no loss is counted."""
        return _loss("cut", 0.0, Basis.NOT_COUNTED, "no cut counted: a whole turn closed flat")

    @property
    def loss_mm(self) -> float:
        """Nothing."""
        return 0.0


Cut = Saw | Cutters | NoCut


def _loss(name: str, loss_mm: float, basis: Basis, words: str) -> Figure:
    return Figure(name=name, value=loss_mm, basis=basis, words=words)


def choose_cut(
    name: str | None,
    *,
    wire_mm: float,
    blade: Blade | None = None,
    kerf_mm: float | None = None,
    trim_mm: float | None = None,
) -> Cut:
    """The cut that was meant. Without a name, a blade or a kerf means the saw and a trim means cutters.

    Refuses what contradicts: a blade or a kerf with anything but the saw, a trim with anything but cutters; and a kerf
    or a trim that no cut takes, such as 28 mm for 0.28 mm.
    """
    sawn, trimmed = blade is not None or kerf_mm is not None, trim_mm is not None
    meant = name or ("saw" if sawn else "cutters" if trimmed else "none")
    if meant not in CUTS:
        raise UnknownName("cut", meant, CUTS)
    if sawn and meant != "saw":
        raise QuantityRefused("a blade or a kerf belongs to the saw", "leave it out, or cut with the saw")
    if trimmed and meant != "cutters":
        raise QuantityRefused("a trim belongs to cutters", "leave it out, or cut with cutters")
    for lost_mm, what in ((kerf_mm, "kerf"), (trim_mm, "trim")):
        if lost_mm is not None and finite(lost_mm, what) > max(MOST_LOST_WIRES * wire_mm, ALWAYS_LOST_MM):
            problem = f"a {what} of {lost_mm:g} mm is over {MOST_LOST_WIRES:g} times the wire of {wire_mm:g} mm"
            raise OutOfRange(problem, "give what one cut takes, such as 0.28 mm", field=what)
    if meant == "saw":
        return Saw(blade=blade, measured_kerf_mm=kerf_mm)
    if meant == "cutters":
        measured = None if trim_mm is None else Cutters.measured(trim_mm).loss
        usual = Cutters.for_wire(wire_mm).loss
        return Cutters(loss=best((measured, usual)) or usual)
    return NoCut()
