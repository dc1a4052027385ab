"""The first page as it was answered last: given again at the next start, as long as nothing it is made of has changed.

What a start waits for is loading the trade, its tables and its templates. A page that was answered is the same for the
same program and the same bench folder, so it is kept, under a mark of every file of both. That of a bench folder with
nothing in it is the same in every one: it is kept beside what Python keeps of the program, and a new folder has it too.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable, Iterator
from contextlib import suppress
from hashlib import sha256
from importlib.util import cache_from_source
from pathlib import Path

import jigs
import layouts

_NAME = ".page.first"
_MADE_OF = (".py", ".html", ".toml")


class FirstPage:
    """What is kept of the first page of a bench folder. Where neither place can be written to, nothing is."""

    def __init__(self, bench: Path) -> None:
        self._bench = bench

    def mark(self) -> str:
        """Of all that the page is made of: a change of any of it, or of Python, gives another one.

        Its second half is that of the bench folder, left out where nothing is in it. The whole is "" where a file
        cannot be looked at: nobody knows then whether it has changed.
        """
        packages = (os.path.dirname(str(package.__file__)) for package in (jigs, layouts))
        try:
            program = _sum((sys.version, *(each for package in packages for each in _files(package))))
            with os.scandir(self._bench) as found:
                own = [_state(each) for each in found if each.name.endswith(_MADE_OF)]
        except OSError:
            return ""
        return f"{program}-{_sum(own)}" if own else program

    def kept(self, mark: str) -> bytes | None:
        """The page that was kept under this mark; None where there is none."""
        for path in self._places(mark):
            with suppress(OSError):
                head, _, page = path.read_bytes().partition(b"\n")
                if head == f"{mark} {sha256(page).hexdigest()}".encode():
                    return page
        return None

    def keep(self, mark: str, page: bytes) -> None:
        """Keeps a page that was made while this was the mark, readable by this person alone."""
        for path in self._places(mark):
            with suppress(OSError):
                path.unlink(missing_ok=True)
                with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
                    file.write(f"{mark} {sha256(page).hexdigest()}\n".encode() + page)
                return

    def _places(self, mark: str) -> Iterator[Path]:
        """Where a page of this mark may be, the better one first."""
        if mark and "-" not in mark and not sys.dont_write_bytecode:
            yield Path(cache_from_source(__file__)).with_name("first.page")
        if mark:
            yield self._bench / _NAME


def _sum(states: Iterable[str]) -> str:
    return sha256("\n".join(sorted(states)).encode()).hexdigest()


def _files(folder: str) -> Iterator[str]:
    with os.scandir(folder) as found:
        for each in found:
            if each.is_dir():
                yield from _files(each.path) if each.name != "__pycache__" else ()
            elif each.name.endswith(_MADE_OF):
                yield _state(each)


def _state(file: os.DirEntry[str]) -> str:
    """With the time of its last change of any kind: who sets back the time of a file still changes this one."""
    state = file.stat()
    return f"{file.path} {state.st_size} {state.st_mtime_ns} {state.st_ctime_ns}"
