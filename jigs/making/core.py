"""The wooden core that a coil is put on for the saw, once it is off its mandrel. Lengths in mm.

A wooden mandrel is its own core. A coil wound on metal is slid off and put on wood, since a saw never runs on metal.
Common practice, no source.
"""

from __future__ import annotations

from jigs.stock.rod import Rod, RodKind, nearest_rods
from layouts.units import positive

CORE_CLEARANCE_MM = 0.1  # P: the least by which a core is thinner than the coil's inside
THINNEST_CORE_MM = 3.0  # P: thinner wood breaks at the saw: tape the coil and lay it in the groove


def core_for(inside_mm: float) -> Rod | None:
    """The thickest rod sold that a coil slides on, at least 0.1 mm under its inside; None where it would be under 3 mm.

    inside_mm is the low end of the band of the released coil's inside: a coil that comes out tighter does not slide on.

    >>> core_for(5.39).name
    '13/64 in'
    """
    most = positive(inside_mm, "coil inside diameter") - CORE_CLEARANCE_MM
    if most < THINNEST_CORE_MM:
        return None
    sold = (rod for rod in nearest_rods(most, count=16) if rod.kind in (RodKind.METRIC, RodKind.INCH))
    thin_enough = [rod for rod in sold if THINNEST_CORE_MM <= rod.diameter_mm <= most + 1e-9]
    return max(thin_enough, key=lambda rod: rod.diameter_mm, default=None)
