"""Dowels from words: one from a few named words, several from columns of options or from a TOML list.

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
from pathlib import Path
from typing import Any

from jigs.making.anchor import Anchor, Dowel
from jigs.stock.wire import parse_wire
from layouts.errors import FileRefused, OutOfRange, QuantityRefused, Refusal, UnknownName, shown
from layouts.units import parse_length

MOST_DOWELS = 200
MOST_BYTES = 200_000

_ONE_EACH = ("second_diameter",)  # measured on one dowel, so never for all


def _whole(text: str) -> int:
    if not (text.isascii() and text.isdigit() and len(text) <= 6):
        raise QuantityRefused(f"{shown(text)} is no number of turns", "write a whole number such as 10")
    return int(text)


_READERS: dict[str, Callable[[str], Any]] = {
    "diameter": parse_length,
    "second_diameter": parse_length,
    "wire": parse_wire,
    "from_end": parse_length,
    "turns": _whole,
    "pitch": parse_length,
    "stock_thickness": parse_length,
    "drills": str,
    "second": str,
    "second_from_end": parse_length,
    "slot_length": parse_length,
}
KEYS = tuple(_READERS)

_FIELDS = {
    "from_end": "from_end_mm",
    "pitch": "pitch_mm",
    "stock_thickness": "paper_mm",
    "drills": "series",
    "second_from_end": "second_from_end_mm",
    "slot_length": "slot_mm",
}


def dowels_from_columns(columns: Mapping[str, Sequence[str]]) -> tuple[Anchor, ...]:
    """The dowels of options given several times: a column of words by key; see `grouped`."""
    rows = grouped(columns)
    several = len(rows) > 1
    return tuple(
        anchor_from_words(row, f"dowel {number}" if several else "", _dashed) for number, row in enumerate(rows, 1)
    )


def anchor_from_words(words: Mapping[str, str], where: str = "", name: Callable[[str], str] = str) -> Anchor:
    """A dowel from words by key. `where` ("dowel 2") begins each refusal, then the key at fault by its `name`."""
    for key in words:
        if key not in _READERS:
            with _at(where):
                raise UnknownName("key of a dowel", key, KEYS)
    for key in ("diameter", "wire"):
        if key not in words:
            with _at(where):
                raise QuantityRefused(f"no {key} is given", f"a dowel needs its {key}")
    values = {key: _read(key, text, _place(where, name(key))) for key, text in words.items()}
    with _at(where):
        dowel = Dowel(diameter_mm=values.pop("diameter"), second_diameter_mm=values.pop("second_diameter", None))
        return Anchor(dowel=dowel, **{_FIELDS.get(key, key): value for key, value in values.items()})


def grouped(columns: Mapping[str, Sequence[str]]) -> list[dict[str, str]]:
    """Columns of words by key as one set of words per diameter.

    A column that is not the diameters has nothing, one entry (for all) or as many as there are diameters.
    """
    count = len(columns.get("diameter", ()))
    if not count:
        raise QuantityRefused("no dowel is given", "give a measured diameter, or a list of dowels")
    for key, column in columns.items():
        _check_count(key, len(column), count)
    return [
        {key: column[i if len(column) > 1 else 0] for key, column in columns.items() if column} for i in range(count)
    ]


def read_dowels(path: Path) -> tuple[Anchor, ...]:
    """The dowels of a TOML list. A refusal names the file, the dowel by its number, and the key."""
    rows = _tables(path)
    return tuple(_from_row(row, f"{path.name}, dowel {number}") for number, row in enumerate(rows, 1))


def _check_count(key: str, given: int, dowels: int) -> None:
    if given in (0, dowels):
        return
    if key in _ONE_EACH:
        remedy = f"it is measured on one dowel: give it {dowels} times or not at all"
    elif given == 1:
        return
    else:
        remedy = f"give it once (for all) or {dowels} times"
    raise QuantityRefused(f"{_dashed(key)} is given {given} times for {dowels} dowels", remedy)


def _read(key: str, text: str, where: str) -> Any:
    with _at(where):
        return _READERS[key](text)


def _place(where: str, key: str) -> str:
    return f"{where}, {key}" if where else key


def _dashed(key: str) -> str:
    return key.replace("_", "-")


def _from_row(row: Any, where: str) -> Anchor:
    if not isinstance(row, dict):
        raise FileRefused(f"{where}: it is no table", "write each dowel under its own [[dowel]]")
    return anchor_from_words({key: _word(key, value, where) for key, value in row.items()}, where)


def _word(key: str, value: Any, where: str) -> str:
    """A value of the file as the text it would be at the command line."""
    if isinstance(value, str):
        return value
    if key == "turns" and isinstance(value, int) and not isinstance(value, bool):
        return str(value)
    with _at(_place(where, shown(key)[1:-1])):
        raise QuantityRefused(
            f"{shown(str(value))} is not a quantity in quotes", 'write it with its unit, such as "7.9 mm"'
        )


def _tables(path: Path) -> list[Any]:
    import tomllib  # only a list needs it

    try:
        if path.stat().st_size > MOST_BYTES:
            raise FileRefused(f"{path.name} is too long for a list of dowels", f"keep it under {MOST_BYTES} bytes")
        data = tomllib.loads(path.read_text(encoding="utf-8"))
    except OSError as error:
        raise FileRefused(f"{path.name} cannot be read ({error.strerror})", "give a TOML file") from None
    except (UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise FileRefused(f"{path.name} is no TOML file ({error})", "see the example in the help") from None
    for key in data:
        if key != "dowel":
            with _at(path.name):
                raise UnknownName("table", key, ("[[dowel]]",))
    rows = data.get("dowel")
    if not isinstance(rows, list) or not 1 <= len(rows) <= MOST_DOWELS:
        raise FileRefused(f"{path.name} lists no dowels", f"write 1 to {MOST_DOWELS} tables named [[dowel]]")
    return rows


@contextmanager
def _at(where: str) -> Iterator[None]:
    """Puts the place at fault before a refusal."""
    try:
        yield
    except Refusal as refusal:
        if not where:
            raise
        kind = OutOfRange if isinstance(refusal, OutOfRange) else QuantityRefused
        raise kind(f"{where}: {refusal.problem}", refusal.remedy) from None
