"""One wire in every system."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from jigs.reports.report import INCHES, LENGTH, LENGTH_FINE, WORDS, Cell, Column, Report, record
from jigs.stock.wire import Gauge, Neighbours, Wire
from layouts.showing import inch_fraction, show_length

_SAME_MM = 5e-7


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
        heading=f"{wire.given} = {show_length(wire.diameter_mm)}",
        parts=(_gauges(wire, near), *(_system(n) for n in near)),
    )


def _gauges(wire: Wire, near: Sequence[Neighbours]) -> Report:
    """The gauges around the wire, thickest first in each system, the nearest marked."""
    rows = tuple(_row(wire, gauge, is_nearest) for gauge, is_nearest in _shown(near))
    return Report(
        key="gauges",
        columns=(
            Column("gauge", "gauge"),
            Column("diameter_mm", "", LENGTH_FINE),
            Column("diameter_in", "", INCHES),
            Column("against", "the wire is"),
            Column("mark", ""),
        ),
        rows=rows,
        notes=tuple(dict.fromkeys(f"{gauge.system}: {gauge.source}" for gauge, _ in _shown(near))),
        scripts=False,
    )


def _shown(near: Sequence[Neighbours]) -> Iterator[tuple[Gauge, bool]]:
    for n in near:
        for gauge in (n.thicker, n.nearest, n.thinner):
            if gauge is not None:
                yield gauge, gauge is n.nearest


def _row(wire: Wire, gauge: Gauge, is_nearest: bool) -> tuple[Cell, ...]:
    mark = "<- nearest" if is_nearest else ""
    return str(gauge), gauge.diameter_mm, gauge.inches, _against(wire, gauge), mark


def _against(wire: Wire, gauge: Gauge) -> str:
    """How far the wire is off a gauge: '0.0710 mm thicker (+5.8 %)'."""
    residue = wire.diameter_mm - gauge.diameter_mm
    if abs(residue) < _SAME_MM:
        return "the same"
    word = "thicker" if residue > 0 else "thinner"
    return f"{abs(residue):.4f} mm {word} ({residue / gauge.diameter_mm:+.1%})".replace("%", " %")


def _system(near: Neighbours) -> Report:
    return record(
        near.nearest.system.lower(),
        (Column("residue_mm", "", LENGTH),),
        (near.residue_mm,),
        parts=(
            _gauge("nearest", near.nearest),
            _gauge("thicker", near.thicker),
            _gauge("thinner", near.thinner),
        ),
        people=False,
    )


def _gauge(key: str, gauge: Gauge | None) -> Report:
    columns = Column("gauge", "gauge"), Column("diameter_mm", "", LENGTH_FINE), Column("source", "source")
    return record(key, columns, None if gauge is None else (str(gauge), gauge.diameter_mm, gauge.source))
