"""The tables of a list in a TOML document, changed in place: put, replaced, taken out; a person's comments stay."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from layouts.errors import OutOfRange

if TYPE_CHECKING:
    from tomlkit import TOMLDocument


def rows_of(document: TOMLDocument, key: str, what: str) -> Any:
    """The tables under [[key]], begun where there are none. Refuses a list of another form; `what` names its rows."""
    import tomlkit

    if not document.get(key):
        document.pop(key, None)
        document.append(key, tomlkit.aot())
    rows: Any = document[key]
    if not isinstance(rows, tomlkit.items.AoT):
        raise OutOfRange(f"the {what} of the file are a list in one line", f"write each as a table, [[{key}]]")
    return rows


def put_row(rows: Any, is_it: Callable[[Any], bool], values: Mapping[str, Any], ours: Sequence[str]) -> bool:
    """Writes the values into the row that `is_it`, or into a new one; True where there was one.

    ours: keys that are dropped from it where `values` lacks them. Any other key, and every comment, stays.
    """
    import tomlkit

    row = next((row for row in rows if is_it(row)), None)
    known = row is not None
    if row is None:
        row = tomlkit.table()
        rows.append(row)
        row.trivia.indent = "\n"
        row = rows[-1]
    for key in ours:
        if key in row and key not in values:
            del row[key]
    for key, value in values.items():
        row[key] = value
    return known


def drop_row(document: TOMLDocument, key: str, rows: Any, is_it: Callable[[Any], bool]) -> bool:
    """Takes out the row that `is_it`; True where there was one."""
    import tomlkit

    number = next((number for number, row in enumerate(rows) if is_it(row)), None)
    if number is None:
        return False
    after = ""  # the comments after the last line of a table stand above the next one, and are not its own
    for name, item in reversed(rows[number].value.body):
        if name is not None:
            break
        after = item.as_string() + after
    del rows[number]
    if not rows:
        document.remove(key)
    if number < len(rows):
        rows[number].trivia.indent = after + rows[number].trivia.indent
    elif after.strip():
        table: Any = rows[-1] if rows else document
        for line in after.strip().splitlines():
            table.add(tomlkit.comment(line.lstrip("# ")) if line else tomlkit.nl())
    return True
