"""Dowels from words: one from a few named words, several from columns of words or from a TOML list.

A list is a file of tables named ``[[dowel]]``, each with some of the keys below; diameter and wire are needed.

    [[dowel]]
    diameter = "7.9 mm"
    second_diameter = "8.0 mm"
    wire = "16 AWG"
    turns = 12
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from typing import Any

from jigs.making.drilled_dowel import Dowel, DrilledDowel
from jigs.stock.rod import parse_rod
from jigs.stock.wire import parse_wire
from layouts.errors import OutOfRange, QuantityRefused, Refusal, UnknownName
from layouts.files.entries import made, open_entries
from layouts.files.values import in_text, whole
from layouts.units import parse_count, parse_length

MOST_DOWELS = 200

_ONE_EACH = ("second_diameter",)  # measured on one dowel, so never for all


_READERS: dict[str, Callable[[str], Any]] = {
    "diameter": parse_rod,
    "second_diameter": parse_rod,
    "wire": parse_wire,
    "from_end": parse_length,
    "turns": parse_count,
    "pitch": parse_length,
    "paper_thickness": parse_length,
    "drills": str,
    "second": str,
    "second_from_end": parse_length,
    "slot_length": parse_length,
}
KEYS = tuple(_READERS)

MOST_TURNS = 999_999


_FROM_FILE: dict[str, Callable[[Any], Any]] = {  # in a file a number may stand bare
    "turns": lambda value: parse_count(value) if isinstance(value, str) else whole(0, MOST_TURNS)(value)
}

_FIELDS = {
    "from_end": "from_end_mm",
    "pitch": "pitch_mm",
    "paper_thickness": "paper_mm",
    "drills": "series",
    "second_from_end": "second_from_end_mm",
    "slot_length": "slot_mm",
}


def dowels_from_columns(columns: Mapping[str, Sequence[str]]) -> tuple[DrilledDowel, ...]:
    """The dowels of fields given several times: a column of words by key; see `grouped`."""
    rows = grouped(columns)
    several = len(rows) > 1
    return tuple(dowel_from_words(row, f"dowel {number}" if several else "") for number, row in enumerate(rows, 1))


def dowel_from_words(words: Mapping[str, str], where: str = "") -> DrilledDowel:
    """A dowel from words by key. `where` ("dowel 2") begins each refusal, which names the key at fault as its field."""
    for key in words:
        if key not in _READERS:
            with _at(where):
                raise UnknownName("key of a dowel", key, KEYS)
    for key in ("diameter", "wire"):
        if key not in words:
            with _at(where, key):
                raise QuantityRefused(f"no {key} is given", f"a dowel needs its {key}")
    values = {}
    for key, text in words.items():
        with _at(where, key):
            values[key] = _READERS[key](text)
    with _at(where):
        return _drilled(values)


def grouped(columns: Mapping[str, Sequence[str]]) -> list[dict[str, str]]:
    """Columns of words by key as one set of words per diameter.

    A column that is not the diameters has nothing, one entry (for all) or as many as there are diameters. Empty words
    are as if that dowel had none.
    """
    count = len(columns.get("diameter", ()))
    if not count:
        remedy = "give a measured diameter, or a list of dowels"
        raise QuantityRefused("no dowel is given", remedy, field="diameter")
    for key, column in columns.items():
        if len(column) in (0, count) or (len(column) == 1 and key not in _ONE_EACH):
            continue
        remedy = "give it once for all, or as often as there are dowels"
        if key in _ONE_EACH:
            remedy = "it is measured on one dowel: give it for each or not at all"
        dowels = f"{count} dowel{'s' if count > 1 else ''}"
        raise QuantityRefused(f"it is given {len(column)} times for {dowels}", remedy, field=key)
    rows = (
        {key: column[i if len(column) > 1 else 0] for key, column in columns.items() if column} for i in range(count)
    )
    return [{key: words for key, words in row.items() if words} for row in rows]


def read_dowels(path: Path) -> tuple[DrilledDowel, ...]:
    """The dowels of a TOML list. Refuses (`FileFaulty`) with every fault and its line."""
    top = open_entries(path)
    dowels = []
    for entry in top.tables("dowel", MOST_DOWELS):
        for key, example in (("diameter", '"7.9 mm"'), ("wire", '"16 AWG"')):
            if not entry.has(key):
                entry.fault(f"a dowel needs its {key}", f"add a line such as {key} = {example}")
        values = {key: entry.take(key, _FROM_FILE.get(key) or in_text(read), None) for key, read in _READERS.items()}
        entry.close()
        given = {key: value for key, value in values.items() if value is not None}
        if len(given) == len(entry.data) and {"diameter", "wire"} <= set(given):  # else a fault is noted
            dowels.append(made(entry, partial(_drilled, given)))
    top.close()
    if not top.has("dowel"):
        top.fault("the file lists no dowel", "begin each with a line [[dowel]]")
    top.book.finish()
    return tuple(dowel for dowel in dowels if dowel is not None)


def _drilled(values: dict[str, Any]) -> DrilledDowel:
    dowel = Dowel(diameter_mm=values.pop("diameter"), second_diameter_mm=values.pop("second_diameter", None))
    return DrilledDowel(dowel=dowel, **{_FIELDS.get(key, key): value for key, value in values.items()})


@contextmanager
def _at(where: str, key: str = "") -> Iterator[None]:
    """Puts the dowel at fault before a refusal, and the key as its field."""
    try:
        yield
    except Refusal as refusal:
        kind = OutOfRange if isinstance(refusal, OutOfRange) else QuantityRefused
        problem = f"{where}: {refusal.problem}" if where else refusal.problem
        raise kind(problem, refusal.remedy, field=key or refusal.field) from None
