"""The records of machines in a TOML file: read table by table with their faults, and written as values."""

from __future__ import annotations

from typing import Any

from layouts.dates import parse_date
from layouts.errors import OutOfRange, Refusal
from layouts.files.entries import Entries, made
from layouts.files.values import day_in, in_text, list_of, one_of, text_in
from layouts.machines.machine import KINDS, Machine, same_record
from layouts.machines.tried import Tried, find_tool
from layouts.units import parse_length

MOST_RECORDS = 1000
MOST_TRIED = 40
LISTS = ("holes", "pins", "slots", "tabs")
SINGLE = ("gap", "across", "along")
_LENGTH = in_text(parse_length)
_EXAMPLE = '{ drawn = "5 mm", read = "5.12 mm", with = "caliper" }'


def read_machines(top: Entries) -> tuple[Machine, ...]:
    """Every record. Refuses (`FileFaulty`) a file with any fault, each with its line."""
    found = list[Machine]()
    for entry in top.tables("machine", MOST_RECORDS):
        machine = _record(entry)
        if machine and any(same_record(one, machine) for one in found):
            entry.fault(f"a second record of {machine}", "keep one of the two")
        elif machine:
            found.append(machine)
    top.close()
    top.book.finish()
    return tuple(found)


def _record(entry: Entries) -> Machine | None:
    given: dict[str, Any] = {
        "name": entry.need("name", text_in, '"school laser"'),
        "kind": entry.need("kind", one_of(*KINDS), '"laser"'),
        "material": entry.need("material", text_in, '"birch plywood"'),
    }
    more: dict[str, Any] = {
        "thickness_mm": entry.take("thickness", _LENGTH, None),
        "date": entry.take("date", day_in, ""),
        **{key: entry.take(key, list_of(_tried, MOST_TRIED), ()) for key in LISTS},
        **{key: entry.take(key, _tried, None) for key in SINGLE},
    }
    entry.take("note", text_in, "")
    entry.close()
    if None in given.values():
        return None
    return made(entry, lambda: Machine(**given, **more))


def _tried(value: Any) -> Tried:
    keys = set(value) if isinstance(value, dict) else set()
    if keys not in ({"drawn", "read", "with"}, {"drawn", "goes", "stops", "with"}):
        right = f'write {_EXAMPLE}, or goes = "5.1 mm", stops = "5.2 mm" in place of read'
        raise OutOfRange("a part of what was tried is missing, or one is not known", right)
    tool = find_tool(text_in(value["with"])).name
    drawn = _part(value, "drawn")
    low, high = (_part(value, key) for key in (("read", "read") if "read" in keys else ("goes", "stops")))
    return Tried(wanted_mm=drawn, low_mm=low, high_mm=high, tool=tool)


def _part(value: Any, key: str) -> float:
    try:
        return _LENGTH(value[key])
    except Refusal as refusal:
        raise OutOfRange(f"{key}: {refusal.problem}", refusal.remedy) from None


def values_of(machine: Machine) -> dict[str, Any]:
    """The record as TOML values, in the order in which they are written."""
    import tomlkit

    values: dict[str, Any] = {
        "name": machine.name,
        "kind": machine.kind,
        "material": machine.material,
        "thickness": None if machine.thickness_mm is None else _mm(machine.thickness_mm),
        "date": parse_date(machine.date) if machine.date else None,
    }
    for key in LISTS:
        rows = tomlkit.array()
        rows.multiline(True)  # one on a line: no line grows long
        for tried in getattr(machine, key):
            rows.append(_inline(tried))
        values[key] = rows
    for key in SINGLE:
        tried = getattr(machine, key)
        values[key] = tried and _inline(tried)
    return {key: value for key, value in values.items() if value}


def _inline(tried: Tried) -> Any:
    import tomlkit

    table = tomlkit.inline_table()
    same = tried.low_mm == tried.high_mm
    table["drawn"] = _mm(tried.wanted_mm)
    table.update({"read": _mm(tried.low_mm)} if same else {"goes": _mm(tried.low_mm), "stops": _mm(tried.high_mm)})
    table["with"] = tried.tool
    return table


def _mm(length_mm: float) -> str:
    return f"{float(length_mm)!r} mm".replace(".0 mm", " mm")
