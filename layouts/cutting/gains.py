"""By how much what a machine makes comes out larger than drawn, and the outline to draw so that it comes out right."""

from __future__ import annotations

from dataclasses import dataclass

from layouts.drawing.outline import Closed, Round
from layouts.errors import OutOfRange
from layouts.units import finite, positive

WIDEST_KERF_MM = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Gains:
    """What a hole, a slot, a disc (pin) and any other outline (tab) gain in width, mm; made over drawn, each way."""

    hole_mm: float = 0.0
    slot_mm: float = 0.0
    pin_mm: float = 0.0
    tab_mm: float = 0.0
    across: float = 1.0
    along: float = 1.0

    def __post_init__(self) -> None:
        for gain in (self.hole_mm, self.slot_mm, self.pin_mm, self.tab_mm):
            finite(gain, "a gain")
        positive(self.across, "a factor")
        positive(self.along, "a factor")

    @classmethod
    def of_kerf(cls, kerf_mm: float) -> Gains:
        """A cut that wide along the middle of its line: what is inside it loses that, a hole gains it."""
        if not 0 <= finite(kerf_mm, "a kerf") <= WIDEST_KERF_MM:
            raise OutOfRange(f"a kerf of {kerf_mm:g} mm", f"give 0 mm to {WIDEST_KERF_MM:g} mm")
        return cls(hole_mm=kerf_mm, slot_mm=kerf_mm, pin_mm=-kerf_mm, tab_mm=-kerf_mm)

    @property
    def widest_mm(self) -> float:
        """The most that any of them gains or loses."""
        return max(abs(gain) for gain in (self.hole_mm, self.slot_mm, self.pin_mm, self.tab_mm))

    def drawn(self, outline: Closed, *, inside: bool) -> Closed:
        """What to draw for an outline, `inside` for that of a hole: grown by half its gain less, then stretched back.

        Refuses (`OutOfRange`) what the kerf would eat.
        """
        if isinstance(outline, Round):
            gain = self.hole_mm if inside else self.pin_mm
        else:
            gain = self.slot_mm if inside else self.tab_mm
        return outline.grown(-gain / 2).stretched(1 / self.across, 1 / self.along)


AS_DRAWN = Gains()
