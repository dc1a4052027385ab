"""Pages as readable text, a mark a line: what the golden files hold."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import fields

from layouts.drawing.marks import Mark


def record(marks: Iterable[Mark]) -> str:
    """One line a mark: its kind, its role, then what it is made of, in mm to a micrometre."""
    return "".join(f"{_line(mark)}\n" for mark in marks)


def _line(mark: Mark) -> str:
    values = ((field.name, getattr(mark, field.name)) for field in fields(mark) if field.name != "role")
    parts = [f"{name}={_shown(value)}" for name, value in values if value is not False]
    return " ".join([type(mark).__name__.lower(), str(mark.role), *parts])


def _shown(value: object) -> str:
    if isinstance(value, bool):
        return "yes"
    if isinstance(value, int | float):
        return f"{value + 0.0:.3f}".replace("-0.000", "0.000")
    if isinstance(value, tuple):
        return " ".join(f"({_shown(x)},{_shown(y)})" for x, y in value)
    return repr(value)
