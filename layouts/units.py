"""Quantities from words: lengths become millimetres, the others g, MPa, g/cm3 or degrees.

The grammar is one number and one unit, nothing else. A number is `5`, `0.5`, `.5`, `5,5`, `5/16`, `1 1/2`,
`1-1/2`, `½` or `1½`. What could be read in two ways is refused with both readings.

Lengths convert by whole nanometres, so they are exact and need no library. The other kinds convert with pint,
loaded when the first one is met; pint sees names from our own tables, and never what a person typed.

The units and their sources stand in `unit_tables`; the way back, from quantities to words, in `showing`.
"""

from __future__ import annotations

import re
from functools import lru_cache
from math import isfinite, lcm
from typing import TYPE_CHECKING

from layouts.errors import OutOfRange, QuantityRefused, Refusal, TwoReadings, UnknownName, shown
from layouts.unit_tables import (
    CAPITALS_MATTER,
    DEFINITIONS,
    GAUGES,
    KINDS,
    LENGTH,
    NANOMETRES,
    NM_IN_MM,
    TWO_READINGS,
    Kind,
)
from layouts.unit_tables import (
    INCH_MM as INCH_MM,
)

if TYPE_CHECKING:
    from fractions import Fraction

    from pint import UnitRegistry

MOST_CHARACTERS = 64
"""The longest text that is read at all."""

MOST_IN_A_RANGE = 500
"""The most lengths that one range may name."""

SMALLEST, LARGEST = 1e-6, 1e7
"""Bounds of a quantity in its own unit (for a length 1 nm and 10 km): beyond them it is taken for a slip of the pen."""

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

# What people write that is not a quantity: a pattern to search for, what it is, and what to do about it.
_FAULTS = (
    (r"^$", "nothing is written", ""),
    (r"^[-−–][0-9.½¼¾ ]", "it is below zero", ""),
    (r"(?i)^[-+]?(?:nan|inf)", "it is not a finite number", ""),
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
    over, under = _nanometres(_checked(text, LENGTH))
    return _bounded(over / (under * NM_IN_MM), text, LENGTH)


def parse_count(text: str) -> int:
    """How many: a whole number of at most six digits. Raises QuantityRefused."""
    # int() takes signs, spaces and the digits of every script, and thousands of them
    if not (text.isascii() and text.isdigit() and len(text) <= 6):
        raise QuantityRefused(f"{shown(text)} is not a count", "write a whole number such as 10")
    return int(text)


def parse_whole(text: str) -> int:
    """A whole number, below zero too: whether so many make sense, what counts them says. Raises QuantityRefused."""
    words = text.strip()
    digits = words.removeprefix("-")
    if not (digits.isascii() and digits.isdigit() and len(digits) <= 9):
        raise QuantityRefused(f"{shown(text)} is not a whole number", "write one such as 40")
    return int(words)


def parse_number(text: str) -> float:
    """A plain number, such as an aspect ratio; a comma may stand for the point. Raises QuantityRefused."""
    try:
        return float(text.replace(",", "."))
    except ValueError:
        raise QuantityRefused(f"{shown(text)} is not a number", "write one such as 4.2") from None


def with_unit(words: str, unit: str) -> str:
    """What was typed where a unit stands beside the box: a bare figure is in that unit; anything else is as it is.

    >>> with_unit("149,4", "mm"), with_unit("5 7/8 in", "mm")
    ('149,4 mm', '5 7/8 in')
    """
    figure = words.strip()
    is_bare = figure.isascii() and figure.replace(".", "", 1).replace(",", "", 1).isdecimal()
    return f"{figure} {unit}" if unit and is_bare else figure


def is_imperial(text: str) -> bool:
    """Whether a length, as it was typed, is in inches, feet or yards. Refuses what `parse_length` refuses.

    >>> is_imperial("25 ft"), is_imperial("5 m")
    (True, False)
    """
    return NANOMETRES[_split(_checked(text, LENGTH), LENGTH)[2]] % NANOMETRES["inch"] == 0


def parse_quantity(text: str, kind: str) -> float:
    """A quantity above zero: "density" in g/cm3, "modulus" GPa, "stress" MPa, "mass" g, "angle" degrees.

    Raises UnknownName for another kind, QuantityRefused or OutOfRange for a text that does not serve.

    >>> parse_quantity("8530 kg/m3", "density"), parse_quantity("450 N/mm2", "stress")
    (8.53, 450.0)
    """
    if kind not in KINDS:
        raise UnknownName("kind of quantity", kind, KINDS)
    wanted = KINDS[kind]
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
    _checked(text, LENGTH)
    if ".." not in text:
        return (parse_length(text),)
    first, last, step, per_mm = _range_parts(text)
    count = _range_count(first, last, step, per_mm, text)
    return tuple((first + i * step) / per_mm for i in range(count))


def _checked(text: str, kind: Kind) -> str:
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
    over, under, name = _split(text, LENGTH)
    return over * NANOMETRES[name], under


def _split(text: str, kind: Kind) -> tuple[int, int, str]:
    """Numerator, denominator and the unit's name for pint; the value is above zero."""
    match = re.match(_NUMBER, text, re.VERBOSE)
    if match is None:
        problem = f"{shown(text)} does not begin with a number in the digits 0 to 9"
        raise _fault(text, kind) or QuantityRefused(problem, _write(kind))
    number, word = match.group(), text[match.end() :].strip(" ")
    name = _unit_name(word, kind)
    if name is None and not word:
        raise QuantityRefused(f"{_a(kind)} needs a unit", _write(kind, number))
    if name is None:
        raise (
            _two_readings(text, number, word, kind)
            or _other_unit(text, word, number, kind)
            or _fault(text, kind)
            or QuantityRefused(f"{shown(word)} is not a unit of {kind.called} known here", _write(kind, number))
        )
    over, under = _ratio(match, text, kind)
    if over == 0:
        raise OutOfRange(f"{_a(kind)} must be more than zero, not {shown(text)}", _write(kind))
    return over, under, name


def _unit_name(word: str, kind: Kind) -> str | None:
    """The unit's name for pint; None when the word is not a unit of this kind."""
    plain = _plain(word)
    if plain in kind.spellings:
        return kind.spellings[plain]
    small = plain.lower()
    return None if small in CAPITALS_MATTER or "/" in small else kind.spellings.get(small)


def _plain(word: str) -> str:
    """The unit with powers as bare digits and no spaces at the slash, as the tables spell it."""
    for power in "23":
        word = word.replace(f"^{power}", power)
    return re.sub(r" */ *", "/", word.replace("²", "2").replace("³", "3"))


def _ratio(match: re.Match[str], text: str, kind: Kind) -> tuple[int, int]:
    """The number that was matched, as an exact ratio of whole numbers."""
    if number := match["decimal"]:
        if re.fullmatch(_THOUSANDS, number):
            point, run = number.replace(",", "."), number.replace(",", "")
            remedy = " or ".join(f'"{text.replace(number, reading, 1)}"' for reading in (point, run))
            raise QuantityRefused(f"{shown(text)} could be {point} or {run}", f"write {remedy}")
        before, _, after = number.replace(",", ".").partition(".")
        return int(before + after), 10 ** len(after)
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


def _bounded(value: float, text: str, kind: Kind) -> float:
    if not SMALLEST <= value <= LARGEST:
        problem = f"{shown(text)} is {'more' if value > LARGEST else 'less'} than any {kind.called} here"
        raise OutOfRange(problem, f"give {SMALLEST:f} to {LARGEST:.0f} {kind.unit}, such as {kind.example}")
    return value


@lru_cache(maxsize=1)
def _registry() -> UnitRegistry[Fraction]:
    from fractions import Fraction

    import pint

    registry: UnitRegistry[Fraction] = pint.UnitRegistry(None, non_int_type=Fraction)
    registry.load_definitions(DEFINITIONS.splitlines())
    return registry


# --- reading a range ----------------------------------------------------------------------------------------

_ZERO = r" *0+([.,]0*)?( *[a-z]+)? *"  # with or without a unit
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
    if re.fullmatch(_ZERO, step):
        raise OutOfRange(
            f"the range {shown(text)} has a step of zero", 'give a step of more than zero, such as "by 0.5 mm"'
        )
    parse_length(step)
    ratios = [_nanometres(length.strip(" ")) for length in (first, last, step)]
    common = lcm(*(under for _, under in ratios))
    low, high, rise = (over * (common // under) for over, under in ratios)
    return low, high, rise, common * NM_IN_MM


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


def _a(kind: Kind) -> str:
    return f"{'an' if kind.called[0] in 'aeiou' else 'a'} {kind.called}"


def _write(kind: Kind, number: str = "") -> str:
    """What to write instead, with the person's own number where there is one."""
    if not number or re.fullmatch(_THOUSANDS, number):
        return f"write {kind.example}"
    return "write " + " or ".join(f'"{number} {unit}"' for unit in kind.write)


def _fault(text: str, kind: Kind) -> Refusal | None:
    for pattern, problem, first in _FAULTS:
        if re.search(pattern, text):
            return QuantityRefused(f"{shown(text)} is not {_a(kind)}: {problem}", first + _write(kind))
    return None


def _two_readings(text: str, number: str, word: str, kind: Kind) -> Refusal | None:
    """The refusal for a word of the trade that means two things, if both are units of this kind."""
    first, slash, rest = word.lower().partition("/")
    if first not in TWO_READINGS:
        return None
    one, other, *write = TWO_READINGS[first]
    units = [f"{unit}{slash}{rest}" for unit in write]
    if not all(_unit_name(unit, kind) for unit in units):
        return None
    remedy = "write " + " or ".join(f'"{number} {unit}"' for unit in units)
    return TwoReadings(f"{shown(text)} could mean {one}, or {other}", remedy)


def _other_unit(text: str, word: str, number: str, kind: Kind) -> Refusal | None:
    """The refusal for a unit that is a unit, but of another kind, a gauge, or in the wrong capitals."""
    if word.lower() in GAUGES and kind is LENGTH:
        return QuantityRefused(f"{shown(text)} is a wire gauge and {_a(kind)} is wanted", _write(kind))
    for other in (LENGTH, *KINDS.values()):
        if _unit_name(word, other) and other.spellings is not kind.spellings:
            problem = f"{shown(word)} is a unit of {other.called}, and {_a(kind)} is wanted"
            return QuantityRefused(problem, _write(kind))
    small = _plain(word).lower()
    alike = [spelling for spelling in kind.spellings if spelling.lower() == small]
    if alike:
        return QuantityRefused(f"capitals matter in the unit {shown(word)}", f'write "{number} {alike[0]}"')
    return None


# --- guarding ----------------------------------------------------------------------------------------------


def finite(value: float, name: str) -> float:
    """The value itself; refused when it is nan or infinite."""
    if not isfinite(value):
        raise OutOfRange(f"{name} is {value}, not a finite number", "give a number such as 1.5")
    return value


def positive(value: float, name: str) -> float:
    """The value itself; refused when it is not finite, zero, or below zero."""
    if finite(value, name) <= 0:
        raise OutOfRange(f"{name} is {value:g}", "give a number above zero")
    return value
