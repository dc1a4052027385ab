"""The command `tables`: what the project knows of gauges, metals, blades, drills and weaves, with sources."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import click

from jigs.cli.columns import columns
from jigs.orders.weave import weaves
from jigs.stock.blade import blades
from jigs.stock.drill import SERIES, drills
from jigs.stock.metal import TEMPERS, Band, Metal, Temper, metals
from jigs.stock.wire import SYSTEMS, gauges
from layouts.units import INCH_MM

Row = dict[str, Any]


@click.command("tables")
@click.argument("table", type=click.Choice(["gauges", "metals", "blades", "drills", "weaves"]))
@click.option("--json", "as_json", is_flag=True, help="The same for scripts, keys with units.")
def command(table: str, as_json: bool) -> None:
    """A table of gauges, metals, blades, drills or weaves, a source in each row.

    Strengths of metals are yield (Y) and tensile (U), in MPa. Ranges of weaves are of AR, inside / wire; your own
    stand in weaves.toml of your bench folder.

    \b
      coilwright tables gauges
      coilwright tables metals
      coilwright tables drills --json
    """
    rows, text = _TABLES[table]
    click.echo(json.dumps(rows(), indent=2) if as_json else text())


def _gauge_rows() -> list[Row]:
    return [
        {
            "gauge": str(gauge),
            "diameter_mm": gauge.diameter_mm,
            "diameter_in": gauge.diameter_mm / INCH_MM,
            "source": gauge.source,
        }
        for system in SYSTEMS
        for gauge in gauges(system)
    ]


def _metal_rows() -> list[Row]:
    """A row for each temper, and one for a metal of which no temper is known."""
    return [_temper_row(metal, temper) for metal in metals() for temper in (tuple(metal.tempers.values()) or (None,))]


def _temper_row(metal: Metal, temper: Temper | None) -> Row:
    return {
        "metal": metal.name,
        "alloy": metal.alloy,
        "density_g_cm3": metal.density_g_cm3,
        "modulus_gpa": metal.modulus_gpa,
        "temper": temper.name if temper else None,
        "yield_mpa": _ends(temper.yield_mpa) if temper else None,
        "tensile_mpa": _ends(temper.tensile_mpa) if temper else None,
        "hardening": [
            {"k_mpa": pair.k_mpa, "n": pair.n, "source": pair.source}
            for pair in (temper.hardening_pairs if temper else ())
        ],
        "note": temper.note if temper else "",
        "source": _sources(metal, temper),
    }


def _sources(metal: Metal, temper: Temper | None) -> str:
    """Where a row's figures come from, each said once."""
    parts = [metal.source]
    if temper and temper.source != metal.source:
        parts.append(f"strength: {temper.source}")
    if metal.modulus and metal.modulus.words != metal.source:
        parts.append(f"modulus: {metal.modulus.words}")
    return "; ".join(parts)


def _ends(band: Band | None) -> list[float] | None:
    return None if band is None else [band.low, band.high]


def _blade_rows() -> list[Row]:
    return [
        {
            "size": blade.name,
            "thickness_mm": blade.thickness_mm,
            "width_mm": blade.width_mm,
            "teeth_per_inch": blade.teeth_per_inch,
            "kerf_mm": blade.kerf_mm,
            "source": blade.source,
            "kerf_source": blade.kerf.words,
        }
        for blade in blades()
    ]


def _weave_rows() -> list[Row]:
    return [
        {
            "weave": weave.name,
            "ratio_low": weave.low,
            "ratio_good": weave.good,
            "ratio_high": weave.high,
            "wires_through": weave.wires_through,
            "source": weave.source,
        }
        for weave in weaves()
    ]


def _drill_rows() -> list[Row]:
    return [
        {
            "drill": drill.name,
            "series": series,
            "diameter_mm": drill.diameter_mm,
            "diameter_in": drill.diameter_mm / INCH_MM,
            "source": drill.source,
        }
        for series in SERIES
        for drill in drills(series)
    ]


# --- for people ---

_HEADINGS = {
    "diameter_mm": "mm",
    "diameter_in": "inch",
    "thickness_mm": "thick mm",
    "width_mm": "width mm",
    "teeth_per_inch": "teeth/in",
    "kerf_mm": "kerf mm",
    "ratio_low": "AR low",
    "ratio_good": "good",
    "ratio_high": "high",
    "wires_through": "wires through",
}

_FORMATS = {"diameter_mm": ".4f", "diameter_in": ".4f", "teeth_per_inch": ".1f", "wires_through": "d"}


def _grid(rows: list[Row], leave_out: str = "") -> str:
    keys = [key for key in rows[0] if key != leave_out]
    return columns([_HEADINGS.get(key, key) for key in keys], [[_cell(key, row[key]) for key in keys] for row in rows])


def _cell(key: str, value: str | float | None) -> str:
    if value is None:
        return ""
    return value if isinstance(value, str) else format(value, _FORMATS.get(key, ".2f"))


def _gauges_text() -> str:
    return _grid(_gauge_rows())


def _drills_text() -> str:
    return _grid(_drill_rows())


def _blades_text() -> str:
    rows = _blade_rows()
    kerf = "\n".join(dict.fromkeys(f"kerf: {row['kerf_source']}" for row in rows))
    return f"{_grid(rows, leave_out='kerf_source')}\n\n{kerf}"


def _weaves_text() -> str:
    return f"{_grid(_weave_rows())}\n\n{_OWN_WEAVES}"


_OWN_WEAVES = """Your own, or other figures for these: weaves.toml in your bench folder, a table for each, such as
["my chain"]
low = 3.4
good = 3.8
high = 4.2
wires_through = 4"""


def _metals_text() -> str:
    header = ("metal", "alloy", "g/cm3", "E GPa", *TEMPERS, "source")
    table = columns(header, [_metal_line(metal) for metal in metals()])
    strengths = "Y yield, U tensile, in MPa; what is left out is not known here"
    return f"{table}\n\n{strengths}\n\n{_hardening_lines()}\n\n{_notes()}"


def _metal_line(metal: Metal) -> tuple[str, ...]:
    strengths = (_strengths(metal.tempers[name]) if name in metal.tempers else "" for name in TEMPERS)
    first = next(iter(metal.tempers.values()), None)
    figures = (_known(metal.density_g_cm3, ".2f"), _known(metal.modulus_gpa, ".1f"))
    return (metal.name, metal.alloy, *figures, *strengths, _sources(metal, first))


def _known(value: float | None, form: str) -> str:
    return "" if value is None else format(value, form)


def _strengths(temper: Temper) -> str:
    yields = f"Y {temper.yield_mpa} " if temper.yield_mpa else ""
    return f"{yields}U {temper.tensile_mpa}"


def _hardening_lines() -> str:
    rows = [
        (f"{temper.name} {metal.name}", f"{pair.k_mpa:g}", f"{pair.n:.2f}", pair.source)
        for metal, temper in _every_temper()
        for pair in temper.hardening_pairs
    ]
    return columns(("stress = K x strain^n", "K MPa", "n", "source"), rows)


def _notes() -> str:
    noted = [(metal, temper) for metal, temper in _every_temper() if temper.note]
    return "\n".join(f"{temper.name} {metal.name}: {temper.note}" for metal, temper in noted)


def _every_temper() -> list[tuple[Metal, Temper]]:
    return [(metal, temper) for metal in metals() for temper in metal.tempers.values()]


_TABLES: dict[str, tuple[Callable[[], list[Row]], Callable[[], str]]] = {
    "gauges": (_gauge_rows, _gauges_text),
    "metals": (_metal_rows, _metals_text),
    "blades": (_blade_rows, _blades_text),
    "drills": (_drill_rows, _drills_text),
    "weaves": (_weave_rows, _weaves_text),
}
