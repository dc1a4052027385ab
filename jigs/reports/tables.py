"""The tables that the project has, each row with its source; names of tables in the order of the work."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from jigs.orders.weave import weaves
from jigs.reports.report import (
    COUNT,
    DENSITY,
    INCHES,
    LENGTH,
    LENGTH_COARSE,
    LENGTH_FINE,
    MODULUS,
    NUMBER,
    PERCENT,
    RATIO,
    STRESS,
    Band,
    Cell,
    CellKind,
    Column,
    OfKind,
    Report,
    table_of,
)
from jigs.stock.blade import blades
from jigs.stock.drill import SERIES, drills
from jigs.stock.gauges import SYSTEMS, gauges
from jigs.stock.instrument import instruments
from jigs.stock.metal import TEMPERS, Metal, Strength, Temper, metals
from layouts.lengths import are_inches
from layouts.printing.budget import bars_in_words

_TEETH = CellKind(name="teeth", places=1)
_OWN_WEAVES = """Your own, or other figures for these: weaves.toml in your bench folder, a table for each, such as
["my chain"]
low = 3.4
good = 3.8
high = 4.2
wires_through = 4"""


_OF_METAL = (
    Column("metal", "metal"),
    Column("alloy", "alloy"),
    Column("density_g_cm3", "", DENSITY),
    Column("modulus_gpa", "E", MODULUS),
)


def _metals() -> Report:
    """For scripts a row for each temper; for people a row for each metal, then the hardening pairs and the notes."""
    columns = (
        *_OF_METAL,
        Column("temper", "temper"),
        Column("yield_mpa", "yield", STRESS),
        Column("tensile_mpa", "tensile", STRESS),
        Column("hardening", ""),
        Column("note", "note"),
        Column("source", "source"),
    )
    sources = tuple((metal.name, _sources(metal, next(iter(metal.tempers.values()), None))) for metal in metals())
    return Report(
        key="metals",
        columns=tuple(replace(column, people=False) for column in columns),
        rows=tuple(_temper(metal, temper) for metal in metals() for temper in metal.tempers.values() or (None,)),
        parts=(
            _by_metal(),
            Report(key="sources", columns=(Column("metal", "metal"), Column("source", "source")), rows=sources),
            _hardening(),
        ),
    )


def _temper(metal: Metal, temper: Temper | None) -> tuple[Cell, ...]:
    """A row; of a metal of which no temper is known, without its strengths."""
    pairs = tuple((pair.k_mpa, pair.n, pair.source) for pair in (temper.hardening_pairs if temper else ()))
    columns = Column("k_mpa", "K", STRESS), Column("n", "n", RATIO), Column("source", "source")
    return (
        metal.name,
        metal.alloy,
        metal.density_g_cm3,
        metal.modulus_gpa,
        temper.name if temper else None,
        _ends(temper.yield_mpa) if temper else None,
        _ends(temper.tensile_mpa) if temper else None,
        Report(key="hardening", columns=columns, rows=pairs),
        temper.note if temper else "",
        _sources(metal, temper),
    )


def _ends(strength: Strength | None) -> Band | None:
    return None if strength is None else Band(strength.low, strength.high, STRESS)


def _sources(metal: Metal, temper: Temper | None) -> str:
    """Where a row's figures come from, each said once."""
    parts = [metal.source]
    if temper and temper.source != metal.source:
        parts.append(f"strength: {temper.source}")
    if metal.modulus and metal.modulus.words != metal.source:
        parts.append(f"modulus: {metal.modulus.words}")
    return "; ".join(parts)


def _by_metal() -> Report:
    rows = []
    for metal in metals():
        strengths: list[str | None] = []
        for name in TEMPERS:
            temper = metal.tempers.get(name)
            yields = f"Y {temper.yield_mpa} " if temper and temper.yield_mpa else ""
            strengths.append(f"{yields}U {temper.tensile_mpa}" if temper else None)
        rows.append((metal.name, metal.alloy, metal.density_g_cm3, metal.modulus_gpa, *strengths))
    return Report(
        key="by_metal",
        columns=(*_OF_METAL, *(Column(temper, temper) for temper in TEMPERS)),
        rows=tuple(rows),
        notes=("Y is yield, U tensile, in MPa; what is left out is not known here.",),
    )


def _hardening() -> Report:
    """The hardening pairs, and what there is to say of tempers."""
    tempers = [(metal, temper) for metal in metals() for temper in metal.tempers.values()]
    return Report(
        key="pairs",
        columns=(
            Column("metal", "stress = K x strain^n"),
            Column("k_mpa", "K", STRESS),
            Column("n", "n", RATIO),
            Column("source", "source"),
        ),
        rows=tuple(
            (f"{temper.name} {metal.name}", OfKind(pair.k_mpa, NUMBER), pair.n, pair.source)
            for metal, temper in tempers
            for pair in temper.hardening_pairs
        ),
        notes=tuple(f"{temper.name} {metal.name}: {temper.note}" for metal, temper in tempers if temper.note),
    )


TABLES: dict[str, Callable[[], Report]] = {
    "gauges": lambda: table_of(
        "gauges",
        (gauge for system in SYSTEMS for gauge in gauges(system)),
        {
            Column("gauge", "gauge"): str,
            Column("diameter_mm", "", LENGTH_FINE): lambda gauge: gauge.diameter_mm,
            Column("diameter_in", "", INCHES, people=not are_inches()): lambda gauge: gauge.inches,
            Column("source", "source"): lambda gauge: gauge.source,
        },
    ),
    "metals": _metals,
    "blades": lambda: table_of(
        "blades",
        blades(),
        {
            Column("size", "size"): lambda blade: blade.name,
            Column("thickness_mm", "thick", LENGTH_COARSE): lambda blade: blade.thickness_mm,
            Column("width_mm", "wide", LENGTH_COARSE): lambda blade: blade.width_mm,
            Column("teeth_per_inch", "teeth/in", _TEETH): lambda blade: blade.teeth_per_inch,
            Column("kerf_mm", "kerf", LENGTH_COARSE): lambda blade: blade.kerf_mm,
            Column("source", "source"): lambda blade: blade.source,
            Column("kerf_source", "kerf from", people=False): lambda blade: blade.kerf_words,
        },
        notes=tuple(dict.fromkeys(f"kerf: {blade.kerf_words}" for blade in blades())),
    ),
    "drills": lambda: table_of(
        "drills",
        (drill for series in SERIES for drill in drills(series)),
        {
            Column("drill", "drill"): lambda drill: drill.name,
            Column("series", "series"): lambda drill: drill.series,
            Column("diameter_mm", "", LENGTH_FINE): lambda drill: drill.diameter_mm,
            Column("diameter_in", "", INCHES, people=not are_inches()): lambda drill: drill.inches,
            Column("source", "source"): lambda drill: drill.source,
        },
    ),
    "weaves": lambda: table_of(
        "weaves",
        weaves(),
        {
            Column("weave", "weave"): lambda weave: weave.name,
            Column("ratio_low", "AR low", RATIO): lambda weave: weave.low,
            Column("ratio_good", "good", RATIO): lambda weave: weave.good,
            Column("ratio_high", "high", RATIO): lambda weave: weave.high,
            Column("wires_through", "wires through", COUNT): lambda weave: weave.wires_through,
            Column("source", "source"): lambda weave: weave.source,
        },
        notes=(_OWN_WEAVES,),
    ),
    "instruments": lambda: table_of(
        "instruments",
        instruments(),
        {
            Column("instrument", "instrument"): lambda instrument: instrument.name,
            Column("about", "what it is"): lambda instrument: instrument.about,
            Column("scatter_mm", "scatter", LENGTH): lambda instrument: instrument.scatter_mm,
            Column("bias_mm", "bias", LENGTH): lambda instrument: instrument.bias_mm,
            Column("scale_percent", "scale", PERCENT): lambda instrument: 100 * instrument.scale,
            Column("reads", "reads"): lambda instrument: ", ".join(instrument.reads),
            Column("source", "source"): lambda instrument: instrument.source,
        },
        notes=(
            "Errors at k = 2: 95 of 100 readings lie within. Scatter is of one reading; bias and scale are shared by"
            " all readings with one instrument.",
            f"Of what is printed the scale is that of a sheet that is not corrected. {bars_in_words()}",
        ),
    ),
}
"""Each table by its name, made when it is called."""
