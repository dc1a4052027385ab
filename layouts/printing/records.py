"""The records of printers in a TOML file: read table by table, each with its own faults, and written as values."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from layouts.dates import parse_date
from layouts.errors import OutOfRange, Refusal
from layouts.files.entries import Entries, made
from layouts.files.faults import Fault, FileFaulty
from layouts.files.values import day_in, in_text, text_in, yes_or_no
from layouts.printing.budget import find_instrument
from layouts.printing.printer import Diagonals, InkPair, Printer, Reading, same_words
from layouts.units import parse_length

MOST_RECORDS = 1000
MOST_INK_PAIRS = 20
_LENGTH = in_text(parse_length)
_EXAMPLE = '{ length = "150 mm", read = "149.6 mm" }'


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One table of the file: its record, or what is wrong with it; and whether it is the usual printer's."""

    name: str
    printer: Printer | None
    is_default: bool
    faults: tuple[Fault, ...]


def read_rows(top: Entries) -> tuple[Row, ...]:
    """Every table, right or wrong. Refuses (`FileFaulty`) what no table can be blamed for."""
    rows = list[Row]()
    for entry in top.tables("printer", MOST_RECORDS):
        earlier = len(entry.book.faults)
        printer, is_default = _record(entry)
        if printer and any(row.printer and same_record(row.printer, printer) for row in rows):
            entry.fault(f"a second record of {printer}", "keep one of the two")
        if is_default and any(row.is_default for row in rows):
            entry.fault("a second default printer", "keep default = true in one of them only", "default")
        # A record keeps its own faults, so that those of one printer do not stop work with another.
        faults = tuple(entry.book.faults[earlier:])
        del entry.book.faults[earlier:]
        name = entry.data.get("name")
        rows.append(
            Row(name=name if isinstance(name, str) else "", printer=printer, is_default=is_default, faults=faults)
        )
    top.close()
    top.book.finish()
    return tuple(rows)


def sound(rows: tuple[Row, ...]) -> tuple[Printer, ...]:
    """The records of these tables. Refuses (`FileFaulty`) with everything that is wrong in any of them."""
    faults = [fault for row in rows for fault in row.faults]
    if faults:
        raise FileFaulty(tuple(faults))
    return tuple(row.printer for row in rows if row.printer is not None)


def same_record(one: Printer, other: Printer) -> bool:
    """Whether two records are of the same printer with the same paper or card."""
    return same_words(one.name, other.name) and same_words(one.tray, other.tray)


def _record(entry: Entries) -> tuple[Printer | None, bool]:
    tray = "stock" if entry.has("stock") else "tray"  # what files written before it was called tray say
    given: dict[str, Any] = {
        "name": entry.need("name", text_in, '"office"'),
        "tray": entry.need(tray, text_in, '"plain 80 g"'),
        "instrument": entry.need("with", in_text(lambda name: find_instrument(name).name), '"rule"'),
        "across": entry.need("across", _reading, _EXAMPLE),
        "along": entry.need("along", _reading, _EXAMPLE),
    }
    more: dict[str, Any] = {
        "diagonals": entry.take("diagonals", _diagonals, None),
        "ink": entry.take("ink", _ink, ()),
        "date": entry.take("date", day_in, ""),
        "sheet": entry.take("sheet", text_in, ""),
        "paper": entry.take("paper", text_in, ""),
        "landscape": entry.take("landscape", yes_or_no, False),
        "residual_mm": entry.take("residual", _LENGTH, None),
    }
    entry.take("default", yes_or_no, False)
    is_default = entry.data.get("default", False) is not False  # a faulty word may have meant yes
    entry.take("note", text_in, "")
    entry.close()
    if None in given.values():
        return None, is_default
    return made(entry, lambda: Printer(**given, **more)), is_default


def _lengths(value: Any, *keys: str) -> list[float]:
    if not isinstance(value, dict) or set(value) != set(keys):
        raise OutOfRange(
            "a part is missing, or one is not known", f"write {{ {', '.join(f'{key} = ...' for key in keys)} }}"
        )
    lengths = []
    for key in keys:
        try:
            lengths.append(_LENGTH(value[key]))
        except Refusal as refusal:
            raise OutOfRange(f"{key}: {refusal.problem}", refusal.remedy) from None
    return lengths


def _reading(value: Any) -> Reading:
    by = ""
    if isinstance(value, dict) and "with" in value:
        by = find_instrument(text_in(value["with"])).name
        value = {key: part for key, part in value.items() if key != "with"}
    length, read = _lengths(value, "length", "read")
    return Reading(length_mm=length, read_mm=read, instrument=by)


def _diagonals(value: Any) -> Diagonals:
    across, along, rising, falling = _lengths(value, "across", "along", "rising", "falling")
    return Diagonals(across_mm=across, along_mm=along, rising_mm=rising, falling_mm=falling)


def _ink(value: Any) -> tuple[InkPair, ...]:
    if not isinstance(value, list) or len(value) > MOST_INK_PAIRS:
        remedy = "write [{ black = ..., white = ... }]"
        raise OutOfRange(f"not a list of at most {MOST_INK_PAIRS} pairs", remedy)
    names = ("black", "white", "edge")
    rows = (names if isinstance(pair, dict) and "edge" in pair else names[:2] for pair in value)
    return tuple(
        InkPair(**{f"{name}_mm": length for name, length in zip(row, _lengths(pair, *row), strict=True)})
        for row, pair in zip(rows, value, strict=True)
    )


def values_of(printer: Printer) -> dict[str, Any]:
    """The record as TOML values, in the order in which they are written."""
    import tomlkit

    ink = tomlkit.array()
    ink.multiline(True)  # a pair on a line: no line grows long
    for pair in printer.ink:
        edge = {} if pair.edge_mm is None else {"edge": pair.edge_mm}
        ink.append(_inline(black=pair.black_mm, white=pair.white_mm, **edge))
    seen = printer.diagonals
    values = {
        "name": printer.name,
        "tray": printer.tray,
        "date": parse_date(printer.date) if printer.date else None,
        "with": printer.instrument,
        "sheet": printer.sheet,
        "paper": printer.paper,
        "landscape": printer.landscape,
        "across": _read(printer.across),
        "along": _read(printer.along),
        "diagonals": seen
        and _inline(across=seen.across_mm, along=seen.along_mm, rising=seen.rising_mm, falling=seen.falling_mm),
        "ink": ink,
        "residual": None if printer.residual_mm is None else f"{printer.residual_mm!r} mm",
    }
    return {key: value for key, value in values.items() if value}


def _read(reading: Reading) -> Any:
    table = _inline(length=reading.length_mm, read=reading.read_mm)
    if reading.instrument:
        table["with"] = reading.instrument
    return table


def _inline(**lengths_mm: float) -> Any:
    import tomlkit

    table = tomlkit.inline_table()
    table.update({key: f"{float(length)!r} mm".replace(".0 mm", " mm") for key, length in lengths_mm.items()})
    return table
