"""Reading a TOML file that people write: every fault found at once, each with its file and line.

A reader takes what it knows key by key, from an `Entries` table; whatever is wrong is noted with its line and the
reading goes on; keys that nobody took are faults too. `Book.finish` refuses when anything was noted.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, TypeVar

from layouts.errors import FileRefused, OutOfRange, QuantityRefused, Refusal, UnknownName, shown

MOST_BYTES = 256 * 1024
MOST_IN_A_LINE = 400  # characters; also keeps keys of a thousand dots from taking minutes
MOST_FAULTS_SHOWN = 50

Value = TypeVar("Value")
Default = TypeVar("Default")
Place = tuple[str | int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One thing wrong: where, what, and what would be right."""

    file: str
    line: int
    wrong: str
    right: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}: {self.wrong}; {self.right}"


class FileFaulty(Refusal):
    """A file with one or more faults; `faults` has them all, in the order of their lines."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        self.faults = faults
        first = faults[0]
        more = f" (and {len(faults) - 1} more)" if len(faults) > 1 else ""
        super().__init__(f"{first.file}:{first.line}: {first.wrong}", f"{first.right}{more}")


@dataclass(slots=True, kw_only=True)
class Book:
    """One file: its name, the line of every key, and the faults noted so far."""

    file: str
    lines: Mapping[Place, int]
    faults: list[Fault] = field(default_factory=list)

    def note(self, path: Place, wrong: str, right: str) -> None:
        """Notes a fault at the line of a key, or else of the table it would be in."""
        while path not in self.lines and path:
            path = path[:-1]
        self.faults.append(Fault(file=self.file, line=self.lines.get(path, 1), wrong=wrong, right=right))

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
            self.fault(f"{key}: {refusal.problem}", refusal.remedy, key)
            return default

    def need(self, key: str, read: Callable[[Any], Value], example: str) -> Value | None:
        """As `take`, and a missing key is a fault."""
        if key not in self.data:
            self.fault(f"{self.title} has no {key}", f"add a line such as {key} = {example}")
        return self.take(key, read, None)

    def has(self, key: str) -> bool:
        """Whether the key is written, right or wrong."""
        return key in self.data

    def table(self, key: str) -> Entries:
        """The table of that name; an empty one where there is none."""
        self.known.append(key)
        inner = self.data.get(key, {})
        if not isinstance(inner, dict):
            self.fault(f"{key} is no table", f"begin it with a line [{key}]", key)
            inner = {}
        return Entries(inner, self.book, (*self.path, key))

    def tables(self, key: str, most: int) -> list[Entries]:
        """The tables written under [[key]]; none where there are none, refused where there are too many."""
        self.known.append(key)
        rows = self.data.get(key, [])
        if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
            self.fault(f"{key} is no list of tables", f"begin each with a line [[{key}]]", key)
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
                self.fault(
                    f"{shown(name)} stands outside any table", 'begin a table with a line such as ["rod 7"]', name
                )

    def fault(self, wrong: str, right: str, key: str = "") -> None:
        """Notes a fault at a key of this table, or at the table itself."""
        self.book.note((*self.path, key) if key else self.path, wrong, right)

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


def open_entries(path: Path) -> Entries:
    """The file's top table. Refuses a file that is missing, too long, not text, or no TOML, with the line."""
    return entries_of(_text_of(path), path.name)


def entries_of(text: str, file: str) -> Entries:
    """The top table of a text, by the name its faults are to carry."""
    import tomllib

    text = text.removeprefix("\ufeff").replace("\r\n", "\n")
    _refuse_long_lines(text, file)
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise FileFaulty((_syntax_fault(str(error), text, file),)) from None
    except (ValueError, RecursionError):
        fault = Fault(file=file, line=1, wrong="a number or a nesting in it is too long", right="write it shorter")
        raise FileFaulty((fault,)) from None
    return Entries(data, Book(file=file, lines=_lines_of(text)))


def _text_of(path: Path) -> str:
    if _is_no_file(path):
        raise FileRefused(f"{shown(str(path))} is no file", "name a TOML file")
    try:
        with path.open("rb") as file:
            data = file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        raise FileRefused(f"{shown(str(path))} cannot be read: {_reason(error)}", "name a TOML file") from None
    if len(data) > MOST_BYTES:
        raise FileRefused(f"{path} is longer than {MOST_BYTES // 1024} KiB", "split it into several files")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        fault = Fault(file=path.name, line=line, wrong="this line is no UTF-8 text", right="save the file as UTF-8")
        raise FileFaulty((fault,)) from None


def _is_no_file(path: Path) -> bool:
    """Whether something else stands there, such as a folder or a pipe, which might never end."""
    try:
        return path.exists() and not path.is_file()
    except (OSError, ValueError):  # a name that no file can have: opening it says why
        return False


def _reason(error: Exception) -> str:
    return (error.strerror if isinstance(error, OSError) else None) or str(error)


def _refuse_long_lines(text: str, file: str) -> None:
    for number, line in enumerate(text.split("\n"), start=1):
        if len(line) > MOST_IN_A_LINE:
            wrong = f"a line of {len(line)} characters is too long"
            fault = Fault(file=file, line=number, wrong=wrong, right=f"break it, at most {MOST_IN_A_LINE} to a line")
            raise FileFaulty((fault,))


def _syntax_fault(words: str, text: str, file: str) -> Fault:
    """tomllib's words with the line taken out of them."""
    place = re.search(r" \(at (?:line (\d+), column \d+|end of document)\)$", words)
    line = int(place[1]) if place and place[1] else text.count("\n") + 1
    wrong = words[: place.start()] if place else words
    printable = "".join(c if c.isprintable() else "?" for c in wrong)
    return Fault(
        file=file, line=line, wrong=f"this is no TOML: {printable}", right='write lines such as wire = "1.2 mm"'
    )


# -- the line of every key

_TOKEN = re.compile(
    r'"""(?:\\.|[^\\])*?"{3,5}|\'\'\'.*?\'{3,5}|"(?:\\.|[^"\\\n])*"|\'[^\'\n]*\'|#[^\n]*|[\[\]{}\n]|[^"\'#\[\]{}\n]+',
    re.DOTALL,
)
_KEY = re.compile(r"""\s*((?:"(?:\\.|[^"\\])*"|'[^']*'|[^=#"'])+)=""")
_HEADER = re.compile(r"""\s*(\[\[?)((?:"(?:\\.|[^"\\])*"|'[^']*'|[^\]#"'])+)\]""")


def _lines_of(text: str) -> dict[Place, int]:
    """The line of every table and key of a text that is known to be TOML. Tables in a list count from 0."""
    lines: dict[Place, int] = {(): 1}
    counts: dict[Place, int] = {}
    table: Place = ()
    for line, statement in _statements(text):
        if header := _HEADER.match(statement):
            table = _place(_parts(header[2]), counts, is_list=header[1] == "[[")
            lines.setdefault(table, line)
            lines.setdefault(tuple(part for part in table if isinstance(part, str)), line)
        elif key := _KEY.match(statement):
            path = table
            for part in _parts(key[1]):
                path = (*path, part)
                lines.setdefault(path, line)
    return lines


def _statements(text: str) -> Iterator[tuple[int, str]]:
    """Every header or key with its value, and the line it starts on."""
    line, first, depth, parts = 1, 1, 0, list[str]()
    for token in _TOKEN.findall(text):
        if token == "\n" and depth == 0:
            yield first, "".join(parts)
            parts, first = [], line + 1
        elif not token.startswith("#"):
            depth += (token in "[{") - (token in "]}")
            parts.append(token)
        line += token.count("\n")
    yield first, "".join(parts)


def _parts(words: str) -> tuple[str, ...]:
    """The parts of a dotted key, quotes resolved."""
    import tomllib

    parts, inner = list[str](), tomllib.loads(f"{words.strip()} = 0")
    while isinstance(inner, dict):
        [(part, inner)] = inner.items()
        parts.append(part)
    return tuple(parts)


def _place(parts: tuple[str, ...], counts: dict[Place, int], *, is_list: bool) -> Place:
    """A header's path, with the number of the table wherever the name is a list's."""
    path: Place = ()
    for part in parts[:-1]:
        path = (*path, part)
        path = (*path, counts[path]) if path in counts else path
    path = (*path, parts[-1])
    if not is_list:
        return path
    counts[path] = counts.get(path, -1) + 1
    return (*path, counts[path])


# -- readers of values


def words(most: int = 60) -> Callable[[Any], str]:
    """A reader of printable text on one line."""

    def read(value: Any) -> str:
        text = text_in(value)
        if not text.strip() or len(text) > most or not text.isprintable():
            raise QuantityRefused(f"{shown(text)} cannot stand on a sheet", f"write 1 to {most} printable characters")
        return text.strip()

    return read


def text_in(value: Any) -> str:
    """The text of a value that must be one."""
    if not isinstance(value, str):
        raise QuantityRefused(f"{_written(value)} is not in quotes", 'write it in quotes, such as "5 mm"')
    return value


def in_text(read: Callable[[str], Value]) -> Callable[[Any], Value]:
    """A reader for a value in quotes, by the parser of its words."""
    return lambda value: read(text_in(value))


def whole(least: int, most: int) -> Callable[[Any], int]:
    """A reader of whole numbers from least to most."""

    def read(value: Any) -> int:
        if not isinstance(value, int) or isinstance(value, bool):
            raise QuantityRefused(f"{_written(value)} is no whole number", f"write one from {least} to {most}")
        if not least <= value <= most:
            raise OutOfRange(f"{_written(value)} is out of range", f"write a whole number from {least} to {most}")
        return value

    return read


def number(least: float, most: float) -> Callable[[Any], float]:
    """A reader of numbers from least to most."""

    def read(value: Any) -> float:
        if not isinstance(value, int | float) or isinstance(value, bool):
            raise QuantityRefused(f"{_written(value)} is no number", "write one without quotes, such as 3.5")
        if not least <= value <= most:
            raise OutOfRange(f"{_written(value)} is out of range", f"write a number from {least:g} to {most:g}")
        return float(value)

    return read


def one_of(*names: str) -> Callable[[Any], str]:
    """A reader of one name out of a few."""

    def read(value: Any) -> str:
        if text_in(value) not in names:
            raise UnknownName("choice", value, names)
        return str(value)

    return read


def yes_or_no(value: Any) -> bool:
    """A reader of true and false."""
    if not isinstance(value, bool):
        raise QuantityRefused(f"{_written(value)} is neither yes nor no", "write true or false")
    return value


def percent(most: float) -> Callable[[Any], float]:
    """A reader of parts such as "15 %", up to a percentage; 0.15 comes out."""

    def read(value: Any) -> float:
        text = value.strip() if isinstance(value, str) else ""
        match = re.fullmatch(r"([0-9]{1,4}(?:\.[0-9]{1,4})?) ?%", text, re.ASCII)
        if not match or float(match[1]) > most:
            raise QuantityRefused(
                f"{_written(value)} is no percentage", f'write one from "0 %" to "{most:g} %", in quotes'
            )
        return float(match[1]) / 100

    return read


def list_of(read: Callable[[Any], Value], most: int) -> Callable[[Any], tuple[Value, ...]]:
    """A reader of a list in square brackets."""

    def read_list(value: Any) -> tuple[Value, ...]:
        if not isinstance(value, list) or not 1 <= len(value) <= most:
            raise QuantityRefused(f"{_written(value)} is no list", f"write 1 to {most} in square brackets, with commas")
        return tuple(read(each) for each in value)

    return read_list


def _written(value: Any) -> str:
    """A value as it may be shown, whatever it is."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, int):
        return str(value) if abs(value) < 10**18 else "a number of many digits"
    if isinstance(value, dict | list):
        return "a table" if isinstance(value, dict) else f"a list of {len(value)}"
    return shown(value) if isinstance(value, str) else shown(str(value)).strip("'")
