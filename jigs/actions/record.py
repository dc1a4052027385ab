"""Records of batches: written down, listed, corrected and forgotten, and what the next batch is to be wound on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from jigs.bench import writing
from jigs.bench.bench import Bench, Spool
from jigs.bench.knowledge import Knowledge, knowledge_of, trial_of
from jigs.bench.reading import RECORDS, read_bench, reader_of
from jigs.bench.record import FIELDS, READ, Record
from jigs.bench.records import metal_name
from jigs.making.trial import Doubt, Expected
from jigs.planning.next_batch import NextBatch, next_batch
from jigs.stock.wire import parse_wire
from layouts.errors import Give, QuantityRefused, Refusal, UnknownName, shown
from layouts.files.folder import Folder
from layouts.showing import show_mm, show_percent
from layouts.units import parse_length

WIRES_APART = 0.1  # a wire further off its spool's is another wire, a gauge or more away


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """A record, the coil and closed ring that were expected without it, and its doubt where it does not fit."""

    record: Record
    coil: Expected
    ring: Expected
    off: float
    doubt: Doubt | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Recorded:
    """What was written: the record as it is told, what to wind the next batch on, and the file."""

    told: Told
    next: NextBatch | None
    file: Path


def record_batch(bench: Path, values: Mapping[str, Any], *, name: str = "") -> Recorded:
    """Writes down a batch; values by the keys of `FIELDS`, in words; None is left out. Without a name it is numbered.

    What a spool or a mandrel of the bench says of itself is written too, so that the record stands alone; and of what
    was read on a printed strip the scale of its printer, the usual one where "printer" names none.
    Refuses a name that is there already, and what no batch gives.
    """
    owned = read_bench(bench)
    given = {key: value for key, value in values.items() if value not in (None, "", (), [])}
    taken = {record.name for record in owned.records}
    name = name.strip() or next(str(number) for number in range(1, len(taken) + 2) if str(number) not in taken)
    if name in taken:
        raise QuantityRefused(f"record {shown(name)} is there already", "correct that one, or name this one anew")
    _refuse_lacking(given, owned)
    _refuse_instruments(given, owned)
    spool = next((one for one in owned.spools if one.name == given.get("spool")), None)
    if spool is not None:
        of_spool = {"wire": show_mm(spool.wire.diameter_mm, 4), "metal": spool.metal.name, "temper": spool.temper}
        given = of_spool | given
    mandrel = next((one for one in owned.mandrels if one.name == given.get("mandrel")), None)
    if mandrel is not None:
        given.setdefault("measured", show_mm(mandrel.measured_mm, 4))
    given |= _scale_of_print(bench, given, owned)
    writing.add(Folder(path=bench), "record", name, _in_order(given))
    return _recorded(bench, name)


def check_field(bench: Path, key: str, value: Any, before: Mapping[str, Any]) -> None:
    """Refuses a value of one field as `record_batch` would, with the fields that were given before it."""
    if key == "chain":  # goes with its rings, which are asked for next
        parse_length(value)
        return
    named = ("spool", "wire", "mandrel", "measured", "cut", "blade", *(("chain",) if key == "chain_rings" else ()))
    known = {one: before[one] for one in named if before.get(one)} | {key: value}
    if "wire" not in known and not knows_spool(bench, known.get("spool", "")):
        known["wire"] = "1 mm"  # it is given next
    if key in ("with", "chain_with"):
        _refuse_instruments({**before, key: value}, read_bench(bench))
    writing.refuse_values(reader_of("record", bench), "record", {"mandrel": "5 mm"} | known)


def knows_spool(bench: Path, name: str) -> bool:
    """Whether a spool of that name is on the bench, so that its wire and metal need not be said."""
    return any(spool.name == name.strip() for spool in read_bench(bench).spools)


def correct_record(bench: Path, name: str, values: Mapping[str, Any]) -> Recorded:
    """Changes what is given of a record and leaves the rest, comments too. Refuses a name that is not there."""
    name, owned = name.strip(), read_bench(bench)
    _find(owned, name)
    before = dict(Folder(path=bench).read(RECORDS).data[name])
    given = {key: value for key, value in values.items() if value not in (None, "", (), [])}
    if not given:
        raise QuantityRefused(f"nothing is corrected in record {name}", "give what is to be changed")
    _refuse_instruments(before | given, owned)
    if {"with", "chain_with", "printer"} & given.keys():
        before |= _scale_of_print(
            bench, {key: value for key, value in (before | given).items() if key != "scale"}, owned
        )
    writing.add(Folder(path=bench), "record", name, _in_order(before | given), replace=True)
    return _recorded(bench, name)


def forget_record(bench: Path, name: str) -> None:
    """Takes a record out of its file. Refuses (`UnknownName`) one that is not there."""
    writing.forget(Folder(path=bench), "record", name.strip())


def list_records(bench: Path) -> tuple[Told, ...]:
    """Every record in the order of its file, with what was expected."""
    owned = read_bench(bench)
    return tuple(_told(owned, record) for record in owned.records)


def show_record(bench: Path, name: str) -> Recorded:
    """One record, and what the next batch is to be wound on."""
    return _recorded(bench, name.strip())


def _refuse_lacking(given: Mapping[str, Any], owned: Bench) -> None:
    """Refuses a batch without its wire or its mandrel, and a wire that is not that of its spool."""
    spool = next((one for one in owned.spools if one.name == given.get("spool")), None)
    if "mandrel" not in given:
        raise QuantityRefused("a record needs its mandrel", remedies=(Give(field="mandrel", example="5 mm"),))
    if "wire" not in given and spool is None:
        if "spool" in given and owned.spools:
            unknown = UnknownName("spool", given["spool"], [one.name for one in owned.spools])
            unknown.field = "spool"
            raise unknown
        wire = Give(field="wire", example="1.2 mm")
        remedies = (wire,) if "spool" in given else (wire, Give(field="spool"))
        raise QuantityRefused("a record needs its wire", remedies=remedies)
    if spool is not None:
        _refuse_another_wire(given, spool)


def _refuse_another_wire(given: Mapping[str, Any], spool: Spool) -> None:
    """Refuses a wire or a metal that is not that of the spool."""
    on, of_spool = f"on {shown(spool.name)} there is", spool.wire.diameter_mm
    field, problem = "wire", ""
    try:
        wire_mm = parse_wire(given["wire"]).diameter_mm if "wire" in given else of_spool
        if abs(wire_mm - of_spool) > WIRES_APART * of_spool:
            problem = f"the wire is {wire_mm:.3g} mm, and {on} wire of {of_spool:.3g} mm"
        else:
            field = "metal"
            if "metal" in given and metal_name(given["metal"]) != spool.metal.name:
                problem = f"the metal is {shown(given['metal'])}, and {on} {spool.metal.name}"
    except Refusal as refusal:
        refusal.field = field
        raise
    if problem:
        raise QuantityRefused(problem, "leave out the one that is wrong", field=field)


def _refuse_instruments(given: Mapping[str, Any], owned: Bench) -> None:
    """Refuses an instrument that is not known, and a size that it does not read."""
    reads = [(field, "") for field in ("with", "chain_with")]
    for key in READ.keys() & given.keys():
        reads.append(("chain_with" if key == "chain" and "chain_with" in given else "with", READ[key]))
    for field, what in reads:
        if field in given:
            try:
                owned.instrument(given[field], what)
            except UnknownName as refusal:
                refusal.field = field
                raise


def _scale_of_print(bench: Path, given: Mapping[str, Any], owned: Bench) -> dict[str, str]:
    """The scale of the printer that a strip was made true for, where something was read on one."""
    from jigs.actions.printer import printer_meant

    with_what = {given.get("with", "caliper"), given.get("chain_with", given.get("with", "caliper"))}
    if "scale" in given or not any(owned.instrument(name).printed for name in with_what):
        return {}
    printer = printer_meant(bench, str(given.get("printer", "")))
    return {} if printer is None else {"scale": show_percent(printer.scale_expanded)}


def _recorded(bench: Path, name: str) -> Recorded:
    owned = read_bench(bench)
    record = _find(owned, name)
    told = _told(owned, record)
    return Recorded(told=told, next=next_batch(record, told.ring.mm, owned), file=bench / RECORDS)


def _find(bench: Bench, name: str) -> Record:
    for record in bench.records:
        if record.name == name:
            return record
    raise UnknownName("record", name, [record.name for record in bench.records])


def _told(bench: Bench, record: Record) -> Told:
    """A record against all the others."""
    others = tuple(one for one in bench.records if one.name != record.name)
    before: Knowledge = knowledge_of(replace(bench, records=others))
    all_of_them = knowledge_of(bench)
    trial = trial_of(record, bench)
    coil, ring = before.learnt.expected(trial.wire, trial.rod, trial.cut)
    doubt = next((one for one in all_of_them.doubts if record.name in one.names), None)
    off = doubt.off if doubt else all_of_them.learnt.off.get(record.name, 0.0)
    return Told(record=record, coil=coil, ring=ring, off=off, doubt=doubt)


def _in_order(values: Mapping[str, Any]) -> dict[str, Any]:
    """By the order of the job card; one reading of several is written alone."""
    given = {field.key: values[field.key] for field in FIELDS if field.key in values}
    readings = {key: value for key, value in given.items() if isinstance(value, tuple)}
    return given | {key: many[0] if len(many) == 1 else list(many) for key, many in readings.items()}
