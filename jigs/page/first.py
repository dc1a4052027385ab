"""The first page as it was answered last: given again at the next start, as long as nothing it is made of has changed.

What a start waits for is loading the trade, its tables and its templates. A page that was answered is the same for the
same program and the same bench folder, so it is kept in that folder, under a mark of every file of both.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import suppress
from hashlib import sha256
from pathlib import Path

import jigs
import layouts

_NAME = ".page.first"
_MADE_OF = (".py", ".html", ".toml")


class FirstPage:
    """What is kept of the first page of a bench folder. Where the folder cannot be written to, nothing is."""

    def __init__(self, bench: Path) -> None:
        self._bench, self._path = bench, bench / _NAME

    def mark(self) -> str:
        """Of all that the page is made of: a change of any of it, or of Python, gives another one."""
        packages = (os.path.dirname(str(package.__file__)) for package in (jigs, layouts))
        found = [sys.version, *(each for package in packages for each in _files(package))]
        with suppress(OSError), os.scandir(self._bench) as own:
            found.extend(_state(each) for each in own if each.name.endswith(_MADE_OF))
        return sha256("\n".join(sorted(found)).encode()).hexdigest()

    def kept(self, mark: str) -> bytes | None:
        """The page that was kept under this mark; None where there is none."""
        try:
            head, _, page = self._path.read_bytes().partition(b"\n")
        except OSError:
            return None
        said, _, whole = head.partition(b" ")
        return page if said == mark.encode() and whole == sha256(page).hexdigest().encode() else None

    def keep(self, mark: str, page: bytes) -> None:
        """Keeps a page that was made after this mark was taken, readable by this person alone."""
        with suppress(OSError):
            self._path.unlink(missing_ok=True)
            with os.fdopen(os.open(self._path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
                file.write(f"{mark} {sha256(page).hexdigest()}\n".encode() + page)


def _files(folder: str) -> Iterator[str]:
    with os.scandir(folder) as found:
        for each in found:
            if each.is_dir():
                yield from _files(each.path)
            elif each.name.endswith(_MADE_OF):
                yield _state(each)


def _state(file: os.DirEntry[str]) -> str:
    state = file.stat()
    return f"{file.path} {state.st_size} {state.st_mtime_ns}"
