"""The bench: what is owned, added, forgotten and shown."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from jigs.bench import writing
from jigs.bench.reading import reader_of
from jigs.bench.settings import keep_units
from layouts.errors import FileRefused
from layouts.files.entries import named_entries
from layouts.files.folder import Folder


@dataclass(frozen=True, slots=True, kw_only=True)
class OnBench:
    """A file of the bench folder: how many entries it has; None where it is damaged, and then what is wrong with it."""

    name: str
    entries: int | None
    fault: FileRefused | None = None


def add_to_bench(
    bench: Path,
    kind: str,
    name: str,
    values: Mapping[str, str | float | None],
    *,
    replace: bool = False,
    before: Mapping[str, Any] | None = None,
) -> Path:
    """Writes a mandrel, a drill, a blade, a spool or an instrument, its values in words, and returns the file.

    A value of None is left out. Refuses (`Refusal`) what is wrong by its field, and a name that is there already; with
    `replace` it is written over, if it is still as `before` says.
    """
    given = {key: value for key, value in values.items() if value is not None}
    writing.add(Folder(path=bench), kind, name.strip(), given, replace=replace, before=before)
    return bench / writing.file_of(kind)


def things_on_bench(bench: Path, kind: str) -> dict[str, dict[str, Any]]:
    """What is owned of one kind, by its name: the values as they stand in the file. Refuses a damaged file."""
    entries = Folder(path=bench).read(writing.file_of(kind))
    named_entries(entries, reader_of(kind, bench))
    return {str(name): dict(values) for name, values in entries.data.items()}


def forget_from_bench(bench: Path, kind: str, name: str) -> None:
    """Takes a thing out of its file. Refuses (`UnknownName`) one that is not there."""
    writing.forget(Folder(path=bench), kind, name.strip())


def choose_units(bench: Path, units: str) -> None:
    """Keeps the unit in which lengths are said at this bench: "mm" or "inch"."""
    keep_units(Folder(path=bench), units)


def show_bench(bench: Path) -> tuple[OnBench, ...]:
    """The files of the bench folder, damaged ones among them; empty before anything was kept."""
    folder = Folder(path=bench)
    found = []
    for path in folder.files():
        try:
            values = folder.read(path.name).data.values()
        except FileRefused as refusal:
            found.append(OnBench(name=path.name, entries=None, fault=refusal))
            continue
        entries = sum(len(value) if isinstance(value, list) else 1 for value in values)
        found.append(OnBench(name=path.name, entries=entries))
    return tuple(found)
