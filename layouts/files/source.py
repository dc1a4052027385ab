"""The text of a TOML file that people write, and its tables: guarded against all that would hang; refused by line."""

from __future__ import annotations

import os
import stat
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from layouts.errors import FileRefused, printable
from layouts.files.faults import Fault, FileFaulty
from layouts.files.lines import deepest

MOST_BYTES = 256 * 1024
MOST_IN_A_LINE = 400  # characters: tomllib takes minutes over a key of a thousand dots
MOST_NESTED = 20  # brackets in brackets, and parts of a dotted key; a file that people write needs three


def text_of(path: Path, *, needed: bool = True) -> str:
    """The text of a file; empty where the file is missing, unless it is `needed`.

    Refuses what is not an ordinary file, too long, or not UTF-8, and waits for none of it.
    """
    name = printable(str(path))
    try:
        data = start_of(path)
    except (OSError, ValueError) as error:
        if isinstance(error, FileNotFoundError) and not needed:
            return ""
        reason = (error.strerror if isinstance(error, OSError) else None) or str(error)
        raise FileRefused(
            f"{name} cannot be read: {reason}", "name a TOML file that is there and may be read"
        ) from None
    if data is None:
        raise FileRefused(f"{name} is not an ordinary file", "name a TOML file")
    if len(data) > MOST_BYTES:
        raise FileRefused(f"{name} is longer than {MOST_BYTES // 1024} KiB", "split it into several files")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        wrong = "there is a byte here that is not UTF-8 text"
        raise FileFaulty((Fault(file=name, line=line, wrong=wrong, right="save the file as UTF-8"),)) from None


def start_of(path: Path) -> bytes | None:
    """The first bytes of an ordinary file, one more than are read at most; None of anything else.

    It is looked at before it is opened, since opening a device may do something; and again once it is open, without
    waiting, since a pipe may have taken its place.
    """
    if not stat.S_ISREG(os.stat(path).st_mode):
        return None
    handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    with os.fdopen(handle, "rb") as file:
        return file.read(MOST_BYTES + 1) if stat.S_ISREG(os.fstat(handle).st_mode) else None


def toml_of(text: str, file: str) -> Mapping[str, Any]:
    """The tables of a text. Refuses (`FileFaulty`) one that is not TOML, or too deep to be meant, with the line."""
    import tomllib

    lines = text.split("\n")
    for number, line in enumerate(lines, start=1):
        if len(line) > MOST_IN_A_LINE:
            wrong = f"a line of {len(line)} characters is too long"
            raise _faulty(file, number, wrong, f"break it: at most {MOST_IN_A_LINE} to a line")
    depth, number = deepest(text)
    if depth > MOST_NESTED:
        raise _faulty(file, number, f"tables or lists {depth} deep", f"write them at most {MOST_NESTED} deep")
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        import re

        from layouts.files.hints import hint, is_open

        words = str(error)
        place = re.search(r" \(at (?:line (\d+), column \d+|end of document)\)$", words)
        number = int(place[1]) if place and place[1] else max(1, len(lines) - (lines[-1] == ""))
        if not (place and place[1]):  # an open quote runs to the end of the file: it stands further up
            number = next((at for at, line in enumerate(lines, 1) if is_open(line)), number)
        wrong, right = hint(words[: place.start()] if place else words, lines[number - 1])
        raise _faulty(file, number, printable(wrong), printable(right)) from None
    except (ValueError, RecursionError):
        raise _faulty(file, 1, "a number or a nesting in it is too long", "write it shorter") from None


def _faulty(file: str, line: int, wrong: str, right: str) -> FileFaulty:
    return FileFaulty((Fault(file=file, line=line, wrong=wrong, right=right),))
