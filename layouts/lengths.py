"""How lengths are said: in millimetres, or in inches with the millimetres in brackets beside.

The one printer of lengths for sheets, labels, reports and plans. Which of the two it is belongs to a whole answer, as
a language does: it is set once at the door (`said_in`), for as long as that answer is made, and nothing that is
computed depends on it. A parameter for it would go through every function that writes a word.

Brackets for the second unit are those of dual dimensioning on drawings (M: ASME Y14.5, ISO 129-1).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from contextvars import ContextVar

from layouts.errors import UnknownName
from layouts.showing import NO_INCH, inch_fraction, show_feet, show_length, show_metres, show_mm, show_number
from layouts.unit_tables import FOOT_MM, INCH_MM

UNITS = ("mm", "inch")
SIXTEENTH_MM = INCH_MM / 16
"""The step of lengths to cut in inches: what a bench rule reads."""

_SHORT_INCHES = 3  # places where millimetres have as many as they need; finer ones have a place more
_FINE_MM = 0.1
_MORE_PLACES = 1  # a place more in inches than in millimetres: 0.001 in is 0.025 mm
_units: ContextVar[str] = ContextVar("units", default="mm")


@contextmanager
def said_in(units: str) -> Iterator[None]:
    """Within it, lengths are said in "mm" or "inch". Raises UnknownName."""
    if units not in UNITS:
        raise UnknownName("unit of length", units, UNITS)
    token = _units.set(units)
    try:
        yield
    finally:
        _units.reset(token)


def are_inches() -> bool:
    """Whether lengths are said in inches now."""
    return _units.get() == "inch"


def unit_said() -> str:
    """The unit that stands over a column of `bare` lengths: 'mm' or 'in'."""
    return "in" if are_inches() else "mm"


def sized(mm: float, places: int | None = None) -> str:
    """A length with its unit: '5.00 mm', or '0.197 in [5.00 mm]'. Places are of the mm; None is as many as it has.

    >>> sized(5, 2), sized(0.1)
    ('5.00 mm', '0.1 mm')
    """
    return _beside(bare(mm, places), f"{_mm(mm, places)} mm")


def changed(mm: float, places: int | None = None) -> str:
    """A length that something grew or shrank by: '+0.030 mm'."""
    return f"{'-' if mm < 0 else '+'}{sized(abs(mm), places)}"


def sized_short(mm: float, most: int = 2, least: int = 0) -> str:
    """The same with at most so many places of mm and at least so many, without trailing zeros."""
    inches = show_number(mm / INCH_MM, most + _MORE_PLACES, least)
    return f"{inches} in [{show_mm(mm, most, least)}]" if are_inches() else show_mm(mm, most, least)


def sized_each(words: str, sizes_mm: Sequence[float], places: int | None = None, *, fine: bool = False) -> str:
    """Several lengths with one unit: 'ID 5.00, OD 7.40 mm', or 'ID 0.197, OD 0.291 in [5.00, 7.40 mm]'.

    fine: a place more of the inches, for a window whose ends are to stay where they are.

    >>> sized_each("ID {}, OD {}", (5, 7.4), 2)
    'ID 5.00, OD 7.40 mm'
    """
    beside = ", ".join(_mm(mm, places) for mm in sizes_mm)
    shown = places + 1 if fine and are_inches() and places is not None else places
    return _beside(words.format(*(bare(mm, shown) for mm in sizes_mm)), f"{beside} mm")


def named(name: str, mm: float) -> str:
    """A rod or a drill by the name it is sold under, and in inches what that is: '9.5 mm (0.374 in)'."""
    return f"{name} ({bare(mm, 2)} in)" if are_inches() else name


def sold_as(name: str, mm: float, *, in_inches: bool) -> str:
    """A rod by the name it is sold under, in inches or not, and its size where the name is in the other unit.

    >>> sold_as("3/16 in", 4.7625, in_inches=True), sold_as("5.0 mm", 5, in_inches=False)
    ('3/16 in (4.76 mm)', '5.0 mm (5.00 mm)')
    """
    if are_inches():
        return f"{name} [{_mm(mm, 2)} mm]" if in_inches else named(name, mm)
    return f"{name} ({sized(mm, 2)})"


def bare(mm: float, places: int | None = None) -> str:
    """A length without its unit, in the unit that is said: '5.00', or '0.197'."""
    if not are_inches():
        return _mm(mm, places)
    if places is None:
        return show_number(mm / INCH_MM, _SHORT_INCHES + (abs(mm) < _FINE_MM))
    return f"{mm / INCH_MM:.{places + _MORE_PLACES}f}"


def bare_short(mm: float, most: int = 2, least: int = 0) -> str:
    """The same without trailing zeros."""
    return show_number(mm / INCH_MM, most + _MORE_PLACES, least) if are_inches() else show_number(mm, most, least)


def to_cut(mm: float) -> str:
    """A length to cut, with its unit: '373 mm', or '14 11/16 in [373.1 mm]'."""
    return _beside(bare_to_cut(mm), f"{_cut_mm(mm)} mm")


def bare_to_cut(mm: float) -> str:
    """A length to cut without its unit: '373', or '14 11/16', the nearest sixteenth."""
    return inch_fraction(mm, 16)[0].removesuffix(" in") if are_inches() else _cut_mm(mm)


def wire_said(mm: float) -> str:
    """A length of wire on the spool: '4.30 m', or '14.11 ft [4.30 m]'."""
    return f"{mm / FOOT_MM:.2f} ft [{show_metres(mm)}]" if are_inches() else show_metres(mm)


def sold_length(mm: float, *, in_feet: bool = False) -> str:
    """A length as wire is sold: '5 m', '0.25 m', '25 ft'; in millimetres where metres would have three decimals.

    in_feet: it is sold so, and has no metres beside. Said in inches it has its feet first: '16 ft 4 3/4 in [5 m]'.
    """
    if in_feet:
        return show_feet(mm)
    metric = f"{mm / 1000:g} m" if mm % 10 == 0 else f"{mm:g} mm"
    return f"{show_feet(mm)} [{metric}]" if are_inches() else metric


def length_in_full(mm: float) -> str:
    """A length in both units with the nearest 1/64 in: '0.3740 in [9.500 mm], 3/8 in - 0.0010 in'."""
    if not are_inches():
        return show_length(mm)
    fraction, residue = inch_fraction(mm)
    left = f"{abs(residue) / INCH_MM:.4f}"
    sign = "" if left == "0.0000" else f" {'-' if residue < 0 else '+'} {left} in"
    near = "" if fraction == NO_INCH else f", {fraction}{sign}"
    return f"{sized(mm, 3)}{near}"


def step_mm(units: str) -> float:
    """The step in which wire is cut [mm]: a millimetre, or a sixteenth of an inch."""
    return SIXTEENTH_MM if units == "inch" else 1.0


def up_to_step(mm: float, step: float, slack_mm: float = 1e-6) -> float:
    """The next length of whole steps [mm] that is not shorter; a whole number of mm where the step is one.

    >>> up_to_step(372.2, 1.0), up_to_step(372.2, SIXTEENTH_MM)
    (373, 373.0625)
    """
    steps = math.ceil((mm - slack_mm) / step)
    return steps if step == 1 else round(steps * step, 4)


def down_to_step(mm: float, step: float, slack_mm: float = 1e-6) -> float:
    """The length of whole steps [mm] that is not longer."""
    steps = math.floor((mm + slack_mm) / step)
    return steps if step == 1 else round(steps * step, 4)


def _beside(words: str, mm: str) -> str:
    return f"{words} in [{mm}]" if are_inches() else f"{words} mm"


def _mm(mm: float, places: int | None) -> str:
    return f"{mm:g}" if places is None else f"{mm:.{places}f}"


def _cut_mm(mm: float) -> str:
    return f"{mm}" if isinstance(mm, int) else show_number(mm, 1)
