"""A released coil: pitch, helix angle, wire in one turn, and the ring that comes off it. In mm and degrees."""

from __future__ import annotations

import math
from dataclasses import dataclass

from jigs.making.ring import Ring
from layouts.errors import OutOfRange
from layouts.units import finite, positive


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


def ring_of_coil(coil: Coil, loss_mm: float) -> Ring:
    """The ring from one turn of a coil after a cut that takes some wire: mean diameter = (turn - loss) / pi.

    Source: C, computed from theory.

    >>> round(ring_of_coil(Coil(wire_mm=1.0, inside_mm=5.0, pitch_mm=1.0), 0.26).inside_mm, 5)
    4.92568
    """
    kept = coil.turn_length_mm - _loss(loss_mm)
    if kept <= 0:
        raise OutOfRange(
            f"the cut takes {loss_mm:.3f} mm and a turn is {coil.turn_length_mm:.3f} mm",
            "cut away less than a turn",
        )
    return Ring.of_kept_wire(wire_mm=coil.wire_mm, kept_mm=kept)


def coil_for_ring(ring: Ring, *, loss_mm: float, pitch_mm: float) -> Coil:
    """The coil off which a ring comes with its wanted size: `ring_of_coil` read backwards."""
    turn = ring.circumference_mm + _loss(loss_mm)
    return coil_of_turn(wire_mm=ring.wire_mm, turn_length_mm=turn, pitch_mm=pitch_mm)


def _loss(loss_mm: float) -> float:
    if finite(loss_mm, "cut loss") < 0:
        raise OutOfRange(f"a cut loss of {loss_mm:g} mm is negative", "give zero or more")
    return loss_mm
