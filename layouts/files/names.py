"""Names that a file may have on every system, so that what is made on one can be copied to another."""

from __future__ import annotations

from pathlib import Path

from layouts.errors import FileRefused, Remedy, printable

MOST_BYTES = 255  # of a name, in UTF-8: the limit of most file systems
_FORBIDDEN = '<>:"|?*\\'
_RESERVED = {"con", "prn", "aux", "nul", "conin$", "conout$"} | {
    f"{port}{digit}" for port in ("com", "lpt") for digit in "0123456789¹²³"
}


def refuse_names(path: Path) -> None:
    """Refuses (`FileRefused`) a path of which a part that is to be made could not be named so on every system."""
    for part in (path, *path.parents):
        try:
            there = part.exists() and part != path
        except (OSError, ValueError):
            there = False
        if there:
            return
        if part.name and (reason := _fault_of(part.name)):
            raise FileRefused(
                f"{printable(str(path))}: {reason}", remedies=(Remedy.WRITE_ELSEWHERE,), remedy="take another name"
            )


def _fault_of(name: str) -> str:
    """What is wrong with a name; nothing where nothing is."""
    said = printable(name if len(name) <= 40 else f"{name[:37]}...")
    size = len(name.encode("utf-8", "surrogateescape"))
    if size > MOST_BYTES:
        return f"a name of {size} bytes is longer than the {MOST_BYTES} that a disk takes"
    if not name.isprintable():
        return f"the name {said} has a character that cannot be seen"
    if strange := next((c for c in name if c in _FORBIDDEN), ""):
        return f"Windows does not allow {strange} in a name"
    if name != name.rstrip(". "):
        return f"Windows does not allow a dot or space at the end of a name ({said})"
    if name.split(".")[0].rstrip(" ").casefold() in _RESERVED:
        return f"Windows reserves the name {said}"
    return ""
