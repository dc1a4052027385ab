"""Writing to a terminal of any kind: only characters that it has and that cannot disguise a line, within its width.

The streams are guarded once, at the start; commands write as they like. A full or closed output is one line and an
exit code, and a reader that has had enough (`| head -1`) counts as success.
"""

from __future__ import annotations

import codecs
import errno
import io
import os
import sys
from collections.abc import Callable
from typing import Any

_INSTEAD = {
    "×": "x", "±": "+-", "−": "-", "–": "-", "—": "-", "°": " deg", "Ø": "dia ", "π": "pi", "µ": "u", "μ": "u",
    "²": "2", "³": "3", "·": "-", "…": "...", "′": "'", "″": '"', "‘": "'", "’": "'", "“": '"', "”": '"', "½": "1/2",
    "≤": "<=", "≥": ">=", "→": "->", "⁄": "/", "€": "EUR", "£": "GBP", "█": "#",
}  # fmt: skip
_HANDLER = "coilwright"
_MARK = "\N{REPLACEMENT CHARACTER}"


class OutputLost(Exception):
    """The output cannot take what is written: it is full or closed. `is_enough`: its reader went away."""

    def __init__(self, error: Exception) -> None:
        self.is_enough = isinstance(error, BrokenPipeError)
        self.reason = getattr(error, "strerror", None) or str(error)
        super().__init__(self.reason)


class Guarded(io.TextIOWrapper):
    """A stream that shows every text harmless, in the characters that it has and within the width of its terminal."""

    def write(self, text: str) -> int:
        """Writes the text; its length, as it was given."""
        words = harmless(text)
        if self.isatty():
            from shutil import get_terminal_size

            words = within(words, get_terminal_size().columns)
        try:
            super().write(words)
        except (OSError, ValueError) as error:
            raise OutputLost(error) from error
        return len(text)

    def flush(self) -> None:
        """Writes what waits."""
        try:
            super().flush()
        except (OSError, ValueError) as error:
            raise OutputLost(error) from error


def harmless(text: str) -> str:
    """The text without control characters (line ends and tabs aside), marks of direction, and halves of characters."""
    if text.isascii() and text.replace("\n", "").replace("\t", "").isprintable():
        return text
    from unicodedata import category

    def shown(c: str) -> str:
        kind = category(c)
        if kind == "Zs":
            return " "
        return _MARK if kind[0] == "C" or kind in ("Zl", "Zp") else c

    return "".join(c if c in "\n\t" else shown(c) for c in text)


def within(text: str, width: int) -> str:
    """The text with lines broken that are longer than the width, at a space where there is one, and set in below."""
    if width < 10 or all(len(line) <= width for line in text.split("\n")):
        return text
    return "\n".join(part for line in text.split("\n") for part in _broken(line, width))


def _broken(line: str, width: int) -> list[str]:
    indent = " " * min(len(line) - len(line.lstrip(" ")) + 2, width // 2)
    parts = []
    while len(line) > width:
        at = line.rfind(" ", len(indent) + 1, width + 1)
        at = at if at > 0 else width
        parts.append(line[:at].rstrip(" "))
        line = indent + line[at:].lstrip(" ")
    return [*parts, line]


def guarded(run: Callable[[], int]) -> int:
    """Runs with guarded streams. The exit code of what is run, or 2 where the output could not be written."""
    codecs.register_error(_HANDLER, _in_other_characters)
    for name in ("stdout", "stderr"):
        _guard(name)
    try:
        code = run()
        for stream in (sys.stdout, sys.stderr):
            stream.flush()
        return code
    except OutputLost as lost:
        _silence(sys.stdout)
        if lost.is_enough:
            return 0
        try:
            say = f"coilwright: the output cannot be written: {lost.reason}; make room, or write it somewhere else"
            sys.stderr.write(f"{say}\n")
            sys.stderr.flush()
        except OutputLost:
            _silence(sys.stderr)  # there is nowhere left to say it
        return 2


def _guard(name: str) -> None:
    """Puts a guarded stream in the place of one; a stream that a test has put there is left alone."""
    stream = getattr(sys, name)
    if stream is None:
        os.open(os.devnull, os.O_RDONLY)  # takes the number that is free, or a file of ours would get it
        setattr(sys, name, Guarded(io.BufferedWriter(_Closed()), encoding="utf-8", errors=_HANDLER))
        return
    if type(stream) is io.TextIOWrapper:
        stream.flush()
        guard = Guarded(stream.buffer, encoding=stream.encoding, errors=_HANDLER, line_buffering=stream.line_buffering)
        setattr(sys, name, guard)


class _Closed(io.RawIOBase):
    """In place of an output that was closed before the program started: it refuses, until the program ends."""

    is_quiet = False

    def writable(self) -> bool:
        """So it claims, to refuse each write with the reason."""
        return True

    def write(self, data: Any) -> int:
        """Refuses."""
        if self.is_quiet:
            return len(data)
        raise OSError(errno.EBADF, "it is closed")


def _silence(stream: Any) -> None:
    """Lets nothing that still waits in a lost output be a fault when the program ends."""
    raw = getattr(stream.buffer, "raw", None)  # an output without a buffer has none
    if isinstance(raw, _Closed):
        raw.is_quiet = True
        return
    null = os.open(os.devnull, os.O_WRONLY)
    os.dup2(null, stream.fileno())


def _in_other_characters(error: UnicodeError) -> tuple[str, int]:
    """Stand-ins for characters that the output lacks; a question mark where we know of nothing better."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    words = error.object[error.start : error.end]
    return "".join(_INSTEAD.get(c, "?") for c in words), error.end
