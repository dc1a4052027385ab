"""The closed ring: sizes and mass. Lengths in mm, mass in g."""

from __future__ import annotations

import math
from dataclasses import dataclass

from jigs.stock.wire import mg_per_mm
from layouts.errors import OutOfRange
from layouts.units import positive

MG_PER_G = 1000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Ring:
    """A ring closed flat, known by its wire and the inside diameter it closes to."""

    wire_mm: float
    inside_mm: float

    def __post_init__(self) -> None:
        positive(self.wire_mm, "wire")
        positive(self.inside_mm, "ring inside diameter")

    @classmethod
    def of_kept_wire(cls, *, wire_mm: float, kept_mm: float) -> Ring:
        """The ring that a length of wire closes to: mean diameter = length / pi; refused without a hole."""
        inside = positive(kept_mm, "wire in the ring") / math.pi - positive(wire_mm, "wire")
        if inside <= 0:
            raise OutOfRange(
                f"{kept_mm:.3f} mm of {wire_mm:.3f} mm wire closes with no hole left",
                f"keep more than {math.pi * wire_mm:.3f} mm",
            )
        return cls(wire_mm=wire_mm, inside_mm=inside)

    @classmethod
    def of_ratio(cls, *, wire_mm: float, ratio: float) -> Ring:
        """The ring of a wanted aspect ratio: inside diameter = ratio x d."""
        return cls(wire_mm=wire_mm, inside_mm=positive(ratio, "aspect ratio") * positive(wire_mm, "wire"))

    @classmethod
    def of_outside(cls, *, wire_mm: float, outside_mm: float) -> Ring:
        """The ring of a wanted outside diameter: inside = outside - 2 d; refused without a hole."""
        inside = positive(outside_mm, "ring outside diameter") - 2 * positive(wire_mm, "wire")
        if inside <= 0:
            raise OutOfRange(
                f"a ring of {outside_mm:.3f} mm outside has no hole in wire of {wire_mm:.3f} mm",
                f"give more than {2 * wire_mm:.3f} mm",
            )
        return cls(wire_mm=wire_mm, inside_mm=inside)

    @property
    def outside_mm(self) -> float:
        """Inside diameter + 2 d."""
        return self.inside_mm + 2 * self.wire_mm

    @property
    def mean_diameter_mm(self) -> float:
        """Inside diameter + d."""
        return self.inside_mm + self.wire_mm

    @property
    def aspect_ratio(self) -> float:
        """AR: inside diameter / d."""
        return self.inside_mm / self.wire_mm

    @property
    def circumference_mm(self) -> float:
        """Along the middle of the wire, pi x mean diameter: the wire that is in the ring."""
        return math.pi * self.mean_diameter_mm

    def mass_g(self, density_g_cm3: float) -> float:
        """Mass [g] of the wire in the ring: pi/4 d^2 x circumference x density.

        >>> round(Ring(wire_mm=1.0, inside_mm=5.0).mass_g(10.36), 6)
        0.153374
        """
        return self.circumference_mm * mg_per_mm(self.wire_mm, density_g_cm3) / MG_PER_G
