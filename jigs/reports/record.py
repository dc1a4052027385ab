"""Records of batches as reports: what was read, what was expected, and what the next is wound on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Protocol

from jigs.bench.record import NO_METAL, SIZES, Record
from jigs.making.trial import Doubt, Expected
from jigs.planning.next_batch import NextBatch
from jigs.reports.report import (
    CHANGE,
    LENGTH,
    RATIO_FINE,
    Band,
    CellKind,
    Column,
    Report,
    record,
    table_of,
)
from jigs.stock.metal import metals

_OFF = CellKind(name="off", unit="sd", places=1)


class Told(Protocol):
    """A record against all the others."""

    @property
    def record(self) -> Record:
        """The record itself."""

    @property
    def coil(self) -> Expected:
        """The coil that was expected."""

    @property
    def ring(self) -> Expected:
        """The closed ring that was expected."""

    @property
    def off(self) -> float:
        """How far it is off all the others, in standard deviations."""

    @property
    def doubt(self) -> Doubt | None:
        """What does not fit, if anything."""


class Recorded(Protocol):
    """A record, and what the next batch is wound on."""

    @property
    def told(self) -> Told:
        """The record against all the others."""

    @property
    def next(self) -> NextBatch | None:
        """What to wind next."""


def records_report(records: Sequence[Told]) -> Report:
    """A row for each record."""
    return table_of(
        "records",
        records,
        {
            Column("name", "record"): lambda told: told.record.name,
            Column("date", "date"): lambda told: told.record.date or None,
            Column("spool", "spool"): lambda told: told.record.spool_key,
            Column("metal", "metal"): lambda told: told.record.group,
            Column("mandrel", "mandrel"): lambda told: told.record.mandrel,
            Column("coil_inside_mm", "coil", LENGTH): lambda told: _coil(told.record),
            Column("ring_inside_mm", "closed ID", LENGTH): lambda told: _inside(told.record),
            Column("expected_mm", "expected", LENGTH): lambda told: told.ring.mm,
            Column("band", "band", LENGTH): lambda told: Band(*told.ring.band_mm, LENGTH),
            Column("counts", "counts"): lambda told: told.doubt is None,
            Column("remarks", "remarks"): lambda told: told.record.remarks or None,
        },
        notes=tuple(dict.fromkeys(_doubt(told.doubt) for told in records if told.doubt)),
    )


def recorded_report(found: Recorded) -> Report:
    """One record: what was read and what was expected without it, then what to wind the next batch on."""
    told, coming = found.told, found.next
    one = told.record
    inside = _inside(one)
    off = None if inside is None else inside - told.ring.mm
    columns = (
        Column("name", "", people=False),
        Column("wire_mm", "wire", LENGTH),
        Column("metal", "metal"),
        Column("spool", "spool"),
        Column("mandrel", "mandrel"),
        Column("coil_inside_mm", "coil inside, read", LENGTH),
        Column("coil_expected_mm", "coil inside, expected", LENGTH),
        Column("ring_inside_mm", "closed ID, read", LENGTH),
        Column("ring_expected_mm", "closed ID, expected", LENGTH),
        Column("ring_band", "expected from", LENGTH),
        Column("ring_off_mm", "read over expected", CHANGE),
        Column("read_with", "read with"),
        Column("fits_sd", "off all the others", _OFF),
        Column("counts", "counts"),
    )
    row = (
        one.name,
        one.wire.diameter_mm,
        one.group,
        one.spool or None,
        one.mandrel,
        _coil(one),
        told.coil.mm,
        inside,
        told.ring.mm,
        Band(*told.ring.band_mm, LENGTH),
        off,
        ", ".join(dict.fromkeys(filter(None, (one.instrument, one.chain_instrument)))),
        told.off,
        told.doubt is None,
    )
    heading, notes = f"Record {one.name}", tuple(_notes(told))
    return record("record", columns, row, heading=heading, notes=notes, parts=(_next(coming),) if coming else ())


def _notes(told: Told) -> Iterator[str]:
    one = told.record
    if told.doubt:
        yield _doubt(told.doubt)
    if not any(getattr(one, key) for key in SIZES):
        yield "Nothing of it is measured: it tells the next batch nothing yet."
    if one.metal != NO_METAL and one.metal not in {metal.name for metal in metals()}:
        yield f"{one.metal} is not in the table of metals: its own records alone tell how it springs."


def _next(coming: NextBatch) -> Report:
    """The mandrel for the next batch."""
    choices = table_of(
        "rods",
        coming.choices,
        {
            Column("name", "rod"): lambda choice: choice.name,
            Column("kind", ""): lambda choice: choice.kind,
            Column("owned", "yours"): lambda choice: choice.owned,
            Column("diameter_mm", "diameter", LENGTH): lambda choice: choice.diameter_mm,
            Column("ring_inside_mm", "closed ID", LENGTH): lambda choice: choice.ring.inside_mm,
            Column("off_mm", "off", CHANGE): lambda choice: choice.off_mm,
            Column("ring_ratio", "AR", RATIO_FINE): lambda choice: choice.ring.aspect_ratio,
        },
    )
    columns = Column("wanted_mm", "for a closed ID of", LENGTH), Column("mandrel_mm", "wind on", LENGTH)
    row = coming.wanted_mm, coming.mandrel_mm
    return record("next", columns, row, heading="The next batch", parts=(choices,))


def _inside(one: Record) -> float | None:
    """The closed inside as it was read, in whatever way [mm]."""
    if one.ring_inside:
        return sum(one.ring_inside) / len(one.ring_inside)
    if one.ring_outside:
        return sum(one.ring_outside) / len(one.ring_outside) - 2 * one.wire.diameter_mm
    if one.chain:
        return (sum(one.chain) / len(one.chain) - 2 * one.wire.diameter_mm) / one.chain_rings
    return None


def _coil(one: Record) -> float | None:
    if one.coil_inside:
        return sum(one.coil_inside) / len(one.coil_inside)
    if one.coil_outside:
        return sum(one.coil_outside) / len(one.coil_outside) - 2 * one.wire.diameter_mm
    return None


def _doubt(doubt: Doubt | None) -> str:
    """What does not fit, by its name, and what to do."""
    if doubt is None:
        return ""
    if len(doubt.names) == 1:
        by = f"by {doubt.off:.0f} standard deviations"
        who = f"Record {doubt.names[0]} does not fit the others, or its own sizes one another, {by}: it is left out."
    else:
        who = f"Records {' and '.join(doubt.names)} disagree by {doubt.off:.0f} standard deviations: both are left out."
    return f"{who} Measure again, and correct it or confirm it."
