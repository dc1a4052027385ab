"""A folder of TOML files that a person can read and edit by hand, and that programs change without loss.

Reading takes no lock: a file is always whole, as every write puts a complete new one in its place. A change reads,
edits and writes under a lock, so that two of them at once lose nothing; comments and order survive it. A damaged
file is refused with the line and the reason, and left as it is. The only tomlkit and the only filelock.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from layouts.errors import FileRefused
from layouts.files.whole import write_whole

if TYPE_CHECKING:
    from tomlkit import TOMLDocument

Answer = TypeVar("Answer")

LOCK = ".lock"
PATIENCE_S = 10.0  # how long a change waits for another program's change
_LEFT = "put it right in an editor; it was left as it is"
_ELSEWHERE = "make the folder writable, or name another"


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """What a file holds: plain values by key, and its text, for the line of what is wrong. No file: no text."""

    path: Path
    text: str
    data: Mapping[str, Any]

    def refuse(self, reason: str, table: str = "", number: int = 0, key: str = "") -> FileRefused:
        """The refusal of this file, at the line of `key` in the table `[[table]]` with that number (from 0)."""
        line = self.line(table, number, key)
        where = f"{self.path}, line {line}" if line else f"{self.path}"
        return FileRefused(f"{where}: {reason}", _LEFT)

    def line(self, table: str, number: int = 0, key: str = "") -> int:
        """The line, from 1, of a table's header, or of a key in it; 0 when there is none."""
        header, at, found = re.compile(rf"\s*\[\[\s*{re.escape(table)}\s*\]\]"), -1, 0
        for line, words in enumerate(self.text.splitlines(), 1):
            if header.match(words):
                at += 1
                found = line if at == number else found
            elif key and at == number and re.match(rf"\s*{re.escape(key)}\s*=", words):
                return line
        return found


@dataclass(frozen=True, slots=True, kw_only=True)
class Folder:
    """One folder; it need not be there before something is written."""

    path: Path

    def files(self) -> tuple[Path, ...]:
        """The TOML files in it, by name."""
        try:
            return tuple(sorted(path for path in self.path.glob("*.toml") if not path.name.startswith(".")))
        except OSError as error:
            raise FileRefused(f"{self.path} cannot be read: {error.strerror}", "name another folder") from error

    def read(self, name: str) -> Document:
        """What the file `name` holds. Refuses (`FileRefused`) one that is damaged, with line and reason."""
        path = self.path / name
        text = _text(path)
        return Document(path=path, text=text, data=_parsed(path, text))

    def edit(
        self,
        name: str,
        change: Callable[[TOMLDocument], Answer],
        check: Callable[[Document], object],
        head: str = "",
    ) -> Answer:
        """Applies `change` to the file `name` under the folder's lock, and gives what it gives.

        `check` reads the document before and after the change and refuses one that is wrong: then nothing is
        written. A new file starts with the comment `head`.
        """
        import tomlkit

        with self._locked():
            before = self.read(name)
            check(before)
            document = tomlkit.parse(before.text or head)
            answer = change(document)
            text = tomlkit.dumps(document)
            path = before.path
            check(Document(path=path, text=text, data=_parsed(path, text)))
            if text != before.text:
                write_whole(path.resolve(), text.encode("utf-8"), _ELSEWHERE)
            return answer

    @contextmanager
    def _locked(self) -> Iterator[None]:
        from filelock import FileLock, Timeout

        try:
            self.path.mkdir(parents=True, exist_ok=True)
            lock = FileLock(self.path / LOCK, timeout=PATIENCE_S)
            lock.acquire()
        except Timeout as error:
            raise FileRefused(f"another program is writing in {self.path}", "try again in a moment") from error
        except OSError as error:
            raise FileRefused(f"{self.path} cannot be written in: {error.strerror}", _ELSEWHERE) from error
        try:
            yield
        finally:
            lock.release()


def _text(path: Path) -> str:
    try:
        return path.read_bytes().decode("utf-8")
    except FileNotFoundError:
        return ""
    except UnicodeDecodeError as error:
        line = error.object[: error.start].count(b"\n") + 1
        raise FileRefused(f"{path}, line {line}: a byte that is no UTF-8 text", _LEFT) from error
    except OSError as error:
        raise FileRefused(f"{path} cannot be read: {error.strerror}", "name another folder") from error


def _parsed(path: Path, text: str) -> Mapping[str, Any]:
    import tomllib

    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise FileRefused(f"{path}, {_place_first(str(error), text)}", _LEFT) from error


def _place_first(reason: str, text: str) -> str:
    """tomllib's 'Expected x (at line 3, column 5)' with the line in front."""
    found = re.fullmatch(r"(.*) \(at line (\d+), column \d+\)", reason, re.DOTALL)
    if found:
        return f"line {found[2]}: {found[1]}"
    at_end = reason.removesuffix(" (at end of document)")
    return f"line {len(text.splitlines())}: {at_end}, and the file ends"
