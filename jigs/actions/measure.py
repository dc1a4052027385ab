"""Measuring a rod, wire, rings or a coil with what is at hand: readings in, the size and how sure it is out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from jigs.bench.bench import Bench
from jigs.bench.reading import read_bench
from jigs.making import measuring
from jigs.making.likely_gauge import Likely, likely_sizes
from jigs.making.measured import Measured, Value
from jigs.making.measuring import OTHER_END, RIGHT_ANGLES, KnownWire
from jigs.making.other_ways import Reach, better_ways
from jigs.making.rod_shape import RodShape, shape_of
from jigs.stock.instrument import Instrument
from jigs.stock.metal import Metal
from jigs.stock.wire import Wire
from layouts.errors import Give, OutOfRange, QuantityRefused
from layouts.units import positive

if TYPE_CHECKING:
    from layouts.printing.printer import Printer

PAPER_MM = 0.10
"""The paper that a wrap strip counts on where nothing else is said: 80 g/m2."""

PAPER_OFF_MM, PAPER_MEASURED_OFF_MM = (
    0.02,
    0.005,
)  # how far off a paper's thickness is, k = 2 (computed, a hundred sheets by rule)
_Of = TypeVar("_Of")


@dataclass(frozen=True, slots=True, kw_only=True)
class Common:
    """What readings of every kind share.

    across_with reads across, length_with lengths of wire, turns and chains, by the names of instruments. printer and
    tray name the printer that a sheet was made true for; "" for the usual one, "none" for one that is not corrected.
    """

    across_with: str = "caliper"
    length_with: str = ""
    printer: str = ""
    tray: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class WireGiven:
    """The wire that other sizes are worked out with: by its size and how good that is (mm, k = 2), or by its spool."""

    wire: Wire | None = None
    good_for_mm: float | None = None
    spool: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class RodReadings:
    """Readings of a rod [mm], each way as often as it was read.

    strip: the printed wrap strip, cut from paper of paper_mm (None: not measured) and printed for sheet_paper_mm
    (None: for that in the printer's tray, as the sheet takes it).
    across, right_angles, other_end: with an instrument. pricks: a plain strip, pricked prick_at_mm from its start.
    unwound: wire that lay on the rod in so many turns.
    """

    strip: Sequence[float] = ()
    strip_other_end: Sequence[float] = ()
    paper_mm: float | None = None
    sheet_paper_mm: float | None = None
    across: Sequence[float] = ()
    right_angles: Sequence[float] = ()
    other_end: Sequence[float] = ()
    pricks: Sequence[float] = ()
    prick_at_mm: float = 3.0
    unwound: Sequence[float] = ()
    turns: float | None = None
    pitch_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WireReadings:
    """Readings of a wire [mm, g]: close turns on a rod, read on the printed strip or as a length; weighed; across."""

    strip: Sequence[float] = ()
    turns_length: Sequence[float] = ()
    turns: int | None = None
    rod: str = ""
    weighed_g: Sequence[float] = ()
    piece_mm: float | None = None
    scale_step_g: float | None = None
    metal: Metal | None = None
    density_g_cm3: float | None = None
    across: Sequence[float] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class RingReadings:
    """Readings of closed rings, or of a coil [mm]: a chain of so many, inside, outside, turns straightened."""

    chain: Sequence[float] = ()
    rings: int | None = None
    inside: Sequence[float] = ()
    outside: Sequence[float] = ()
    straightened: Sequence[float] = ()
    turns: float | None = None
    pitch_mm: float | None = None
    weighed_g: float | None = None
    metal: Metal | None = None
    density_g_cm3: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What was measured: kind is "rod", "wire", "ring" or "coil"; better: the ways that would leave less unknown.

    usual_printer: the one that a printed sheet was taken to be made true for, where none was named.
    """

    kind: str
    measured: Measured
    better: tuple[Reach, ...]
    wire: KnownWire | None = None
    shape: RodShape | None = None
    sizes: tuple[Likely, ...] = ()
    usual_printer: str = ""


# --- the four things


def measure_rod(bench: Path, readings: RodReadings, common: Common, wire: WireGiven | None = None) -> Found:
    """A rod by all readings of it together, whether it is oval or tapers, and what would measure it better."""
    desk = _Desk(bench, common)
    known = desk.wire(wire) if wire else None
    values = [*_by_strip(readings, desk), *_across(readings, desk), *_by_paper_or_wire(readings, desk, known)]
    measured = _together("rod", values, "strip")
    return _found("rod", desk, measured, known, shape=shape_of(measured))


def measure_wire(bench: Path, readings: WireReadings, common: Common) -> Found:
    """A wire by all readings of it together, and the gauges that it may be."""
    desk = _Desk(bench, common)
    values = [*_by_turns(readings, desk), *_by_mass(readings, desk)]
    across = desk.tool(common.across_with, "wire") if readings.across else None
    if across:
        values += [measuring.directly(mm, across, number=n) for n, mm in _numbered(readings.across)]
    measured = _together("wire", values, "strip")
    sizes = likely_sizes(measured.mm, measured.uncertainty_mm)
    return _found("wire", desk, measured, sizes=sizes)


def measure_ring(bench: Path, readings: RingReadings, common: Common, wire: WireGiven) -> Found:
    """The inside of closed rings by all readings together. Refuses a ring's weight, and says why.

    Without a wire, rings that are read outside, and inside or in a chain too, tell it.
    """
    desk = _Desk(bench, common)
    known = desk.wire(wire)
    sizes: tuple[Likely, ...] = ()
    if known is None and readings.outside and (readings.chain or readings.inside):
        known = _wire_of_rings(readings, desk)
        sizes = likely_sizes(known.diameter_mm, known.off_mm or 0.0)
        readings = replace(readings, outside=())  # it told the wire, and is no second witness for the inside
    if readings.weighed_g is not None:
        density = _density(readings.metal, readings.density_g_cm3)
        raise measuring.refuse_ring_by_mass(readings.weighed_g, _needed_wire(known), density)
    measured = _together("inside of the ring", list(_by_ring(readings, desk, known)), "chain")
    return _found("ring", desk, measured, known, sizes=sizes)


def measure_coil(bench: Path, readings: RingReadings, common: Common, wire: WireGiven) -> Found:
    """The inside of a released coil by all readings together."""
    desk = _Desk(bench, common)
    known = desk.wire(wire)
    measured = _together("inside of the coil", list(_by_ring(readings, desk, known)), "outside")
    return _found("coil", desk, measured, known)


def _found(kind: str, desk: _Desk, measured: Measured, wire: KnownWire | None = None, **more: Any) -> Found:
    better = better_ways(measured, kind, desk.tool, wire)
    return Found(
        kind=kind, measured=measured, better=better, wire=wire, usual_printer=desk.usual_printer(measured), **more
    )


# --- readings to values


class _Desk:
    """What readings are worked out with: the bench, its instruments, the scale of the sheet."""

    def __init__(self, bench: Path, common: Common) -> None:
        self.bench: Bench = read_bench(bench)
        self.common = common
        self.folder = bench
        if common.printer:
            self.printer  # noqa: B018 - one that is not known is refused, whatever was read

    @cached_property
    def printer(self) -> Printer | None:
        """The printer that the sheet was made true for. Looked for where something printed is read."""
        from jigs.actions.printer import printer_meant

        return printer_meant(self.folder, self.common.printer, self.common.tray)

    @property
    def paper_mm(self) -> float:
        """The paper that a sheet for the printer counts on."""
        from layouts.pages.tray import thickness_of

        known = thickness_of(self.printer.tray) if self.printer else None
        return known.thickness_mm if known else PAPER_MM

    def tool(self, name: str, reads: str = "") -> Instrument:
        """An instrument by its name; a printed one has the scale of the sheet's printer."""
        found = self.bench.instrument(name, reads)
        if not found.printed or self.printer is None:
            return found
        return found.off_by(self.printer.scale_expanded)

    def usual_printer(self, measured: Measured) -> str:
        """The usual printer, where something printed was read and no printer was named; else ""."""
        printed = any(self.bench.instrument(value.instrument).printed for value in measured.values)
        return self.printer.name if printed and not self.common.printer and self.printer else ""

    def length_tool(self, usual: str, reads: str) -> Instrument:
        """What a length was read with."""
        return self.tool(self.common.length_with or usual, reads)

    def wire(self, given: WireGiven) -> KnownWire | None:
        """The wire that was given; None without any."""
        if given.spool:
            spool = self.bench.spool(given.spool)
            mm = given.wire.diameter_mm if given.wire else spool.wire.diameter_mm
            off = given.good_for_mm
            if off is None and spool.instrument and not given.wire:
                off = self.bench.instrument_of(spool).uncertainty_mm(mm, spool.readings)
            return KnownWire(diameter_mm=mm, off_mm=off)
        if given.wire is None:
            if given.good_for_mm is not None:
                raise QuantityRefused("how good the wire is, and no wire", remedies=(Give(field="wire"),))
            return None
        return KnownWire(diameter_mm=given.wire.diameter_mm, off_mm=given.good_for_mm)


def _by_strip(readings: RodReadings, desk: _Desk) -> Iterator[Value]:
    if not (readings.strip or readings.strip_other_end):
        return
    tool = desk.tool("strip" if readings.paper_mm is None else "strip, paper measured", "rod")
    counted = desk.paper_mm if readings.sheet_paper_mm is None else readings.sheet_paper_mm
    paper = counted if readings.paper_mm is None else readings.paper_mm
    for end, read in (("", readings.strip), (OTHER_END, readings.strip_other_end)):
        for n, mm in _numbered(read):
            yield measuring.rod_by_strip(mm, tool, counted_mm=counted, paper_mm=paper, end=end, number=n)


def _across(readings: RodReadings, desk: _Desk) -> Iterator[Value]:
    places = ("", "", readings.across), (RIGHT_ANGLES, "", readings.right_angles), ("", OTHER_END, readings.other_end)
    if not any(read for _, _, read in places):
        return
    if not readings.across:
        raise QuantityRefused("a rod read at right angles or at its other end only", remedies=(Give(field="across"),))
    tool = desk.tool(desk.common.across_with, "rod")
    for place, end, read in places:
        for n, mm in _numbered(read):
            yield measuring.across_rod(mm, tool, place=place, end=end, number=n)


def _by_paper_or_wire(readings: RodReadings, desk: _Desk, wire: KnownWire | None) -> Iterator[Value]:
    for n, mm in _numbered(readings.pricks):
        yield measuring.rod_by_pricks(
            mm,
            desk.length_tool("rule", "chain"),
            paper_mm=readings.paper_mm or PAPER_MM,
            paper_off_mm=PAPER_MEASURED_OFF_MM if readings.paper_mm else PAPER_OFF_MM,
            from_start_mm=positive(readings.prick_at_mm, "the place of the prick"),
            number=n,
        )
    if readings.unwound:
        turns = _needed(readings.turns, "turns", "20")
        known = _needed_wire(wire)
        tool = desk.length_tool("rule", "chain")
        for n, mm in _numbered(readings.unwound):
            yield measuring.rod_by_unwound(mm, turns, known, tool, pitch_mm=readings.pitch_mm, number=n)


def _by_turns(readings: WireReadings, desk: _Desk) -> Iterator[Value]:
    if not (readings.strip or readings.turns_length):
        return
    wires = _needed(readings.turns, "turns", "40")
    rod = desk.bench.rod_mm(readings.rod) if readings.rod else None
    if readings.strip:
        tool = desk.tool("wire strip", "turns")
        for n, mm in _numbered(readings.strip):
            # the strip counts on the usual helix; where the rod is known its own is taken instead
            length = measuring.turns_length_mm(mm, wires)
            yield measuring.wire_by_turns(length, wires, tool, rod_mm=rod, number=n)
    for n, mm in _numbered(readings.turns_length):
        tool = desk.length_tool("rule", "turns")
        yield measuring.wire_by_turns(mm, wires, tool, rod_mm=rod, number=n)


def _by_mass(readings: WireReadings, desk: _Desk) -> Iterator[Value]:
    if not readings.weighed_g:
        return
    piece = _needed(readings.piece_mm, "piece", "1 m")
    step = _needed(readings.scale_step_g, "scale_step", "0.1 g")
    density = _density(readings.metal, readings.density_g_cm3)
    tool = desk.length_tool("rule", "chain")
    for n, grams in _numbered(readings.weighed_g):
        yield measuring.wire_by_mass(grams, piece, density, step_g=step, tool=tool, number=n)


def _by_ring(readings: RingReadings, desk: _Desk, wire: KnownWire | None) -> Iterator[Value]:
    for n, mm in _numbered(readings.chain):
        rings = _needed(readings.rings, "rings", "20")
        tool = desk.length_tool("chain strip", "chain")
        if wire is None:
            either = Give(field="wire", example="1.2 mm"), Give(field="outside", example="7.4 mm")
            raise QuantityRefused("a chain needs its wire, or the outside of one of its rings", remedies=either)
        yield measuring.inside_by_chain(mm, rings, wire, tool, number=n)
    for n, mm in _numbered(readings.inside):
        yield measuring.directly(mm, desk.tool(desk.common.across_with, "inside"), number=n)
    for n, mm in _numbered(readings.outside):
        tool = desk.tool(desk.common.across_with, "outside")
        yield measuring.inside_by_outside(mm, _needed_wire(wire), tool, number=n)
    for n, mm in _numbered(readings.straightened):
        turns = _needed(readings.turns, "turns", "20")
        tool = desk.length_tool("rule", "chain")
        yield measuring.inside_by_straightened(
            mm, turns, _needed_wire(wire), tool, pitch_mm=readings.pitch_mm, number=n
        )


def _wire_of_rings(readings: RingReadings, desk: _Desk) -> KnownWire:
    """The wire that rings are made of, by their outside and what else was read of them."""

    tool = desk.tool(desk.common.across_with, "outside")
    outside = _read(tool, readings.outside)
    if not readings.chain:
        return measuring.wire_of_rings(outside, _read(tool, readings.inside))
    rings = _needed(readings.rings, "rings", "20")
    return measuring.wire_of_rings(outside, _read(desk.length_tool("chain strip", "chain"), readings.chain), rings)


def _read(tool: Instrument, lengths: Sequence[float]) -> Measured:
    """Lengths as an instrument reads them, together."""
    return _together("size", [measuring.directly(mm, tool, number=n) for n, mm in _numbered(lengths)], "")


def _together(what: str, values: list[Value], first: str) -> Measured:
    if not values:
        raise OutOfRange(f"no reading of the {what} is given", remedies=(Give(field=first),))
    return Measured(what=what, values=tuple(values))


def _numbered(readings: Sequence[float]) -> Iterator[tuple[int, float]]:
    return iter(enumerate(readings, 1))


def _needed(value: _Of | None, field: str, example: str) -> _Of:
    if value is None:
        what = field.replace("_", " ")
        raise QuantityRefused(f"the readings need the {what}", remedies=(Give(field=field, example=example),))
    return value


def _needed_wire(wire: KnownWire | None) -> KnownWire:
    return _needed(wire, "wire", "1.2 mm")


def _density(metal: Metal | None, density_g_cm3: float | None) -> float:
    found = density_g_cm3 or (metal.density_g_cm3 if metal else None)
    if found is None:
        which = f"no density of {metal.name} is known here" if metal else "weighing needs a density"
        give = (Give(field="density", example="8.86 g/cm3"),) if metal else (Give(field="metal"), Give(field="density"))
        raise QuantityRefused(which, remedies=give)
    return found
