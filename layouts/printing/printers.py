"""The printers of a bench folder, in the file printers.toml: found, kept, forgotten, and one of them the usual one."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any

from layouts.errors import Give, OutOfRange, Refusal, Remedy, UnknownName, shown
from layouts.files.folder import Document, Folder
from layouts.printing.printer import Diagonals, InkPair, Printer, Reading, parse_date, same_words
from layouts.units import parse_length

if TYPE_CHECKING:
    from tomlkit import TOMLDocument

FILE = "printers.toml"
HEAD = """# Printers that were measured: one [[printer]] for each printer and stock.
# Each line: its true length, and what was read off the print. `default = true`: the one that sheets are made for.
"""
_OPTIONAL = ("date", "sheet", "paper", "landscape", "diagonals", "ink", "default", "note")
_NEEDED = ("name", "stock", "with", "across", "along")


@dataclass(frozen=True, slots=True, kw_only=True)
class Printers:
    """The printers that a folder knows. Each call reads the file anew."""

    folder: Folder

    def all(self) -> tuple[Printer, ...]:
        """Every record, in the order of the file."""
        return tuple(printer for printer, _ in _records(self.folder.read(FILE)))

    def default(self) -> Printer | None:
        """The one that sheets are made for when no other is named; None when there is none."""
        return next((printer for printer, is_default in _records(self.folder.read(FILE)) if is_default), None)

    def find(self, name: str, stock: str = "") -> Printer:
        """The record of a printer for a stock, or its only record when it has none for that stock.

        Refuses an unknown name (`UnknownName`), and one that has several stocks none of which is the wanted one.
        """
        known = self.all()
        named = [printer for printer in known if same_words(printer.name, name)]
        if not named:
            raise _unknown(name, known)
        fitting = [printer for printer in named if same_words(printer.stock, stock)] or named
        if len(fitting) > 1:
            what = f"and not on {shown(stock)}" if stock else "and no stock was named"
            raise OutOfRange(
                f"{name} was measured on {len(fitting)} stocks, {what}",
                remedies=(Give(field="stock", values=tuple(printer.stock for printer in fitting)),),
            )
        return fitting[0]

    def put(self, printer: Printer) -> bool:
        """Keeps a record; an older one of the same name and stock is replaced. True when there was one."""
        return self._edit(partial(_put, printer))

    def forget(self, name: str, stock: str = "") -> Printer:
        """Takes the record out of the file, and gives it. As `find`, but the stock, if named, must be its stock."""
        printer = self._exact(name, stock)
        self._edit(partial(_drop, printer))
        return printer

    def make_default(self, name: str, stock: str = "") -> Printer:
        """Makes a record the one that sheets are made for."""
        printer = self._exact(name, stock)
        self._edit(partial(_mark, printer))
        return printer

    def no_default(self) -> None:
        """From now on sheets are uncorrected unless a printer is named."""
        self._edit(partial(_mark, None))

    def _exact(self, name: str, stock: str) -> Printer:
        printer = self.find(name, stock)
        if stock and not same_words(stock, printer.stock):
            raise UnknownName(f"stock of {printer.name}", stock, [printer.stock])
        return printer

    def _edit(self, change: Callable[[TOMLDocument], bool]) -> bool:
        return self.folder.edit(FILE, change, _records, HEAD)


def _unknown(name: str, known: tuple[Printer, ...]) -> Refusal:
    if known:
        return UnknownName("printer", name, dict.fromkeys(printer.name for printer in known))
    return OutOfRange(
        f"no printer is called {shown(name)}, and none was measured yet", remedies=(Remedy.MEASURE_PRINTER,)
    )


# --- reading


def _records(document: Document) -> tuple[tuple[Printer, bool], ...]:
    """Each record, and whether it is the default one. Refuses (`FileRefused`) a wrong one with its line."""
    strange = next((key for key in document.data if key != "printer"), None)
    if strange is not None:
        raise document.refuse(f"{shown(strange)} is no [[printer]]")
    rows = document.data.get("printer", [])
    if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
        raise document.refuse("printers are written as [[printer]], one table each")
    records = tuple(_record(document, number, row) for number, row in enumerate(rows))
    _check_once(document, records)
    return records


def _check_once(document: Document, records: tuple[tuple[Printer, bool], ...]) -> None:
    for number, (printer, is_default) in enumerate(records):
        if any(_same(printer, earlier) for earlier, _ in records[:number]):
            raise document.refuse(f"a second record of {printer}", "printer", number)
        if is_default and any(earlier for _, earlier in records[:number]):
            raise document.refuse("a second default printer", "printer", number, "default")


def _same(one: Printer, other: Printer) -> bool:
    return same_words(one.name, other.name) and same_words(one.stock, other.stock)


def _record(document: Document, number: int, row: Mapping[str, Any]) -> tuple[Printer, bool]:
    wrong = next((key for key in row if key not in (*_NEEDED, *_OPTIONAL)), None)
    if wrong is not None:
        raise document.refuse(f"a printer has no {shown(wrong)}", "printer", number, wrong)
    missing = next((key for key in _NEEDED if key not in row), None)
    if missing is not None:
        raise document.refuse(f"a printer without {missing}", "printer", number)
    given = {key: _read(document, number, key, value) for key, value in row.items()}
    is_default = given.pop("default", False)
    given.pop("note", None)
    given["instrument"] = given.pop("with")
    try:
        return Printer(**given), is_default
    except Refusal as error:
        raise document.refuse(str(error).replace("; ", " (", 1) + ")", "printer", number) from error


def _read(document: Document, number: int, key: str, value: Any) -> Any:
    try:
        return _KEYS[key](value) if key in _KEYS else _string(value)
    except Refusal as error:
        raise document.refuse(f"{key}: {error.problem}", "printer", number, key) from error


def _string(value: Any) -> str:
    if not isinstance(value, str):
        raise OutOfRange(f"{value!r} is no text", "write it in quotes")
    return value


def _yes_or_no(value: Any) -> bool:
    if not isinstance(value, bool):
        raise OutOfRange(f"{value!r} is neither true nor false", "write true or false")
    return value


def _day(value: Any) -> str:
    return value if isinstance(value, str) else str(value)


def _lengths(value: Any, *keys: str) -> list[float]:
    if not isinstance(value, dict) or set(value) != set(keys):
        raise OutOfRange(f"not written as {', '.join(keys)}", "give each once")
    return [parse_length(_string(value[key])) for key in keys]


def _reading(value: Any) -> Reading:
    length, read = _lengths(value, "length", "read")
    return Reading(length_mm=length, read_mm=read)


def _diagonals(value: Any) -> Diagonals:
    across, along, rising, falling = _lengths(value, "across", "along", "rising", "falling")
    return Diagonals(across_mm=across, along_mm=along, rising_mm=rising, falling_mm=falling)


def _ink(value: Any) -> tuple[InkPair, ...]:
    if not isinstance(value, list):
        raise OutOfRange("not a list of pairs", "write [{ black = ..., white = ... }]")
    pairs = (_lengths(pair, "black", "white") for pair in value)
    return tuple(InkPair(black_mm=black, white_mm=white) for black, white in pairs)


_KEYS: dict[str, Callable[[Any], Any]] = {
    "across": _reading,
    "along": _reading,
    "diagonals": _diagonals,
    "ink": _ink,
    "landscape": _yes_or_no,
    "default": _yes_or_no,
    "date": _day,
}


# --- writing


def _rows(document: TOMLDocument) -> Any:
    import tomlkit

    if not document.get("printer"):
        document.pop("printer", None)
        document.append("printer", tomlkit.aot())
    rows: Any = document["printer"]
    if not isinstance(rows, tomlkit.items.AoT):
        raise OutOfRange("the printers of the file are a list in one line", "write each as a table, [[printer]]")
    return rows


def _is_of(printer: Printer, row: Any) -> bool:
    return same_words(str(row["name"]), printer.name) and same_words(str(row["stock"]), printer.stock)


def _put(printer: Printer, document: TOMLDocument) -> bool:
    import tomlkit

    rows, values = _rows(document), _values(printer)
    row = next((row for row in rows if _is_of(printer, row)), None)
    known = row is not None
    if row is None:
        row = tomlkit.table()
        rows.append(row)
        row.trivia.indent = "\n"
        row = rows[-1]
    for key in ("date", "sheet", "paper", "landscape", "diagonals", "ink"):
        if key in row and key not in values:
            del row[key]
    for key, value in values.items():
        row[key] = value
    return known


def _drop(printer: Printer, document: TOMLDocument) -> bool:
    rows = _rows(document)
    number = next((number for number, row in enumerate(rows) if _is_of(printer, row)), None)
    if number is None:
        return False
    after = _words_after(rows[number])
    del rows[number]
    if not rows:
        document.remove("printer")
    if number < len(rows):
        rows[number].trivia.indent = after + rows[number].trivia.indent
    elif after.strip():
        _add_words(rows[-1] if rows else document, after)
    return True


def _words_after(row: Any) -> str:
    """The comments after the last line of a table: they stand above the next one, and are not its own."""
    words = ""
    for key, item in reversed(row.value.body):
        if key is not None:
            break
        words = item.as_string() + words
    return str(words)


def _add_words(table: Any, words: str) -> None:
    import tomlkit

    for line in words.strip().splitlines():
        table.add(tomlkit.comment(line.lstrip("# ")) if line else tomlkit.nl())


def _mark(printer: Printer | None, document: TOMLDocument) -> bool:
    for row in _rows(document):
        if printer is not None and _is_of(printer, row):
            row["default"] = True
        elif "default" in row:
            del row["default"]
    return printer is not None


def _values(printer: Printer) -> dict[str, Any]:
    """The record as TOML values, in the order in which they are written."""
    import tomlkit

    ink = tomlkit.array()
    for pair in printer.ink:
        ink.append(_inline(black=pair.black_mm, white=pair.white_mm))
    seen = printer.diagonals
    values = {
        "name": printer.name,
        "stock": printer.stock,
        "date": parse_date(printer.date) if printer.date else None,
        "with": printer.instrument,
        "sheet": printer.sheet,
        "paper": printer.paper,
        "landscape": printer.landscape,
        "across": _inline(length=printer.across.length_mm, read=printer.across.read_mm),
        "along": _inline(length=printer.along.length_mm, read=printer.along.read_mm),
        "diagonals": seen
        and _inline(across=seen.across_mm, along=seen.along_mm, rising=seen.rising_mm, falling=seen.falling_mm),
        "ink": ink,
    }
    return {key: value for key, value in values.items() if value}


def _inline(**lengths_mm: float) -> Any:
    import tomlkit

    table = tomlkit.inline_table()
    table.update({key: f"{float(length)!r} mm".replace(".0 mm", " mm") for key, length in lengths_mm.items()})
    return table
