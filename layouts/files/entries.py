"""The tables of a TOML file that people write, taken key by key: every fault found at once, each with its line.

A reader takes what it knows from an `Entries` table; whatever is wrong is noted with its line and the reading goes
on; keys that nobody took are faults too. `Book.finish` refuses when anything was noted. Orders, printers, mandrels,
drills, blades, spools, weaves and lists of dowels are all read this way.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, TypeVar

from layouts.errors import Refusal, UnknownName, printable, shown
from layouts.files.faults import Fault, FileFaulty
from layouts.files.lines import Place, lines_of
from layouts.files.source import text_of, toml_of
from layouts.files.values import Miswritten, words

_QUOTE = '"'
Value = TypeVar("Value")
Default = TypeVar("Default")


@dataclass(slots=True, kw_only=True)
class Book:
    """One file: its name, the line of every key, and the faults noted so far."""

    file: str
    lines: Mapping[Place, int]
    faults: list[Fault] = field(default_factory=list)

    def note(
        self, path: Place, wrong: str, right: str, key: str = "", boxed: str = "", *, of_value: bool = False
    ) -> None:
        """Notes a fault at the line of a key, or else of the table it would be in."""
        known = path
        while known not in self.lines and known:
            known = known[:-1]
        line = self.lines.get(known, 1)
        self.faults.append(
            Fault(
                file=self.file,
                line=line,
                wrong=wrong,
                right=right,
                key=key,
                of_value=of_value,
                place=path,
                boxed=boxed,
            )
        )

    def finish(self) -> None:
        """Refuses the file if anything was noted."""
        if self.faults:
            raise FileFaulty(tuple(sorted(self.faults, key=lambda fault: fault.line)))


@dataclass(slots=True)
class Entries:
    """One table of a file, from which known keys are taken one by one."""

    data: Mapping[str, Any]
    book: Book
    path: Place = ()
    known: list[str] = field(default_factory=list)

    def take(self, key: str, read: Callable[[Any], Value], default: Default) -> Value | Default:
        """What `read` makes of a key's value; the default where it is missing or faulty, the fault noted."""
        self.known.append(key)
        if key not in self.data:
            return default
        try:
            return read(self.data[key])
        except Refusal as refusal:
            boxed = f"{refusal.problem}; {refusal.boxed}" if isinstance(refusal, Miswritten) else ""
            self.fault(refusal.problem, refusal.advice, key, of_value=True, boxed=boxed)
            return default

    def need(self, key: str, read: Callable[[Any], Value], example: str) -> Value | None:
        """As `take`, and a missing key is a fault."""
        if key not in self.data:
            boxed = f"give the {key.replace('_', ' ')}, such as {example.strip(_QUOTE)}"
            self.fault(f"{self.title} has no {key}", f"add a line such as {key} = {example}", key, boxed)
        return self.take(key, read, None)

    def has(self, key: str) -> bool:
        """Whether the key is written, right or wrong."""
        return key in self.data

    def table(self, key: str) -> Entries:
        """The table of that name; an empty one where it is missing."""
        self.known.append(key)
        inner = self.data.get(key, {})
        if not isinstance(inner, dict):
            self.fault(f"{key} is not a table", f"begin it with a line [{key}]", key)
            inner = {}
        return Entries(inner, self.book, (*self.path, key))

    def tables(self, key: str, most: int) -> list[Entries]:
        """The tables written under [[key]]; none where there are none, refused where there are too many."""
        self.known.append(key)
        rows = self.data.get(key, [])
        if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
            self.fault(f"{key} is not a list of tables", f"begin each with a line [[{key}]]", key)
            return []
        if len(rows) > most:
            self.fault(f"{len(rows)} tables [[{key}]] are too many", f"give at most {most}", key)
            return []
        return [Entries(row, self.book, (*self.path, key, i)) for i, row in enumerate(rows)]

    def named(self, most: int) -> Iterator[tuple[str, Entries]]:
        """Every table in this one with its name, where the names are the user's own."""
        self.known.extend(self.data)
        if len(self.data) > most:
            self.fault(f"{len(self.data)} entries are too many", f"give at most {most}")
            return
        for name, inner in self.data.items():
            if isinstance(inner, dict):
                yield name, Entries(inner, self.book, (*self.path, name))
            else:
                self.fault(f"{shown(name)} is outside any table", 'begin a table with a line such as ["rod 7"]', name)

    def fault(self, wrong: str, right: str, key: str = "", boxed: str = "", *, of_value: bool = False) -> None:
        """Notes a fault at a key of this table, or at the table itself."""
        self.book.note((*self.path, key) if key else self.path, wrong, right, key, of_value=of_value, boxed=boxed)

    def close(self) -> None:
        """Notes every key that nobody took."""
        for key in self.data:
            if key not in self.known:
                unknown = UnknownName("key", key, self.known)
                self.fault(f"{unknown.problem} in {self.title}", unknown.remedy, key)

    @property
    def title(self) -> str:
        """The table as its header names it."""
        if not self.path:
            return "the file"
        if isinstance(self.path[-1], int):
            return f"this [[{self.path[-2]}]]"
        return f"[{self.path[-1]}]"


def open_entries(path: Path, *, needed: bool = True) -> Entries:
    """The file's top table; an empty one of a file that is not there, unless it is `needed`.

    Refuses a file that is too long, not text, or not TOML, with the line.
    """
    return entries_of(text_of(path, needed=needed), str(path))


def entries_of(text: str, file: str) -> Entries:
    """The top table of a text, by the name its faults are to carry."""
    file = printable(file)
    text = text.removeprefix("\ufeff").replace("\r\n", "\n")
    data = toml_of(text, file)
    return Entries(data, Book(file=file, lines=lines_of(text)))


def made(entry: Entries, make: Callable[[], Value], key: str = "") -> Value | None:
    """What is made, or a fault noted when it refuses: at the key that is named here, or by the refusal; else at all."""
    try:
        return make()
    except Refusal as refusal:
        named = refusal.field if refusal.field in entry.known else ""
        entry.fault(refusal.problem, refusal.advice, key or named)
        return None


def named_entries(top: Entries, read: Callable[[str, Entries], Value | None], most: int = 1000) -> tuple[Value, ...]:
    """Every table of a file of named things, read; refuses the file if any has a fault."""
    found = []
    for name, entry in top.named(most):
        made(entry, lambda name=name: words()(name))  # type: ignore[misc]
        found.append(read(name.strip(), entry))
        entry.close()
    top.book.finish()
    return tuple(one for one in found if one is not None)
