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


def put_in_order(document: TOMLDocument, name: str, values: Mapping[str, Any]) -> None:
    """Makes the table of that name hold these values alone: a new one goes in behind the one before it in `values`.

    The others stay where a person wrote them, as they were written where they do not change, and so do comments.
    """
    import tomlkit

    table: Any = document[name]
    before = table.unwrap()
    for key, value in before.items():
        if key not in values:
            del table[key]
        elif value != values[key]:
            table[key] = values[key]
    lacking = [key for key in values if key not in before]
    if not lacking or not isinstance(table, tomlkit.items.Table):  # a table in one line has its keys behind the others
        table.update({key: values[key] for key in lacking})
        return
    body = [line for line in table.value.body if not isinstance(line[1], tomlkit.items.Null)]  # what is deleted
    at = 0
    for key, value in values.items():
        if key in lacking:
            body.insert(at, (tomlkit.key(key), tomlkit.item(value)))
        at = max(at, *(i + 1 for i, (known, _) in enumerate(body) if known is not None and known.key == key))
    # tomlkit adds a new key only at the end of a table: so the table is made anew, line by line
    fresh = tomlkit.table()
    for known, item in body:
        if known is not None and "\n" not in item.trivia.trail:  # the last line of a file may have no end
            item.trivia.trail += "\n"
        fresh.append(known, item)
    document[name] = fresh
    if len(fresh.value.body) > len(body):  # an empty line that it adds behind a comment
        fresh.value.body.pop()


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
