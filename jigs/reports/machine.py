"""A machine as its coupon was tried, and the machines of a bench, as reports."""

from __future__ import annotations

from collections.abc import Sequence

from jigs.reports.report import LENGTH, NUMBER, Cell, CellKind, Column, Report, record
from layouts.machines.machine import EDGES, KNIFE, Machine

_GAIN = CellKind(name="length", unit="mm", places=3, signed=True)
_FACTOR = CellKind(name="ratio", places=4)
_SIZES_MM = (5.0, 10.0)
"""Sizes that a machine's trust is shown for."""


def machine_report(machine: Machine, *, details: bool = True) -> Report:
    """What a coupon says: gains with their uncertainty, scale, and what a size is good for once that is undone.

    Without `details` people see no terms of the uncertainties. Scripts get all of it.
    """
    figures: dict[Column, Cell] = {
        Column("machine", "", people=False): machine.name,
        Column("kind", "kind"): machine.kind,
        Column("material", "", people=False): machine.material,
        Column("thickness_mm", "", NUMBER, people=False): machine.thickness_mm,
        Column("date", "", people=False): machine.date or None,
        Column("measured", "tried", scripts=False): machine.date or "on an unknown date",
        Column("across_factor", "scale across", _FACTOR): machine.across_factor,
        Column("along_factor", "scale along", _FACTOR): machine.along_factor,
    }
    if (kerf := machine.kerf) and machine.kind != KNIFE:
        figures[Column("kerf_mm", "kerf", LENGTH)] = kerf.mm
        figures[Column("kerf_uncertainty_k2_mm", "± (k = 2)", LENGTH)] = kerf.uncertainty_mm
    return record(
        "machine",
        tuple(figures),
        tuple(figures.values()),
        heading=str(machine),
        parts=(_gains(machine), _good_for(machine), _terms(machine, people=details)),
    )


def machines_report(machines: Sequence[Machine]) -> Report:
    """Every record in a row."""
    return Report(
        key="machines",
        columns=(
            Column("machine", "machine"),
            Column("kind", "kind"),
            Column("material", "material"),
            Column("thickness_mm", "thick, mm", NUMBER),
            Column("hole_gain_mm", "holes gain", _GAIN),
            Column("pin_gain_mm", "discs gain", _GAIN),
            Column("date", "", people=False),
            Column("measured", "tried", scripts=False),
        ),
        rows=tuple(
            (
                machine.name,
                machine.kind,
                machine.material,
                machine.thickness_mm,
                machine.gain("hole").mm,
                machine.gain("pin").mm,
                machine.date or None,
                machine.date or "no date",
            )
            for machine in machines
        ),
    )


def _gains(machine: Machine) -> Report:
    """What sizes of each kind gain, and what that goes by."""
    rows = []
    for kind in EDGES:
        gain = machine.gain(kind)
        rows.append((f"{kind}s", gain.mm, gain.uncertainty_mm, gain.basis))
    return Report(
        key="gains",
        heading="What sizes come out larger than drawn",
        columns=(
            Column("size", "size"),
            Column("gain_mm", "gain", _GAIN),
            Column("gain_uncertainty_k2_mm", "± (k = 2)", LENGTH),
            Column("basis", "by"),
        ),
        rows=tuple(rows),
    )


def _good_for(machine: Machine) -> Report:
    """What a size is good for once its gain is undone."""
    rows = [
        (f"{kind} of {size:g} mm", size, machine.budget(kind, size).expanded) for kind in EDGES for size in _SIZES_MM
    ]
    return Report(
        key="good_for",
        heading="What a corrected size is good for (k = 2)",
        columns=(
            Column("what", "what"),
            Column("size_mm", "", NUMBER, people=False),
            Column("uncertainty_k2_mm", "±", LENGTH),
        ),
        rows=tuple(rows),
    )


def _terms(machine: Machine, *, people: bool) -> Report:
    rows = [(f"{kind}s", term.words, term.standard) for kind in EDGES for term in machine.budget(kind, 5.0).terms]
    return Report(
        key="good_for_terms",
        heading="The terms of each at 5 mm (k = 1)",
        columns=(Column("what", "what"), Column("term", "term"), Column("standard_mm", "", LENGTH)),
        rows=tuple(rows),
        people=people,
    )
