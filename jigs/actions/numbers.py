"""Asking for numbers: of a ring, of a wire, of a table."""

from __future__ import annotations

from typing import Any

from jigs.making.batch import Batch
from jigs.making.cutting import choose_cut
from jigs.making.material import choose_material
from jigs.reports.report import Report
from jigs.reports.tables import TABLES
from jigs.reports.wire import wire_report
from jigs.stock.blade import Blade
from jigs.stock.metal import Metal
from jigs.stock.wire import Wire, neighbours
from layouts.errors import UnknownName


def ring_numbers(
    *,
    wire: Wire,
    metal: Metal | None = None,
    temper: str | None = None,
    density_g_cm3: float | None = None,
    modulus_gpa: float | None = None,
    strength_mpa: float | None = None,
    cut: str | None = None,
    blade: Blade | None = None,
    kerf_mm: float | None = None,
    trim_mm: float | None = None,
    **batch: Any,
) -> Batch:
    """A batch of rings of one wire; `batch` takes the fields of `Batch`. Refuses what contradicts itself."""
    material = choose_material(
        metal, temper, density_g_cm3=density_g_cm3, modulus_gpa=modulus_gpa, strength_mpa=strength_mpa
    )
    how = choose_cut(cut, wire_mm=wire.diameter_mm, blade=blade, kerf_mm=kerf_mm, trim_mm=trim_mm)
    return Batch(wire=wire, material=material, cut=how, **batch)


def wire_numbers(wire: Wire) -> Report:
    """One wire in every system, with its neighbours."""
    return wire_report(wire, neighbours(wire.diameter_mm))


def show_table(name: str) -> Report:
    """The table of that name, of `TABLES`; every row with its source."""
    if name not in TABLES:
        raise UnknownName("table", name, TABLES)
    return TABLES[name]()
