"""A folder of TOML files that a person can read and edit by hand, and that programs change without loss.

Reading takes no lock: a file is always whole, as every write puts a complete new one in its place. A change reads,
edits and writes under a lock, so that two of them at once lose nothing; comments and order survive it. A damaged
file is refused with the line and the reason, and left as it is.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from layouts.errors import FileRefused
from layouts.files.entries import Entries, entries_of, open_entries
from layouts.files.source import text_of
from layouts.files.whole import write_whole

if TYPE_CHECKING:
    from tomlkit import TOMLDocument

Answer = TypeVar("Answer")

LOCK = ".lock"
PATIENCE_S = 10.0  # how long a change waits for another program's change
_ELSEWHERE = "make the folder writable, or name another"


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

    def read(self, name: str) -> Entries:
        """The top table of the file `name`; an empty one where it is missing. Refuses one that is damaged, by line."""
        return open_entries(self.path / name, needed=False)

    def edit(
        self,
        name: str,
        change: Callable[[TOMLDocument], Answer],
        check: Callable[[Entries], object],
        head: str = "",
    ) -> Answer:
        """Applies `change` to the file `name` under the folder's lock, and gives what it gives.

        `check` reads the file before and after the change and refuses one that is wrong: then nothing is
        written. A new file starts with the comment `head`.
        """
        import tomlkit

        path = self.path / name
        with self.locked():
            before = text_of(path, needed=False)
            check(entries_of(before, str(path)))
            mark = "\ufeff" if before.startswith("\ufeff") else ""
            document = tomlkit.parse(before.removeprefix(mark) or head)
            answer = change(document)
            after = mark + tomlkit.dumps(document)
            check(entries_of(after, str(path)))
            if after != before:
                write_whole(path.resolve(), after.encode("utf-8"), _ELSEWHERE)
            return answer

    @contextmanager
    def locked(self) -> Iterator[None]:
        """While it lasts, no other program of ours changes a file of this folder, which is made where it is not there.

        Refuses (`FileRefused`) a folder that cannot be written to, and one that stays locked.
        """
        from filelock import FileLock, Timeout

        try:
            self.path.mkdir(parents=True, exist_ok=True)
            lock = FileLock(self.path / LOCK, timeout=PATIENCE_S)
            lock.acquire()
        except Timeout as error:
            raise FileRefused(f"another program is writing to {self.path}", "try again in a moment") from error
        except OSError as error:
            raise FileRefused(f"{self.path} cannot be written to: {error.strerror}", _ELSEWHERE) from error
        try:
            yield
        finally:
            lock.release()
