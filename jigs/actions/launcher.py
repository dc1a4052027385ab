"""A file to double-click, in the place of a command that is typed."""

from __future__ import annotations

import os
import shlex
from collections.abc import Sequence
from pathlib import Path

from layouts.errors import FileRefused, Remedy, printable
from layouts.files.whole import write_whole

NAME = "Coilwright"


def write_launcher(folder: Path, command: Sequence[str], platform: str) -> Path:
    """Writes what the desktop of a platform ("linux", "darwin", "win32") starts by a double click; returns its path.

    Refuses (`FileRefused`) to write over another file of that name.
    """
    ending, text = _written(command, platform)
    path = folder / f"{NAME}{ending}"
    data = text.encode("utf-8")
    if os.path.lexists(path) and not (path.is_file() and path.read_bytes() == data):
        raise FileRefused(f"{printable(path.name)} is there already", remedies=(Remedy.MOVE_FILE,))
    write_whole(path, data, "start this in a folder that you can write in")
    if platform != "win32":
        path.chmod(0o755)  # what cannot be run is opened as text
    return path


def _written(command: Sequence[str], platform: str) -> tuple[str, str]:
    if platform == "win32":
        # In a batch file % begins a variable. The window stays, and says what is wrong, when the start fails.
        words = " ".join(f'"{word}"' for word in command).replace("%", "%%")
        return ".bat", f"@echo off\r\nchcp 65001 >nul\r\n{words}\r\nif errorlevel 1 pause\r\n"
    if platform == "darwin":
        return ".command", f"#!/bin/sh\nexec {shlex.join(command)}\n"
    words = " ".join(map(_for_desktop, command))
    return ".desktop", (
        "[Desktop Entry]\nType=Application\nVersion=1.0\n"
        f"Name={NAME}\nComment=Jump rings: sizes, sheets and plans\nExec={words}\nTerminal=true\nCategories=Utility;\n"
    )


def _for_desktop(word: str) -> str:
    """A word of the Exec key, quoted (Desktop Entry Specification 1.5, The Exec key): a backslash counts twice."""
    for sign in ("\\", '"', "`", "$"):
        word = word.replace(sign, f"\\{sign}")
    return f'"{word}"'.replace("\\", "\\\\").replace("%", "%%")
