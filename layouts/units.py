"""The one door for quantities: words become millimetres (or g, MPa, ...) here, and millimetres words again.

The grammar is one number and one unit, nothing else. A number is `5`, `0.5`, `.5`, `5,5`, `5/16`, `1 1/2`,
`1-1/2`, `½` or `1½`. What could be read in two ways is refused with both readings.

Lengths convert by whole nanometres, so they are exact and need no library. The other kinds convert with pint,
loaded when the first one is met; pint sees names from the tables below, and never what a person typed.

Sources: 1 in = 25.4 mm and 1 lb = 453.59237 g exactly (international yard and pound agreement, 1959, from
memory); troy ounce 480 grains, pennyweight 24, pound 7000 (from memory); standard gravity 9.80665 m/s2 (CGPM
1901, from memory). The tests check every factor against pint's own tables.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from math import floor, gcd, isfinite, lcm
from typing import TYPE_CHECKING

from layouts.errors import OutOfRange, QuantityRefused, Refusal, UnknownName, shown

if TYPE_CHECKING:
    from fractions import Fraction

    from pint import UnitRegistry

INCH_MM = 25.4
"""Millimetres in an inch, exact by definition; nowhere else in the project."""

MOST_CHARACTERS = 64
"""The longest text that is read at all."""

MOST_IN_A_RANGE = 500
"""The most lengths that one range may name."""

SMALLEST, LARGEST = 1e-6, 1e7
"""Bounds of a quantity in its own unit (for a length 1 nm and 10 km): beyond them it is a slip of the pen."""

_MM = 1_000_000  # nanometres
_INCH = round(INCH_MM * _MM)


# --- the units ----------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class _Kind:
    """A kind of quantity: what it is called, the unit it is given back in, and what a person may write."""

    called: str
    unit: str  # shown
    pint_unit: str
    spellings: Mapping[str, str]  # as typed -> as pint is told
    write: tuple[str, ...]  # units a refusal proposes
    example: str


def _spelled(*rows: str) -> dict[str, str]:
    """Spelling -> name, from rows 'name: spelling | spelling'."""
    pairs = (row.split(": ", 1) for row in rows)
    return {spelling: name for name, spellings in pairs for spelling in spellings.split(" | ")}


_LENGTH_NAMES = _spelled(
    "micrometre: um | µm | μm | micron | microns | micrometre | micrometres | micrometer | micrometers",
    "millimetre: mm | MM | millimetre | millimetres | millimeter | millimeters",
    "centimetre: cm | centimetre | centimetres | centimeter | centimeters",
    "metre: m | metre | metres | meter | meters",
    "thou: thou",
    "inch: in | in. | inch | inches | \" | ″ | ” | '' | ′′",
    "foot: ft | ft. | foot | feet | ' | ′ | ’",
    "yard: yd | yard | yards",
)

_NANOMETRES = {
    "micrometre": 1_000,
    "millimetre": _MM,
    "centimetre": 10 * _MM,
    "metre": 1_000 * _MM,
    "thou": _INCH // 1_000,
    "inch": _INCH,
    "foot": 12 * _INCH,
    "yard": 36 * _INCH,
}

_MASSES = _spelled(
    "milligram: mg | milligram | milligrams | milligramme | milligrammes",
    "gram: g | gram | grams | gramme | grammes",
    "kilogram: kg | kilogram | kilograms | kilogramme | kilogrammes | kilo | kilos",
    "grain: grain | grains",
    "pennyweight: dwt | pennyweight | pennyweights",
    "troy_ounce: ozt | oz t | oz.t | t oz | troy oz | troy ounce | troy ounces | oz troy | ounces troy",
    "ounce: oz av | oz avdp | avoirdupois ounce | avoirdupois ounces",
    "pound: lb | lbs | pound | pounds",
)

_VOLUMES = _spelled(
    "millimetre**3: mm3",
    "centimetre**3: cm3 | cc | ml | mL",
    "decimetre**3: dm3 | l | L | litre | liter",
    "metre**3: m3",
    "inch**3: in3 | cu in | cu.in | cubic inch",
    "foot**3: ft3 | cu ft | cubic foot",
)

_DENSITIES = {f"{m}/{v}": f"{_MASSES[m]}/{_VOLUMES[v]}" for m in _MASSES for v in _VOLUMES} | {
    "Mg/m3": "gram/centimetre**3"
}

_STRESSES = _spelled(
    "pascal: Pa | pascal | pascals | N/m2",
    "kilopascal: kPa | kN/m2",
    "megapascal: MPa | MN/m2 | N/mm2 | megapascal | megapascals",
    "gigapascal: GPa | GN/m2 | kN/mm2 | gigapascal | gigapascals",
    "psi: psi | lbf/in2 | lb/in2",
    "ksi: ksi | kpsi",
    "mega_psi: Msi | Mpsi",
    "kgf_mm2: kgf/mm2 | kg/mm2",
)

_ANGLES = _spelled(
    "degree: deg | deg. | degree | degrees | ° | º",
    "radian: rad | radian | radians",
)

_LENGTH = _Kind(
    called="length",
    unit="mm",
    pint_unit="millimetre",
    spellings=_LENGTH_NAMES,
    write=("mm", "in"),
    example='"5 mm", "3/16 in" or "12 thou"',
)

_KINDS: dict[str, _Kind] = {
    "density": _Kind(
        called="density",
        unit="g/cm3",
        pint_unit="gram/centimetre**3",
        spellings=_DENSITIES,
        write=("g/cm3", "kg/m3", "lb/in3"),
        example='"8.53 g/cm3", "8530 kg/m3" or "0.308 lb/in3"',
    ),
    "stress": _Kind(
        called="stress",
        unit="MPa",
        pint_unit="megapascal",
        spellings=_STRESSES,
        write=("MPa", "ksi"),
        example='"450 MPa", "450 N/mm2" or "65 ksi"',
    ),
    "modulus": _Kind(
        called="modulus",
        unit="GPa",
        pint_unit="gigapascal",
        spellings=_STRESSES,
        write=("GPa", "Msi"),
        example='"110 GPa" or "16 Msi"',
    ),
    "mass": _Kind(
        called="mass",
        unit="g",
        pint_unit="gram",
        spellings=_MASSES,
        write=("g", "ozt", "dwt"),
        example='"20 g", "2 ozt" or "5 dwt"',
    ),
    "angle": _Kind(
        called="angle",
        unit="degrees",
        pint_unit="degree",
        spellings=_ANGLES,
        write=("deg", "rad"),
        example='"45 deg" or "0.8 rad"',
    ),
}

# Capitals carry meaning in these, so they are read only as listed: Mm is a megametre, Mg a megagram. The same
# holds for whatever is written with a slash, and for the pascals.
_CAPITALS_MATTER = frozenset({"m", "mm", "g", "mg"})

# Words of the trade that mean two things: (one, other, what to write for the one, for the other).
_TWO_READINGS = {
    "mil": ("a thousandth of an inch", "a millimetre", "thou", "mm"),
    "mils": ("thousandths of an inch", "millimetres", "thou", "mm"),
    "gr": ("a grain", "a gram", "grain", "g"),
    "grs": ("grains", "grams", "grain", "g"),
    "oz": ("a troy ounce, 31.103 g", "an avoirdupois ounce, 28.350 g", "ozt", "oz av"),
    "ounce": ("a troy ounce, 31.103 g", "an avoirdupois ounce, 28.350 g", "ozt", "oz av"),
    "ounces": ("troy ounces, 31.103 g", "avoirdupois ounces, 28.350 g", "ozt", "oz av"),
}

_GAUGES = frozenset({"awg", "swg", "ga", "ga.", "gauge", "gage", "#"})

# Everything pint needs to know, in its own notation, each exact but the radian (pi to 25 figures).
_DEFINITIONS = f"""
metre = [length]
decimetre = 0.1 metre
centimetre = 0.01 metre
millimetre = 0.001 metre
inch = {INCH_MM} millimetre
foot = 12 inch
second = [time]
gram = [mass]
milligram = 0.001 gram
kilogram = 1000 gram
pound = 453.59237 gram
grain = pound / 7000
pennyweight = 24 grain
troy_ounce = 480 grain
ounce = pound / 16
newton = kilogram * metre / second ** 2
pascal = newton / metre ** 2
kilopascal = 1000 pascal
megapascal = 1000000 pascal
gigapascal = 1000000000 pascal
kilogram_force = 9.80665 newton
kgf_mm2 = kilogram_force / millimetre ** 2
pound_force = kilogram_force * pound / kilogram
psi = pound_force / inch ** 2
ksi = 1000 psi
mega_psi = 1000000 psi
degree = [angle]
radian = 57.29577951308232087679815 degree
"""


# --- reading ------------------------------------------------------------------------------------------------

_VULGAR = {
    "½": (1, 2),
    "⅓": (1, 3),
    "⅔": (2, 3),
    "¼": (1, 4),
    "¾": (3, 4),
    "⅛": (1, 8),
    "⅜": (3, 8),
    "⅝": (5, 8),
    "⅞": (7, 8),
}

# A pattern, compiled when first used: what only asks for help should not wait for it.
_NUMBER = r"""
        (?P<whole>[0-9]+(?:\ +|-))? (?P<over>[0-9]+) [/⁄] (?P<under>[0-9]+)   # 5/16, 1 1/2, 1-1/2
      | (?P<units>[0-9]+(?:\ *|-))? (?P<vulgar>[½⅓⅔¼¾⅛⅜⅝⅞])                   # ½, 1½, 1 ½
      | (?P<decimal>[0-9]+(?:[.,][0-9]+)?|\.[0-9]+)                           # 5, 0.5, 5,5, .5
"""

_THOUSANDS = r"[1-9][0-9]{0,2},[0-9]{3}"

# What people write that is no quantity: a pattern to search for, what it is, and what to do about it.
_FAULTS = (
    (r"^$", "nothing is written", ""),
    (r"^[-−–][0-9.½¼¾ ]", "it is below zero", ""),
    (r"(?i)^[-+]?(?:nan|inf)", "it is no finite number", ""),
    (r"^\+[0-9.]", "it has a sign", "leave out the plus and "),
    (r"±|\+ ?/? ?-", "it has a tolerance", "give the middle value alone: "),
    (r"\.\.|…", "it is a range and one value is wanted", ""),
    (r"(?i)[0-9.] ?e ?[-+]?[0-9]", "it has an exponent", "give the number in full: "),
    (r"[0-9][.,][0-9]*[.,]", "it has two separators", "mark decimals with one point and nothing else: "),
    (r"[0-9][.,](?![0-9])|^,", "a point or comma needs a digit on both sides", ""),
    (r"[*+=;()]|[0-9] *\^|[0-9½¼¾] *-| - ", "it is more than one number and one unit", "work it out first and "),
    (
        r"[0-9½¼¾] *[a-zA-Z\"'′″”’]+\.?(?: +[0-9½¼¾]|[0-9½¼¾]+ *[a-zA-Z\"'′″”’])",
        "it mixes two units",
        "take one of them and ",
    ),
    (r"^[0-9½¼¾.,/⁄-]+ *[½¼¾/⁄_]|[0-9½¼¾] +[0-9½¼¾]", "it is not one plain number", ""),
)


def parse_length(text: str) -> float:
    """The length in mm, above zero, from one number and one unit of length.

    Exact: the answer is the float nearest to the length that is written.
    Raises QuantityRefused or OutOfRange, with one line that says what to write instead.

    >>> parse_length("5/16 in"), parse_length("0.5 cm"), parse_length("5,5 mm")
    (7.9375, 5.0, 5.5)
    """
    over, under = _nanometres(_checked(text, _LENGTH))
    return _bounded(over / (under * _MM), text, _LENGTH)


def parse_quantity(text: str, kind: str) -> float:
    """A quantity above zero: "density" in g/cm3, "modulus" GPa, "stress" MPa, "mass" g, "angle" degrees.

    Raises UnknownName for another kind, QuantityRefused or OutOfRange for a text that does not serve.

    >>> parse_quantity("8530 kg/m3", "density"), parse_quantity("450 N/mm2", "stress")
    (8.53, 450.0)
    """
    if kind not in _KINDS:
        raise UnknownName("kind of quantity", kind, _KINDS)
    wanted = _KINDS[kind]
    over, under, unit = _split(_checked(text, wanted), wanted)
    from fractions import Fraction

    value = _registry().convert(Fraction(over, under), unit, wanted.pint_unit)
    return _bounded(float(value), text, wanted)


def parse_length_range(text: str) -> tuple[float, ...]:
    """Lengths in mm, ascending, from "3 mm..8 mm by 0.5 mm" (both ends count) or from a single length.

    Steps are exact: no length drifts. The last step must land on the end; at most 500 lengths.

    >>> parse_length_range("1 mm..2 mm by 0.5 mm")
    (1.0, 1.5, 2.0)
    """
    _checked(text, _LENGTH)
    if ".." not in text:
        return (parse_length(text),)
    first, last, step, per_mm = _range_parts(text)
    count = _range_count(first, last, step, per_mm, text)
    return tuple((first + i * step) / per_mm for i in range(count))


def _checked(text: str, kind: _Kind) -> str:
    """The text without outer spaces; refused when too long, or with characters that cannot be seen."""
    if len(text) > MOST_CHARACTERS:
        remedy = f"write at most {MOST_CHARACTERS}, such as {kind.example}"
        raise QuantityRefused(f"{_a(kind)} of {len(text)} characters is not read", remedy)
    if not text.isprintable():
        hidden = next(c for c in text if not c.isprintable())
        problem = f"{shown(text)} holds a character that cannot be seen (U+{ord(hidden):04X})"
        raise QuantityRefused(problem, f"type it again, such as {kind.example}")
    return text.strip(" ")


def _nanometres(text: str) -> tuple[int, int]:
    """A length as an exact ratio of whole numbers, in nanometres."""
    over, under, name = _split(text, _LENGTH)
    return over * _NANOMETRES[name], under


def _split(text: str, kind: _Kind) -> tuple[int, int, str]:
    """Numerator, denominator and the unit's name for pint; the value is above zero."""
    match = re.match(_NUMBER, text, re.VERBOSE)
    if match is None:
        raise _not_a_number(text, kind)
    name = _unit_name(text[match.end() :].strip(" "), kind)
    if name is None:
        raise _no_unit(text, match.group(), text[match.end() :].strip(" "), kind)
    over, under = _ratio(match, text, kind)
    if over == 0:
        raise OutOfRange(f"{_a(kind)} must be more than zero, not {shown(text)}", _write(kind))
    return over, under, name


def _unit_name(word: str, kind: _Kind) -> str | None:
    """The unit's name for pint; None when the word is no unit of this kind."""
    plain = _plain(word)
    if plain in kind.spellings:
        return kind.spellings[plain]
    small = plain.lower()
    return None if small in _CAPITALS_MATTER or "/" in small else kind.spellings.get(small)


def _plain(word: str) -> str:
    """The unit with powers as bare digits and no spaces at the slash, as the tables spell it."""
    for power in "23":
        word = word.replace(f"^{power}", power)
    return re.sub(r" */ *", "/", word.replace("²", "2").replace("³", "3"))


def _ratio(match: re.Match[str], text: str, kind: _Kind) -> tuple[int, int]:
    """The number that was matched, as an exact ratio of whole numbers."""
    if match["decimal"]:
        return _decimal(match["decimal"], text, kind)
    if match["vulgar"]:
        whole, (over, under) = match["units"], _VULGAR[match["vulgar"]]
    else:
        whole, over, under = match["whole"], int(match["over"]), int(match["under"])
    if under == 0:
        raise QuantityRefused(f"{shown(text)} divides by zero", _write(kind))
    if whole is None:
        return over, under
    if over >= under:
        problem = f"{shown(text)} adds a whole number and a fraction that is not below one"
        raise QuantityRefused(problem, _write(kind))
    return int(whole.rstrip(" -")) * under + over, under


def _decimal(number: str, text: str, kind: _Kind) -> tuple[int, int]:
    if re.fullmatch(_THOUSANDS, number):
        point, run = number.replace(",", "."), number.replace(",", "")
        remedy = " or ".join(f'"{text.replace(number, reading, 1)}"' for reading in (point, run))
        raise QuantityRefused(f"{shown(text)} could be {point} or {run}", f"write {remedy}")
    whole, _, part = number.replace(",", ".").partition(".")
    return int(whole + part), 10 ** len(part)


def _bounded(value: float, text: str, kind: _Kind) -> float:
    if not SMALLEST <= value <= LARGEST:
        problem = f"{shown(text)} is {'more' if value > LARGEST else 'less'} than any {kind.called} here"
        raise OutOfRange(problem, f"give {SMALLEST:f} to {LARGEST:.0f} {kind.unit}, such as {kind.example}")
    return value


@lru_cache(maxsize=1)
def _registry() -> UnitRegistry[Fraction]:
    from fractions import Fraction

    import pint

    registry: UnitRegistry[Fraction] = pint.UnitRegistry(None, non_int_type=Fraction)
    registry.load_definitions(_DEFINITIONS.splitlines())
    return registry


# --- reading a range ----------------------------------------------------------------------------------------

_ZERO = re.compile(r" *0+([.,]0*)?( *[a-z]+)? *")  # with or without a unit
_RANGE_EXAMPLE = 'write it as "3 mm..8 mm by 0.5 mm"'


def _range_parts(text: str) -> tuple[int, int, int, int]:
    """First, last and step in whole parts of a millimetre, and how many such parts it has: exact."""
    ends, by, step = text.partition(" by ")
    first, dots, last = ends.partition("..")
    if not by:
        raise QuantityRefused(f"the range {shown(text)} has no step", _RANGE_EXAMPLE)
    if not dots or last.startswith(".") or ".." in last or ".." in step:
        raise QuantityRefused(f"the range {shown(text)} is not two lengths with two dots between", _RANGE_EXAMPLE)
    for length in (first, last):
        parse_length(length)  # its bounds hold here too
    if _ZERO.fullmatch(step):
        raise OutOfRange(
            f"the range {shown(text)} has a step of zero", 'give a step of more than zero, such as "by 0.5 mm"'
        )
    parse_length(step)
    ratios = [_nanometres(length.strip(" ")) for length in (first, last, step)]
    common = lcm(*(under for _, under in ratios))
    low, high, rise = (over * (common // under) for over, under in ratios)
    return low, high, rise, common * _MM


def _range_count(first: int, last: int, step: int, per_mm: int, text: str) -> int:
    """How many lengths the range names; refused when it runs down, misses its end or is too long."""
    if last < first:
        raise QuantityRefused(f"the range {shown(text)} runs downwards", "write the smaller length first")
    steps, rest = divmod(last - first, step)
    if steps >= MOST_IN_A_RANGE:
        problem = f"the range {shown(text)} names {steps + 1} lengths"
        raise OutOfRange(problem, f"at most {MOST_IN_A_RANGE}; take a larger step or split it")
    if rest:
        below, above = ((last - rest + more) / per_mm for more in (0, step))
        ends = f"end it at {below:.10g} mm or {above:.10g} mm"
        raise QuantityRefused(f"the steps of {shown(text)} do not land on its end", ends)
    return steps + 1


# --- refusing -----------------------------------------------------------------------------------------------


def _a(kind: _Kind) -> str:
    return f"{'an' if kind.called[0] in 'aeiou' else 'a'} {kind.called}"


def _write(kind: _Kind, number: str = "") -> str:
    """What to write instead, with the person's own number where there is one."""
    if not number or re.fullmatch(_THOUSANDS, number):
        return f"write {kind.example}"
    return "write " + " or ".join(f'"{number} {unit}"' for unit in kind.write)


def _not_a_number(text: str, kind: _Kind) -> Refusal:
    return _fault(text, kind) or QuantityRefused(
        f"{shown(text)} does not begin with a number in the digits 0 to 9", _write(kind)
    )


def _fault(text: str, kind: _Kind) -> Refusal | None:
    for pattern, problem, first in _FAULTS:
        if re.search(pattern, text):
            return QuantityRefused(f"{shown(text)} is not {_a(kind)}: {problem}", first + _write(kind))
    return None


def _no_unit(text: str, number: str, word: str, kind: _Kind) -> Refusal:
    """The refusal for a text that begins with a number and goes on with no unit of the kind."""
    if not word:
        return QuantityRefused(f"{_a(kind)} needs a unit", _write(kind, number))
    return (
        _two_readings(text, number, word, kind)
        or _other_unit(text, word, number, kind)
        or _fault(text, kind)
        or QuantityRefused(f"{shown(word)} is no unit of {kind.called} that is known here", _write(kind, number))
    )


def _two_readings(text: str, number: str, word: str, kind: _Kind) -> Refusal | None:
    """The refusal for a word of the trade that means two things, if both are units of this kind."""
    first, slash, rest = word.lower().partition("/")
    if first not in _TWO_READINGS:
        return None
    one, other, *write = _TWO_READINGS[first]
    units = [f"{unit}{slash}{rest}" for unit in write]
    if not all(_unit_name(unit, kind) for unit in units):
        return None
    remedy = "write " + " or ".join(f'"{number} {unit}"' for unit in units)
    return QuantityRefused(f"{shown(text)} could mean {one}, or {other}", remedy)


def _other_unit(text: str, word: str, number: str, kind: _Kind) -> Refusal | None:
    """The refusal for a unit that is a unit, but of another kind, a gauge, or in the wrong capitals."""
    if word.lower() in _GAUGES and kind is _LENGTH:
        return QuantityRefused(f"{shown(text)} is a wire gauge and {_a(kind)} is wanted", _write(kind))
    for other in (_LENGTH, *_KINDS.values()):
        if _unit_name(word, other) and other.spellings is not kind.spellings:
            problem = f"{shown(word)} is a unit of {other.called}, and {_a(kind)} is wanted"
            return QuantityRefused(problem, _write(kind))
    small = _plain(word).lower()
    alike = [spelling for spelling in kind.spellings if spelling.lower() == small]
    if alike:
        return QuantityRefused(f"capitals matter in the unit {shown(word)}", f'write "{number} {alike[0]}"')
    return None


# --- showing ------------------------------------------------------------------------------------------------


def inch_fraction(mm: float, denominator: int = 64) -> tuple[str, float]:
    """The nearest reduced fraction of an inch, in words, and the residue in mm (value less fraction).

    Half-way between two fractions the larger is taken.

    >>> inch_fraction(38.1)
    ('1 1/2 in', 0.0)
    """
    if denominator < 1:
        raise OutOfRange(f"an inch cannot be cut into {denominator} parts", "give a denominator of 1 or more")
    parts = floor(_showable(mm) / INCH_MM * denominator + 0.5)
    residue = mm - parts * _INCH / (denominator * _MM)
    whole, over = divmod(parts, denominator)
    shared = gcd(over, denominator)
    fraction = f"{over // shared}/{denominator // shared}" if over else ""
    words = " ".join(word for word in (str(whole) if whole or not over else "", fraction) if word)
    return f"{words} in", residue


def show_length(mm: float) -> str:
    """Millimetres first, then the decimal inch, then the nearest 1/64 in with what is left over.

    Under 1/128 in there is no fraction near, and none is shown.

    >>> show_length(9.5)
    '9.500 mm (0.3740 in, 3/8 in - 0.025 mm)'
    """
    fraction, residue = inch_fraction(mm)
    left = f"{abs(residue):.3f}"
    if left != "0.000":
        fraction += f" {'-' if residue < 0 else '+'} {left} mm"
    near = "" if fraction.startswith("0 in") else f", {fraction}"
    return f"{mm:.3f} mm ({mm / INCH_MM:.4f} in{near})"


def finite(value: float, name: str) -> float:
    """The value itself; refused when it is nan or infinite."""
    if not isfinite(value):
        raise OutOfRange(f"{name} is {value}, which is no finite number", "give a number such as 1.5")
    return value


def positive(value: float, name: str) -> float:
    """The value itself; refused when it is not finite, zero, or below zero."""
    if finite(value, name) <= 0:
        raise OutOfRange(f"{name} is {value:g}", "give a number above zero")
    return value


def _showable(mm: float) -> float:
    if not 0 <= finite(mm, "a length to show") <= 1e12:
        raise OutOfRange(f"a length to show is {mm:g} mm", "give zero or more, and less than 1e12")
    return mm
