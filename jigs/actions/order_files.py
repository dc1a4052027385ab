"""Orders in their files: listed, opened, changed field by field with their comments kept, taken in from elsewhere."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, Any

from jigs.bench.reading import read_bench
from jigs.orders.fields import SEVERAL, TABLES, Holds, OrderField
from jigs.orders.own_weaves import read_weaves
from jigs.orders.reading import Names, order_of
from layouts.errors import FileRefused, QuantityRefused, Refusal, UnknownName, printable, shown
from layouts.files.faults import Fault, FileFaulty
from layouts.files.folder import Folder
from layouts.files.names import refuse_names
from layouts.files.source import MOST_BYTES, text_of, toml_of
from layouts.files.whole import write_whole

if TYPE_CHECKING:
    from tomlkit import TOMLDocument

Place = tuple[str | int, ...]
"""Where a field is: ("title",), ("making", "cut"), ("ring", 0, "name")."""

Words = str | tuple[str, ...]
"""What a person types in a field; empty is as if it were not there. Several for a list."""

ENDING = ".toml"
MOST_CHARACTERS = 120
"""Of one field: no value of an order is longer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderFile:
    """An order in a folder: its file's name, its title; what is wrong with the file, where something is."""

    name: str
    title: str = ""
    fault: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenOrder:
    """An order as its file has it: its text, what each field holds in words, how many rings and supplies it has.

    mark tells this text from any other: with it a change knows whether the file is still the one that was opened.
    """

    name: str
    text: str
    values: Mapping[Place, Words]
    rings: int
    supplies: int

    @property
    def mark(self) -> str:
        """Of the text."""
        return _mark(self.text)


def list_orders(folder: Path) -> tuple[OrderFile, ...]:
    """The orders of a folder by name; empty before there are any."""
    found = []
    for path in Folder(path=folder).files():
        try:
            found.append(OrderFile(name=path.name, title=str(toml_of(text_of(path), path.name).get("title", ""))))
        except Refusal as refusal:
            found.append(OrderFile(name=path.name, fault=str(refusal)))
    return tuple(found)


def order_path(folder: Path, name: str) -> Path:
    """The file of an order by its name. Refuses (`FileRefused`) a name that leads out of the folder."""
    if not name.endswith(ENDING) or name.startswith(".") or {"/", "\\", "\0"} & set(name) or len(name) > 120:
        raise FileRefused(f"{shown(name)} is not the name of an order", f"take letters and figures, ending in {ENDING}")
    path = folder / name
    refuse_names(path)
    return path


def open_order(path: Path) -> OpenOrder:
    """An order to fill in, right or wrong, as long as it is TOML. Refuses (`FileFaulty`) what is not, with the line."""
    return _opened(path.name, text_of(path))


def faults_of(path: Path, changes: Mapping[Place, Words], drop: Iterable[Place], bench: Path) -> tuple[Fault, ...]:
    """What would be wrong with the order if these changes were made; nothing is written."""
    try:
        _read(_changed(text_of(path), changes, drop), path.name, bench)
    except FileFaulty as refusal:
        return refusal.faults
    return ()


def change_order(
    path: Path, mark: str, changes: Mapping[Place, Words], bench: Path, *, drop: Iterable[Place] = ()
) -> OpenOrder:
    """Writes what was changed into the file of an order; comments, and all that was not changed, stay.

    changes: by its place what a field is to hold. drop: rings and supplies that are taken out, as ("ring", 1). mark: of
    the order that was opened; where the file is another by now, nothing is written (`FileRefused`). Refuses
    (`FileFaulty`) what the reader of orders refuses.
    """
    return _rewritten(path, mark, lambda text: _changed(text, changes, tuple(drop)), bench)


def rewrite_order(path: Path, mark: str, text: str, bench: Path) -> OpenOrder:
    """The same with the whole text of the file."""
    return _rewritten(path, mark, lambda before: text.replace("\r\n", "\n"), bench)


def refuse_changed(text: str, mark: str) -> None:
    """Refuses (`FileRefused`) a text that is not the one with this mark: its file was changed in between."""
    if _mark(text) != mark:
        problem = "the order has been changed since it was opened here"
        raise FileRefused(problem, "open it in another window, and change it there; nothing was written")


def take_in_order(folder: Path, name: str, data: bytes) -> Path:
    """Keeps a copy of an order that a person has elsewhere, and returns its file; one that is there is left alone.

    Refuses what is too long, not text, or not TOML.
    """
    path = order_path(folder, name)
    if len(data) > MOST_BYTES:
        raise FileRefused(f"{printable(name)} is longer than {MOST_BYTES // 1024} KiB", "an order is a short text")
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError:
        raise FileRefused(f"{printable(name)} is not text", "choose an order, a TOML file") from None
    toml_of(text.removeprefix("\ufeff").replace("\r\n", "\n"), printable(name))
    with suppress(OSError):  # what cannot be looked at cannot be written either, and that says why
        if os.path.lexists(path):
            raise FileRefused(f"{printable(name)} is there already", "give the file another name, and choose it again")
    write_whole(path, data, "make the folder writable")
    return path


def _mark(text: str) -> str:
    return sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def _opened(name: str, text: str) -> OpenOrder:
    data = toml_of(text.removeprefix("\ufeff").replace("\r\n", "\n"), printable(name))
    values: dict[Place, Words] = {}
    for table, fields in TABLES.items():
        for place, row in _rows(data, table):
            for field in fields:
                if field.key in row:
                    values[(*place, field.key)] = _in_words(row[field.key])
    counts = {table: len(_rows(data, table)) for table in SEVERAL}
    return OpenOrder(name=name, text=text, values=values, rings=counts["ring"], supplies=counts["supply"])


def _rows(data: Mapping[str, Any], table: str) -> list[tuple[Place, Mapping[str, Any]]]:
    """The tables of that name with their places; what has another form than it should is passed over."""
    if not table:
        return [((), data)]
    found = data.get(table, [] if table in SEVERAL else {})
    if table in SEVERAL:
        rows = found if isinstance(found, list) else []
        return [((table, number), row) for number, row in enumerate(rows) if isinstance(row, Mapping)]
    return [((table,), found)] if isinstance(found, Mapping) else []


def _in_words(value: Any) -> Words:
    if isinstance(value, bool):
        return "yes" if value else ""
    if isinstance(value, list):
        return tuple(map(str, value))
    return str(value)


def _read(text: str, name: str, bench: Path) -> None:
    order_of(text, name, Names(bench=read_bench(bench), weaves=read_weaves(bench / "weaves.toml")))


def _rewritten(path: Path, mark: str, change: Callable[[str], str], bench: Path) -> OpenOrder:
    with Folder(path=path.parent).locked():
        before = text_of(path)
        refuse_changed(before, mark)
        after = change(before)
        _read(after, path.name, bench)
        if after != before:
            write_whole(path.resolve(), after.encode("utf-8"), "make the folder writable")
    return _opened(path.name, after)


def _changed(text: str, changes: Mapping[Place, Words], drop: Iterable[Place]) -> str:
    import tomlkit

    from layouts.files.rows import drop_row

    byte_mark = "\ufeff" if text.startswith("\ufeff") else ""
    document = tomlkit.parse(text.removeprefix(byte_mark))
    for place in sorted(changes, key=lambda place: [part for part in place if isinstance(part, int)]):
        _put(document, place, changes[place])
    for table, number in sorted(drop, reverse=True):  # from the last, so that the others keep their numbers
        rows = document.get(table, [])
        if isinstance(number, int) and number < len(rows):
            row = rows[number]
            drop_row(document, str(table), rows, lambda other, row=row: other is row)  # type: ignore[misc]
    return byte_mark + tomlkit.dumps(document)


def _put(document: TOMLDocument, place: Place, words: Words) -> None:
    """Writes one field; its table is begun where it is missing, and the next of a list where it is the first of it."""
    import tomlkit

    *where, key = place
    field = _field(str(where[0]) if where else "", str(key))
    _refuse_unfit(words, place)
    table: Any = document
    if where:
        name = str(where[0])
        if name not in document:
            if not words:
                return
            document[name] = tomlkit.aot() if name in SEVERAL else tomlkit.table()
        table = document[name]
    if len(where) == 2:
        number = int(where[1])
        if number >= len(table):
            if not words:
                return
            row = tomlkit.table()
            table.append(row)
            table[-1].trivia.indent = "\n"
            number = len(table) - 1
        table = table[number]
    if not words:
        table.pop(key, None)
    else:
        table[key] = _value(field, words)


def _refuse_unfit(words: Words, place: Place) -> None:
    """Refuses what no line of the file holds, by its place: ring.0.name."""
    at = ".".join(map(str, place))
    for each in (words,) if isinstance(words, str) else words:
        if not each.isprintable():
            raise QuantityRefused("there is a character in it that cannot be seen", "write it anew", field=at)
        if len(each) > MOST_CHARACTERS:
            raise QuantityRefused(f"{len(each)} characters are too many", f"write at most {MOST_CHARACTERS}", field=at)


def _field(table: str, key: str) -> OrderField:
    known = {field.key: field for field in TABLES.get(table, ())}
    if key not in known:
        raise UnknownName("field of an order", key, known)
    return known[key]


def _value(field: OrderField, words: Words) -> Any:
    """As it is written in the file; what is not of its kind is written as it was typed, for the reader to refuse."""
    if not isinstance(words, str):
        return list(words)
    if field.holds is Holds.YES_OR_NO:
        return words == "yes"
    if field.holds is Holds.COUNT and words.isascii() and words.isdigit() and len(words) < 10:
        return int(words)
    if field.holds is Holds.NUMBER:
        with suppress(ValueError):
            number = float(words.replace(",", "."))
            return int(number) if number.is_integer() else number
    return words
