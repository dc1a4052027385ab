"""What was measured as a report: the size and how sure it is, its readings, what it is based on, better ways."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Protocol

from jigs.making.likely_gauge import Likely
from jigs.making.measured import ErrorKind, Measured, Value
from jigs.making.measuring import OVAL, KnownWire
from jigs.making.other_ways import Reach
from jigs.making.rod_shape import RodShape
from jigs.reports.report import (
    CHANGE,
    COUNT,
    LENGTH,
    PERCENT,
    RATIO,
    Column,
    Report,
    record,
    table_of,
)
from layouts.errors import listed
from layouts.lengths import sized
from layouts.showing import show_number


class Found(Protocol):
    """A size that was measured, and what there is to say of it."""

    @property
    def kind(self) -> str:
        """rod, wire, ring or coil."""

    @property
    def measured(self) -> Measured:
        """The size."""

    @property
    def better(self) -> tuple[Reach, ...]:
        """Ways that would leave less unknown."""

    @property
    def wire(self) -> KnownWire | None:
        """The wire that it was worked out with."""

    @property
    def shape(self) -> RodShape | None:
        """Of a rod."""

    @property
    def sizes(self) -> tuple[Likely, ...]:
        """The sizes that a wire may be of."""

    @property
    def usual_printer(self) -> str:
        """The printer that a printed sheet was taken to be made true for, where none was named."""


_SHOWN_MM = 0.0005  # a cause that is less is 0.000: what an oval rod does cancels in readings at right angles
_NAMES = {"rod": "Rod", "wire": "Wire", "ring": "Ring, inside", "coil": "Coil, inside"}


def measured_report(found: Found) -> Report:
    """The size with its uncertainty (k = 2), every reading, every cause, the gauges it may be, and better ways."""
    measured = found.measured
    mm = measured.mm
    wire = found.wire.diameter_mm if found.wire and found.kind in ("ring", "coil") else None
    columns = (
        Column("kind", "", people=False),
        Column("size_mm", "size", LENGTH),
        Column("uncertainty_mm", "good for ± (k = 2)", LENGTH),
        Column("reading_mm", "of it from reading", LENGTH),
        Column("scale_mm", "of it from scale", LENGTH),
        Column("shared_mm", "of it from what all readings share", LENGTH),
        Column("outside_mm", "OD, with that wire", LENGTH),
        Column("aspect_ratio", "AR, with that wire", RATIO),
        Column("wire_mm", "wire, worked out", LENGTH),
        Column("wire_uncertainty_mm", "good for ± (k = 2)", LENGTH),
        Column("instrument", "kept as read with", people=False),
        Column("times_read", "", COUNT, people=False),
        Column("contradicts", "", people=False),
    )
    from_each = [measured.part_mm(kind) for kind in (ErrorKind.READING, ErrorKind.SCALE, ErrorKind.SHARED)]
    row = (
        found.kind,
        mm,
        measured.uncertainty_mm,
        *(part or None for part in from_each),
        mm + 2 * wire if wire else None,
        mm / wire if wire else None,
        *((found.wire.diameter_mm, found.wire.off_mm) if found.wire and found.sizes else (None, None)),
        measured.instrument,
        measured.readings,
        bool(measured.contradictions),
    )
    heading = f"{_NAMES[found.kind]}: {sized(mm, 3)}, good for ±{sized(measured.uncertainty_mm, 3)} (k = 2)"
    parts = tuple(_parts(found))
    return record("measured", columns, row, heading=heading, notes=tuple(_notes(found)), parts=parts)


def cautions_of(found: Found) -> tuple[str, ...]:
    """What the maker should be told loudly: readings that contradict one another, by their names."""
    measured = found.measured
    if measured.odd_one:
        return (f"{measured.odd_one} contradicts the others, which agree: read it again, or leave it out",)
    return tuple(
        f"{pair.one} and {pair.other} contradict one another: {sized(pair.apart_mm, 2)} apart, and together they can be"
        f" off by {sized(pair.may_be_mm, 2)}; read both again"
        for pair in measured.contradictions
    )


def _parts(found: Found) -> Iterator[Report]:
    measured = found.measured
    yield _readings(measured)
    yield table_of(
        "causes",
        [term for term in measured.terms if term.mm >= _SHOWN_MM or term.kind is ErrorKind.READING],
        {
            Column("cause", "where it may be off"): lambda term: term.cause,
            Column("mm", "k = 2", LENGTH): lambda term: term.mm,
        },
    )
    if found.sizes:
        wire_mm = found.wire.diameter_mm if found.wire else measured.mm
        yield table_of(
            "sizes",
            found.sizes,
            {
                Column("size", "it may be"): lambda likely: likely.size.name,
                Column("diameter_mm", "", LENGTH): lambda likely: likely.size.diameter_mm,
                Column("off_mm", "the wire is", CHANGE): lambda likely: wire_mm - likely.size.diameter_mm,
                Column("likelihood_percent", "likely", PERCENT): lambda likely: 100 * likely.likelihood,
                Column("fits", "fits"): lambda likely: likely.fits,
            },
        )
    yield table_of(
        "better",
        found.better,
        {
            Column("way", "what would make it better"): lambda reach: reach.words,
            Column("uncertainty_mm", "good for ±", LENGTH): lambda reach: reach.off_mm,
        },
        notes=() if found.better else ("No other way here would make it clearly better.",),
    )


def _readings(measured: Measured) -> Report:
    def weight(value: Value) -> float:
        places = [id(one) for one in measured.values]
        return 100 * measured.weights[places.index(id(value))]

    return table_of(
        "readings",
        measured.values,
        {
            Column("reading", "reading"): lambda value: value.name,
            Column("worked", "worked out"): lambda value: value.worked,
            Column("size_mm", "size", LENGTH): lambda value: value.mm,
            Column("uncertainty_mm", "alone ±", LENGTH): lambda value: value.uncertainty_mm,
            Column("counts_percent", "counts", PERCENT): weight,
        },
    )


def _notes(found: Found) -> Iterator[str]:
    measured = found.measured
    if found.shape is not None:
        yield from _shape_notes(found.shape, measured)
    if found.sizes:
        if found.kind == "ring":
            yield "The wire is worked out from their outside and the other readings: where you know it better, give it."
        yield _gauge_note(found.sizes)
    if found.usual_printer:
        yield f"Read on a sheet made true for {found.usual_printer}, your usual printer: its scale counts."
    if any(value.is_of_chain for value in measured.values):
        yield "A chain reads the largest inside of rings that are not round. Pull it just straight: soft rings give."


def _shape_notes(shape: RodShape, rod: Measured) -> Iterator[str]:
    if shape.oval is None:
        if any(term.cause == OVAL for term in rod.terms):
            yield "Read across one way: read it at right angles too, since rods are seldom quite round."
    elif shape.oval.is_seen:
        part = show_number(100 * abs(shape.oval.mm) / rod.mm, 1)
        yield f"It is oval by {sized(abs(shape.oval.mm), 2)} ({part} %): the mean counts, which is right for winding."
    else:
        yield f"Round, as far as it was read: {sized(abs(shape.oval.mm), 2)} ±{sized(shape.oval.off_mm, 2)}."
    if shape.taper is not None:
        more = "thicker" if shape.taper.mm > 0 else "thinner"
        by = sized(abs(shape.taper.mm), 2)
        if shape.taper.is_seen:
            yield f"Its other end is {more} by {by}: rings differ along it; wind always on one part, and measure that."
        else:
            yield f"No taper as far as it was read: {by} ±{sized(shape.taper.off_mm, 2)}."


def _gauge_note(sizes: Sequence[Likely]) -> str:
    first = sizes[0]
    if not first.fits:
        off = show_number(first.off_sd, 1)
        name = first.size.name
        return f"Wire is not sold in this size: the nearest, {name}, is {off} standard deviations off."
    may_be = [one.size.name for one in sizes if one.fits and one.likelihood >= 0.05]
    if first.likelihood < 0.9 and len(may_be) > 1:
        return f"The wire is {listed(may_be)}: what was read does not tell them apart."
    percent = show_number(100 * first.likelihood, 1)
    return f"The wire is {first.size.name}: {percent} % likely among the sizes that are sold."
