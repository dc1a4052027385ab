"""Batches of rings for tests, by few words."""

from __future__ import annotations

from jigs.making.batch import Batch
from jigs.making.material import choose_material
from jigs.stock.metal import find_metal
from jigs.stock.wire import Wire

ONE_MM = Wire(diameter_mm=1.0, given="1 mm")
STERLING = choose_material(find_metal("sterling"), "soft")
SPRINGY = choose_material(None, modulus_gpa=75, strength_mpa=450, density_g_cm3=10.36)


def batch(**changes: object) -> Batch:
    return Batch(**{"wire": ONE_MM, **changes})


def wire_of(diameter: float) -> Wire:
    return Wire(diameter_mm=diameter, given=f"{diameter} mm")


# -- a metal of which little is known, or that must not be sawn

WHITE_GOLD = find_metal("nickel white gold")
