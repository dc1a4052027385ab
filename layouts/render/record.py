"""Drawings as readable text, a mark a line: what the golden files hold."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import fields

from layouts.affine import Affine
from layouts.drawing.marks import Drawing, Mark


def record_drawings(drawings: Iterable[Drawing]) -> str:
    """Each drawing under its name and size, its marks in mm from its own origin, so that a reader sees what moved."""
    return "".join(
        f"# {drawing.name}, {drawing.width_mm:.3f} x {drawing.height_mm:.3f} mm\n"
        + record(mark.under(Affine(e=-drawing.origin[0], f=-drawing.origin[1])) for mark in drawing.marks)
        for drawing in drawings
    )


def record(marks: Iterable[Mark]) -> str:
    """One line a mark: its kind, its role, then what it is made of, in mm to a micrometre."""
    lines = []
    for mark in marks:
        values = ((field.name, getattr(mark, field.name)) for field in fields(mark) if field.name != "role")
        parts = [f"{name}={_shown(value)}" for name, value in values if value is not False]
        lines.append(" ".join([type(mark).__name__.lower(), str(mark.role), *parts]) + "\n")
    return "".join(lines)


def _shown(value: object) -> str:
    if isinstance(value, bool):
        return "yes"
    if isinstance(value, int | float):
        return f"{value + 0.0:.3f}".replace("-0.000", "0.000")
    if isinstance(value, tuple):
        return " ".join(f"({_shown(x)},{_shown(y)})" for x, y in value)
    return repr(value)
