"""One wire in every system."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from jigs.reports.report import INCHES, LENGTH, LENGTH_FINE, WORDS, Column, Report, record
from jigs.stock.gauges import Gauge, Neighbours
from jigs.stock.wire import Wire
from layouts.lengths import are_inches, length_in_full, sized
from layouts.showing import inch_fraction

_SAME_MM = 5e-7  # so little apart is one size, written in two units


def wire_report(wire: Wire, near: Sequence[Neighbours]) -> Report:
    """The wire in millimetres and inches, and in each system the nearest gauge with those on both sides."""
    fraction, residue_mm = inch_fraction(wire.diameter_mm)
    columns = (
        Column("given", "wire", WORDS, people=False),
        Column("wire_mm", "", LENGTH, people=False),
        Column("wire_in", "", INCHES, people=False),
        Column("nearest_64th", "nearest 1/64", WORDS, people=False),
        Column("nearest_64th_residue_mm", "off it", LENGTH, people=False),
    )
    return record(
        "wire",
        columns,
        (wire.given, wire.diameter_mm, wire.inches, fraction, residue_mm),
        heading=f"{wire.given} = {length_in_full(wire.diameter_mm)}",
        parts=(
            _gauges(wire, near),
            *(
                record(
                    n.nearest.system.lower(),
                    (Column("residue_mm", "", LENGTH),),
                    (n.residue_mm,),
                    parts=(_gauge("nearest", n.nearest), _gauge("thicker", n.thicker), _gauge("thinner", n.thinner)),
                    people=False,
                )
                for n in near
            ),
        ),
    )


def _gauges(wire: Wire, near: Sequence[Neighbours]) -> Report:
    """The gauges around the wire, thickest first in each system, the nearest marked."""
    rows = []
    for gauge, is_nearest in _shown(near):
        off_mm = wire.diameter_mm - gauge.diameter_mm
        word = "thicker" if off_mm > 0 else "thinner"
        against = f"{sized(abs(off_mm), 4)} {word} ({off_mm / gauge.diameter_mm:+.1%})".replace("%", " %")
        if abs(off_mm) < _SAME_MM:
            against = "the same"
        mark = "<- nearest" if is_nearest else ""
        rows.append((str(gauge), gauge.diameter_mm, gauge.inches, against, mark))
    return Report(
        key="gauges",
        columns=(
            Column("gauge", "gauge"),
            Column("diameter_mm", "", LENGTH_FINE),
            Column("diameter_in", "", INCHES, people=not are_inches()),
            Column("against", "the wire is"),
            Column("mark", ""),
        ),
        rows=tuple(rows),
        notes=tuple(dict.fromkeys(f"{gauge.system}: {gauge.source}" for gauge, _ in _shown(near))),
        scripts=False,
    )


def _shown(near: Sequence[Neighbours]) -> Iterator[tuple[Gauge, bool]]:
    for n in near:
        for gauge in (n.thicker, n.nearest, n.thinner):
            if gauge is not None:
                yield gauge, gauge is n.nearest


def _gauge(key: str, gauge: Gauge | None) -> Report:
    columns = Column("gauge", "gauge"), Column("diameter_mm", "", LENGTH_FINE), Column("source", "source")
    return record(key, columns, None if gauge is None else (str(gauge), gauge.diameter_mm, gauge.source))
