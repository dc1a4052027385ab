"""A released coil: its pitch, helix angle and the wire in one turn. Lengths in mm, angles in degrees."""

from __future__ import annotations

import math
from dataclasses import dataclass

from layouts.errors import OutOfRange
from layouts.units import positive


@dataclass(frozen=True, slots=True, kw_only=True)
class Coil:
    """A coil of round wire, off the mandrel. A pitch equal to the wire is close-wound; less cannot be."""

    wire_mm: float
    inside_mm: float
    pitch_mm: float

    def __post_init__(self) -> None:
        positive(self.wire_mm, "wire")
        positive(self.inside_mm, "coil inside diameter")
        refuse_tight_pitch(self.wire_mm, self.pitch_mm)

    @property
    def mean_diameter_mm(self) -> float:
        """Inside diameter + d."""
        return self.inside_mm + self.wire_mm

    @property
    def outside_mm(self) -> float:
        """Inside diameter + 2 d."""
        return self.inside_mm + 2 * self.wire_mm

    @property
    def helix_angle_deg(self) -> float:
        """atan(pitch / (pi x mean diameter))."""
        return math.degrees(math.atan2(self.pitch_mm, math.pi * self.mean_diameter_mm))

    @property
    def turn_length_mm(self) -> float:
        """Wire in one turn, sqrt((pi x mean diameter)^2 + pitch^2). Source: C, reference section 3."""
        return math.hypot(math.pi * self.mean_diameter_mm, self.pitch_mm)

    def length_mm(self, turns: float) -> float:
        """Length of a coil of so many turns, outside to outside: turns x pitch + d."""
        return positive(turns, "turns") * self.pitch_mm + self.wire_mm


def coil_of_turn(*, wire_mm: float, turn_length_mm: float, pitch_mm: float) -> Coil:
    """The coil whose turn takes this much wire: `Coil.turn_length_mm` read backwards."""
    wire, turn = positive(wire_mm, "wire"), positive(turn_length_mm, "turn length")
    refuse_tight_pitch(wire, pitch_mm)
    least = math.hypot(math.pi * wire, pitch_mm)
    if turn <= least:
        raise OutOfRange(f"{turn:.3f} mm of wire does not go once round a coil", f"give more than {least:.3f} mm")
    around = math.sqrt((turn - pitch_mm) * (turn + pitch_mm))
    return Coil(wire_mm=wire, inside_mm=around / math.pi - wire, pitch_mm=pitch_mm)


def refuse_tight_pitch(wire_mm: float, pitch_mm: float) -> None:
    """Refuses a pitch below the wire's diameter: turns cannot lie inside one another."""
    if positive(pitch_mm, "pitch") < wire_mm:
        raise OutOfRange(
            f"a pitch of {pitch_mm:.3f} mm is less than the wire of {wire_mm:.3f} mm",
            "give the wire's diameter (close-wound) or more",
        )
