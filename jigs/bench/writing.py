"""What the user owns, written into the bench folder's files: comments and order stay, and no fault gets in."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any

from jigs.bench.reading import READERS, reader_of
from layouts.errors import QuantityRefused, Remedy, UnknownName, shown
from layouts.files.entries import Book, Entries, named_entries
from layouts.files.faults import FileFaulty
from layouts.files.rows import put_in_order

if TYPE_CHECKING:
    from layouts.files.folder import Folder

KINDS = (*READERS, "record")


def file_of(kind: str) -> str:
    """The file of one kind of thing: mandrels.toml. Refuses an unknown kind (`UnknownName`)."""
    if kind not in KINDS:
        raise UnknownName("kind of thing", kind, KINDS)
    return f"{kind}s.toml"


def add(
    folder: Folder,
    kind: str,
    name: str,
    values: Mapping[str, Any],
    *,
    replace: bool = False,
    before: Mapping[str, Any] | None = None,
) -> None:
    """Writes one table under its name. Refuses what the file's own reader refuses, and a name that is there already.

    With `replace` the values take the place of those that are there, whose comments stay, and new ones stand where
    `values` has them; with `before` only where they are still these.
    """
    file, read = file_of(kind), reader_of(kind, folder.path)
    refuse_values(read, name, values)

    def change(document: Any) -> None:
        import tomlkit

        if name not in document:
            table = tomlkit.table()
            table.update(values)
            document[name] = table
            return
        if not replace:
            raise QuantityRefused(f"{kind} {shown(name)} is there already", remedies=(Remedy.REPLACE,))
        if before is not None and document[name].unwrap() != before:
            raise QuantityRefused(f"{kind} {shown(name)} has been changed since it was opened here", "open it again")
        put_in_order(document, name, values)

    folder.edit(file, change, lambda top: named_entries(top, read), f"# {kind.capitalize()}s of this bench.\n")


def forget(folder: Folder, kind: str, name: str) -> None:
    """Takes a table out of its file; the others stay as they are. Refuses a name that is not there."""

    def change(document: Any) -> None:
        if not len(document):
            raise QuantityRefused(f"no {kind} is called {shown(name)}", "nothing of that kind is on this bench yet")
        if name not in document:
            raise UnknownName(kind, name, list(document))
        del document[name]

    read = reader_of(kind, folder.path)
    folder.edit(file_of(kind), change, lambda top: named_entries(top, read))


def refuse_values(read: Callable[[str, Entries], Any], name: str, values: Mapping[str, Any]) -> None:
    """Refuses values by their fields, before any file is read: they have no line yet."""
    try:
        named_entries(Entries({name: values}, Book(file="", lines={})), read)
    except FileFaulty as refusal:
        fault = refusal.faults[0]
        problem, _, remedy = fault.in_boxes.partition("; ")
        raise QuantityRefused(problem, remedy, field=fault.key) from None
