"""Quantities to words, one way each: numbers, millimetres, inches and their fractions, metres, grams.

What reads words is `units`. A figure is rounded here and nowhere before, half to even in its last place.
"""

from __future__ import annotations

from math import floor, gcd

from layouts.errors import OutOfRange
from layouts.unit_tables import INCH_MM, NM_IN_INCH, NM_IN_MM
from layouts.units import finite

NO_INCH = "0 in"
"""What `inch_fraction` says where the nearest fraction is zero."""


def show_percent(part: float) -> str:
    """A part as a percentage, as files have it: 0.0049 is '0.49 %'."""
    return f"{show_number(100 * part, 3)} %"


def show_number(value: float, most: int = 2, least: int = 0) -> str:
    """A number with at most `most` decimals and at least `least`, and otherwise no trailing zeros.

    >>> show_number(8.8333), show_number(120.0), show_number(5, least=1), show_number(-0.001)
    ('8.83', '120', '5.0', '0')
    """
    whole, _, part = f"{value:.{most}f}".partition(".")
    part = part.rstrip("0").ljust(least, "0")
    words = f"{whole}.{part}" if part else whole
    return words.removeprefix("-") if not words.strip("-0.") else words


def show_mm(mm: float, most: int = 2, least: int = 0) -> str:
    """Millimetres, as `show_number` writes them: '8.83 mm', '120 mm'."""
    return f"{show_number(mm, most, least)} mm"


def show_metres(mm: float) -> str:
    """A length given in mm as metres to the centimetre: '4.30 m'."""
    return f"{mm / 1000:.2f} m"


def show_grams(grams: float, places: int = 3) -> str:
    """A mass in grams, to the milligram unless other places are asked for: '12.500 g'."""
    return f"{grams:.{places}f} g"


def show_inches(mm: float) -> str:
    """A length given in mm as decimal inches, to a ten-thousandth: '0.3740 in'."""
    return f"{mm / INCH_MM:.4f} in"


def inches_of(mm: float, places: int) -> float:
    """A length given in mm as decimal inches, rounded: what goes on to be written or added up as inches."""
    return round(mm / INCH_MM, places)


def show_feet(mm: float) -> str:
    """A length given in mm as feet and inches, to the nearest quarter of an inch.

    >>> show_feet(7620), show_feet(304), show_feet(1000), show_feet(40)
    ('25 ft', '1 ft', '3 ft 3 1/4 in', '1 1/2 in')
    """
    inches = round(4 * mm / INCH_MM) / 4
    feet, over = divmod(inches, 12)
    parts = [f"{feet:.0f} ft"] if feet else []
    if over or not feet:
        parts.append(inch_fraction(over * INCH_MM, 4)[0])
    return " ".join(parts)


def inch_fraction(mm: float, denominator: int = 64) -> tuple[str, float]:
    """The nearest reduced fraction of an inch, in words, and the residue in mm (value less fraction).

    Half-way between two fractions the larger is taken.

    >>> inch_fraction(38.1)
    ('1 1/2 in', 0.0)
    """
    if denominator < 1:
        raise OutOfRange(f"an inch cannot be cut into {denominator} parts", "give a denominator of 1 or more")
    if not 0 <= finite(mm, "a length to show") <= 1e12:
        raise OutOfRange(f"a length to show is {mm:g} mm", "give zero or more, and less than 1e12")
    parts = floor(mm / INCH_MM * denominator + 0.5)
    residue = mm - parts * NM_IN_INCH / (denominator * NM_IN_MM)
    whole, over = divmod(parts, denominator)
    shared = gcd(over, denominator)
    fraction = f"{over // shared}/{denominator // shared}" if over else ""
    words = " ".join(word for word in (str(whole) if whole or not over else "", fraction) if word)
    return f"{words} in", residue


def show_length(mm: float) -> str:
    """Millimetres first, then the decimal inch, then the nearest 1/64 in with what is left over.

    Under 1/128 in the nearest fraction is zero, and is left out.

    >>> show_length(9.5)
    '9.500 mm (0.3740 in, 3/8 in - 0.025 mm)'
    """
    fraction, residue = inch_fraction(mm)
    left = f"{abs(residue):.3f}"
    sign = "" if left == "0.000" else f" {'-' if residue < 0 else '+'} {left} mm"
    near = "" if fraction == NO_INCH else f", {fraction}{sign}"
    return f"{mm:.3f} mm ({show_inches(mm)}{near})"
