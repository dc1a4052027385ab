"""The command `wire`: one wire in every system."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import click

from jigs.cli.columns import columns
from jigs.stock.wire import Gauge, Neighbours, Wire, neighbours, parse_wire
from layouts.showing import inch_fraction, show_length
from layouts.units import INCH_MM

_SAME_MM = 5e-7


@click.command("wire")
@click.argument("size", metavar="WIRE")
@click.option("--json", "as_json", is_flag=True, help="The same for scripts, keys with units.")
def command(size: str, as_json: bool) -> None:
    """One wire in millimetres, inches, AWG and SWG, with its neighbours.

    WIRE is a gauge with its system, or a diameter with its unit.

    \b
      coilwright wire "16 AWG"
      coilwright wire "1.2 mm"
      coilwright wire "3/64 in" --json
    """
    wire = parse_wire(size)
    near = neighbours(wire.diameter_mm)
    click.echo(json.dumps(_for_scripts(wire, near), indent=2) if as_json else _for_people(wire, near))


def _for_people(wire: Wire, near: tuple[Neighbours, ...]) -> str:
    rows = [
        (
            str(gauge),
            f"{gauge.diameter_mm:.4f}",
            f"{gauge.diameter_mm / INCH_MM:.4f}",
            _against(wire, gauge),
            mark,
        )
        for gauge, mark in _gauges(near)
    ]
    table = columns(("gauge", "mm", "inch", "the wire is", ""), rows)
    sources = "\n".join(dict.fromkeys(f"{gauge.system}: {gauge.source}" for gauge, _ in _gauges(near)))
    return f"{wire.given} = {show_length(wire.diameter_mm)}\n\n{table}\n\n{sources}"


def _gauges(near: tuple[Neighbours, ...]) -> Iterator[tuple[Gauge, str]]:
    """The gauges to show, thickest first in each system, the nearest marked."""
    for n in near:
        for gauge in (n.thicker, n.nearest, n.thinner):
            if gauge is not None:
                yield gauge, "<- nearest" if gauge is n.nearest else ""


def _against(wire: Wire, gauge: Gauge) -> str:
    """How far the wire is off a gauge: '0.071 mm thicker (+5.8 %)'."""
    residue = wire.diameter_mm - gauge.diameter_mm
    if abs(residue) < _SAME_MM:
        return "the same"
    word = "thicker" if residue > 0 else "thinner"
    return f"{abs(residue):.4f} mm {word} ({residue / gauge.diameter_mm:+.1%})".replace("%", " %")


def _for_scripts(wire: Wire, near: tuple[Neighbours, ...]) -> dict[str, Any]:
    fraction, residue_mm = inch_fraction(wire.diameter_mm)
    return {
        "given": wire.given,
        "wire_mm": wire.diameter_mm,
        "wire_in": wire.diameter_mm / INCH_MM,
        "nearest_64th": fraction,
        "nearest_64th_residue_mm": residue_mm,
        **{n.nearest.system.lower(): _system(n) for n in near},
    }


def _system(near: Neighbours) -> dict[str, Any]:
    return {
        "nearest": _gauge(near.nearest),
        "residue_mm": near.residue_mm,
        "thicker": _gauge(near.thicker),
        "thinner": _gauge(near.thinner),
    }


def _gauge(gauge: Gauge | None) -> dict[str, Any] | None:
    if gauge is None:
        return None
    return {"gauge": str(gauge), "diameter_mm": gauge.diameter_mm, "source": gauge.source}
