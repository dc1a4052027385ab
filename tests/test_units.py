"""The door for quantities: what is read, what is refused and with which words, and what is shown."""

from __future__ import annotations

import math
import re
import unicodedata
from fractions import Fraction

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from layouts import unit_tables, units
from layouts.errors import OutOfRange, QuantityRefused, Refusal, UnknownName
from layouts.units import (
    parse_length,
    parse_length_range,
    parse_quantity,
)

# Source of the expected figures below: worked by hand from 1 in = 25.4 mm (exact by definition).
READ_AS_LENGTH = [
    ("5mm", 5.0),
    ("5 mm", 5.0),
    ("  5   mm ", 5.0),
    ("007 mm", 7.0),
    ("5 MM", 5.0),
    ("5 millimetres", 5.0),
    ("1 Millimeter", 1.0),
    ("5,5 mm", 5.5),
    ("0,125 mm", 0.125),
    ("1234,567 mm", 1234.567),
    (".5 mm", 0.5),
    ("0.5 cm", 5.0),
    ("2 CM", 20.0),
    ("1 m", 1000.0),
    ("250 µm", 0.25),
    ("250 μm", 0.25),
    ("250 um", 0.25),
    ("80 microns", 0.08),
    ("5/16 in", 7.9375),
    ("5⁄16 in", 7.9375),
    ('5/16"', 7.9375),
    ("5/16″", 7.9375),
    ("5/16 ”", 7.9375),
    ("5/16''", 7.9375),
    ("1 1/2 in", 38.1),
    ("1  1/2 in", 38.1),
    ("1-1/2in", 38.1),
    ("1-1/2 inches", 38.1),
    ("3/2 in", 38.1),
    ("½ in", 12.7),
    ("1½ in", 38.1),
    ("1 ½ in", 38.1),
    ("⅝ in.", 15.875),
    ("0.2 inch", 5.08),
    ("2 Inches", 50.8),
    ("12 thou", 0.3048),
    ("1 ft", 304.8),
    ("2 feet", 609.6),
    ("2'", 609.6),
    ("2′", 609.6),
    ("1 yard", 914.4),
]
REFUSED_AS_LENGTH = [
    ("5", 'a length needs a unit; write "5 mm" or "5 in"'),
    ("18", 'a length needs a unit; write "18 mm" or "18 in"'),
    ("5/16", 'write "5/16 mm" or "5/16 in"'),
    ("½", 'write "½ mm" or "½ in"'),
    ("1,234", "a length needs a unit"),
    ("1,234 mm", '\'1,234 mm\' could be 1.234 or 1234; write "1.234 mm" or "1234 mm"'),
    ("12,345 in", 'write "12.345 in" or "12345 in"'),
    ("1,234,567 mm", "two separators; mark decimals with one point"),
    ("1,234.5 mm", "two separators"),
    ("1.234,5 mm", "two separators"),
    ("1 234 mm", "not one plain number"),
    ("1_000 mm", "not one plain number"),
    ("1/2/3 in", "not one plain number"),
    ("1/2½ in", "not one plain number"),
    ("1.5/2 in", "not one plain number"),
    ("1.5½ in", "not one plain number"),
    ("5. mm", "needs a digit on both sides"),
    (",5 mm", "needs a digit on both sides"),
    ("1 5/4 in", "a fraction that is not below one"),
    ("1/0 in", "divides by zero"),
    ("1 1/0 in", "divides by zero"),
    ("0 mm", "more than zero"),
    ("0/4 in", "more than zero"),
    ("-5 mm", "below zero"),
    ("−5 mm", "below zero"),
    ("-½ in", "below zero"),
    ("+5 mm", "leave out the plus"),
    ("nan", "not a finite number"),
    ("nan mm", "not a finite number"),
    ("-inf mm", "not a finite number"),
    ("infinity mm", "not a finite number"),
    ("1e400", "give the number in full"),
    ("1e400 mm", "give the number in full"),
    ("5E-3 m", "give the number in full"),
    ("9**9**9", "work it out first"),
    ("9**9**9 mm", "work it out first"),
    ("9^9 mm", "work it out first"),
    ("2*3 mm", "work it out first"),
    ("(5 mm)", "work it out first"),
    ("1 - 1/2 in", "work it out first"),
    ("5 mm; 3", "work it out first"),
    ("5-mm", "work it out first"),
    ("5 +- 0.1 mm", "give the middle value alone"),
    ("5 ± 0.1 mm", "give the middle value alone"),
    ("5 mm 3 in", "mixes two units"),
    ("5' 3\"", "mixes two units"),
    ("5 ft 3", "mixes two units"),
    ("3 mm..8 mm", "a range and one value is wanted"),
    ("5 lb", "'lb' is a unit of mass, and a length is wanted; write \"5 mm\""),
    ("5 g", "'g' is a unit of mass"),
    ("5 MPa", "'MPa' is a unit of stress"),
    ("5 deg", "'deg' is a unit of angle"),
    ("5 g/cm3", "'g/cm3' is a unit of density"),
    ("16 AWG", "is a wire gauge and a length is wanted"),
    ("18 ga", "is a wire gauge and a length is wanted"),
    ("12 mil", 'a thousandth of an inch, or a millimetre; write "12 thou" or "12 mm"'),
    ("5 M", "capitals matter in the unit 'M'; write \"5 m\""),
    ("5 Mm", "capitals matter in the unit 'Mm'; write \"5 mm\""),
    ("5 mM", "capitals matter"),
    ("5 parsec", "'parsec' is not a unit of length known here; write \"5 mm\""),
    ("5 mm mm", "not a unit of length"),
    ("5 mm2", "not a unit of length"),
    ("mm", "does not begin with a number"),
    ("five mm", "does not begin with a number"),
    ("٥ mm", "does not begin with a number in the digits 0 to 9"),
    ("５ mm", "does not begin with a number in the digits 0 to 9"),
    ("__import__('os')", "is not a length"),
    ("", "nothing is written"),
    ("   ", "nothing is written"),
    ("5\tmm", "cannot be seen (U+0009)"),
    ("5 mm\n", "cannot be seen (U+000A)"),
    ("5\xa0mm", "cannot be seen (U+00A0)"),
    ("5 mm\x00", "cannot be seen (U+0000)"),
    ("5 \ud800mm", "cannot be seen (U+D800)"),
    ("\x1b[31m5 mm", "cannot be seen (U+001B)"),
    ("5 mm" + " " * 61, "a length of 65 characters is not read; write at most 64"),
    ("9" * 60 + " m", "more than any length here"),
    ("0." + "0" * 40 + "1 mm", "less than any length here"),
]


@pytest.mark.parametrize(("text", "mm"), READ_AS_LENGTH)
def test_a_length_is_read_in_millimetres(text: str, mm: float) -> None:
    assert mm == parse_length(text)


@pytest.mark.parametrize(("text", "words"), REFUSED_AS_LENGTH)
def test_a_doubtful_length_is_refused_with_what_to_write(text: str, words: str) -> None:
    with pytest.raises(Refusal, match=re.escape(words)):
        parse_length(text)


@pytest.mark.parametrize("text", [text for text, _ in REFUSED_AS_LENGTH])
def test_a_refusal_is_one_printable_line_with_a_remedy(text: str) -> None:
    with pytest.raises((QuantityRefused, OutOfRange)) as caught:
        parse_length(text)
    assert str(caught.value).isprintable()
    assert caught.value.remedy


@pytest.mark.parametrize("text", ["5 mm", "3/16 in", "12 thou", "8.53 g/cm3", "450 MPa", "20 g", "45 deg"])
def test_an_example_that_a_refusal_proposes_is_itself_read(text: str) -> None:
    kinds = (*unit_tables.KINDS.values(), unit_tables.LENGTH)
    [example_of, *_] = [kind for kind in kinds if f'"{text}"' in kind.example]
    for proposed in re.findall('"([^"]*)"', example_of.example):
        read = parse_length if example_of is unit_tables.LENGTH else lambda t: parse_quantity(t, example_of.called)
        assert read(proposed) > 0


def test_sixty_four_characters_are_still_read() -> None:
    assert parse_length("5 mm".rjust(64)) == 5.0


# --- other kinds ---

QUANTITIES = [
    # Worked by hand from 1 lb = 453.59237 g, 1 in = 2.54 cm, 1 lbf = 4.4482216152605 N (exact by definition).
    ("density", "8.53 g/cm3", 8.53),
    ("density", "8.53 g/cm^3", 8.53),
    ("density", "8.53 g/cm³", 8.53),
    ("density", "8.53 g/cc", 8.53),
    ("density", "8530 kg/m3", 8.53),
    ("density", "8.53 Mg/m3", 8.53),
    ("density", "0.32 lb/in^3", 0.32 * 453.59237 / 2.54**3),
    ("density", "0.32 lb / in3", 0.32 * 453.59237 / 2.54**3),
    ("density", "5,46 ozt/in3", 5.46 * 31.1034768 / 2.54**3),
    ("modulus", "110 GPa", 110.0),
    ("modulus", "110000 MPa", 110.0),
    ("modulus", "16 Msi", 16 * 4.4482216152605 / 645.16 * 1000),
    ("stress", "450 MPa", 450.0),
    ("stress", "450 N/mm2", 450.0),
    ("stress", "0.45 GPa", 450.0),
    ("stress", "35 ksi", 35e3 * 4.4482216152605 / 645.16),
    ("stress", "35000 PSI", 35e3 * 4.4482216152605 / 645.16),
    ("stress", "45 kgf/mm2", 45 * 9.80665),
    ("mass", "20 g", 20.0),
    ("mass", "0.2 kg", 200.0),
    ("mass", "500 mg", 0.5),
    ("mass", "2 ozt", 62.2069536),  # common practice, no source: a troy ounce is 31.1035 g
    ("mass", "2 oz t", 62.2069536),
    ("mass", "1 troy ounce", 31.1034768),
    ("mass", "20 dwt", 31.1034768),
    ("mass", "1 pennyweight", 1.55517384),
    ("mass", "1 oz av", 28.349523125),
    ("mass", "1 lb", 453.59237),
    ("angle", "45 deg", 45.0),
    ("angle", "45°", 45.0),
    ("angle", "22½ degrees", 22.5),
    ("angle", "1 rad", math.degrees(1)),
]
REFUSED_AS_QUANTITY = [
    ("density", "8.53", 'a density needs a unit; write "8.53 g/cm3"'),
    ("density", "8,530 kg/m3", 'write "8.530 kg/m3" or "8530 kg/m3"'),
    ("density", "5 oz/in^3", 'write "5 ozt/in^3" or "5 oz av/in^3"'),
    ("density", "8.5 G/CM3", "capitals matter in the unit 'G/CM3'; write \"8.5 g/cm3\""),
    ("density", "0.3 LB/IN^3", "capitals matter in the unit 'LB/IN^3'; write \"0.3 lb/in3\""),
    ("density", "5 mm", "'mm' is a unit of length, and a density is wanted"),
    ("density", "1 g cm-3", "not a unit of density"),
    ("modulus", "16 msi", 'write "16 Msi"'),
    ("stress", "450 mPa", "capitals matter in the unit 'mPa'; write \"450 MPa\""),
    ("stress", "450 MPa or so", "not a unit of stress"),
    ("stress", "450 MPa; 3", "work it out first"),
    ("stress", "9**9**9 MPa", "work it out first"),
    ("stress", "nan MPa", "not a finite number"),
    ("stress", "1e400 MPa", "give the number in full"),
    ("stress", "35 lb", "'lb' is a unit of mass, and a stress is wanted"),
    ("mass", "2 oz", 'a troy ounce, 31.103 g, or an avoirdupois ounce, 28.350 g; write "2 ozt"'),
    ("mass", "2 gr", 'a grain, or a gram; write "2 grain" or "2 g"'),
    ("mass", "2 G", "capitals matter"),
    ("mass", "2 Mg", "capitals matter"),
    ("mass", "18 ga", "not a unit of mass"),
    ("mass", "-1 g", "'-1 g' is not a mass: it is below zero"),
    ("angle", "0 deg", "an angle must be more than zero"),
    ("angle", "45' deg", "not a unit of angle"),
    ("mass", "9" * 60 + " g", "more than any mass here"),
    ("mass", "5 g" + " " * 62, "a mass of 65 characters is not read"),
]


@pytest.mark.parametrize(("kind", "text", "expected"), QUANTITIES)
def test_a_quantity_is_read_in_the_unit_of_its_kind(kind: str, text: str, expected: float) -> None:
    assert parse_quantity(text, kind) == pytest.approx(expected, rel=1e-14)


@pytest.mark.parametrize(("kind", "text", "words"), REFUSED_AS_QUANTITY)
def test_a_doubtful_quantity_is_refused_with_what_to_write(kind: str, text: str, words: str) -> None:
    with pytest.raises(Refusal, match=re.escape(words)):
        parse_quantity(text, kind)


def test_metric_quantities_come_back_to_the_last_digit() -> None:
    assert parse_quantity("8530 kg/m3", "density") == 8.53
    assert parse_quantity("450 N/mm2", "modulus") == 0.45
    assert parse_quantity("450 N/mm2", "stress") == 450.0


def test_an_unknown_kind_of_quantity_names_the_known_ones() -> None:
    with pytest.raises(UnknownName, match=r"no kind of quantity is called 'weight'; known: .*mass"):
        parse_quantity("5 g", "weight")


# --- outside check: pint's own tables ---

PINT = pint.UnitRegistry()
PINT_NAMES = {
    "mega_psi": "1e6 * psi",
    "kgf_mm2": "kilogram_force / millimetre ** 2",
    "ounce": "avoirdupois_ounce",
    "pound": "avoirdupois_pound",
}


def by_pint(name: str, unit: str) -> float:
    """The factor from a unit to the kind's own, by pint's full registry (its tables, not ours)."""
    words = re.sub(r"\w+", lambda m: f"({PINT_NAMES.get(m[0], m[0])})", name.replace("**", "^"))
    words = re.sub(r"\^\((\d)\)", r"**\1", words)
    return float(PINT.Quantity(words).to(unit).magnitude)


@pytest.mark.parametrize("name", unit_tables.NANOMETRES)
def test_every_length_factor_agrees_with_pint(name: str) -> None:
    assert unit_tables.NANOMETRES[name] / 1e6 == pytest.approx(by_pint(name, "millimetre"), rel=1e-14)


@pytest.mark.parametrize("kind", unit_tables.KINDS)
def test_every_other_factor_agrees_with_pint(kind: str) -> None:
    wanted = unit_tables.KINDS[kind]
    for name in sorted(set(wanted.spellings.values())):
        ours = units._registry().convert(Fraction(1), name, wanted.pint_unit)
        assert float(ours) == pytest.approx(by_pint(name, wanted.pint_unit), rel=1e-13), name


def test_the_comparison_with_pint_can_fail() -> None:
    assert by_pint("ounce", "gram") != pytest.approx(by_pint("troy_ounce", "gram"), rel=1e-2)


@pytest.mark.parametrize("name", ["micrometre", "millimetre", "centimetre", "metre", "inch", "foot", "yard"])
def test_a_length_word_means_to_pint_what_it_means_here(name: str) -> None:
    for word in (w for w, n in unit_tables.LENGTH_NAMES.items() if n == name and w.isalpha()):
        same = word.lower() if word == "MM" else word
        assert parse_length(f"1 {word}") == pytest.approx(by_pint(same, "millimetre"), rel=1e-14), word


def test_each_vulgar_fraction_has_the_value_unicode_gives_it() -> None:
    for sign, (over, under) in units._VULGAR.items():
        assert over / under == pytest.approx(unicodedata.numeric(sign), rel=1e-7)
        assert re.fullmatch(units._NUMBER, sign, re.VERBOSE)


def test_every_spelling_is_read() -> None:
    for kind in (unit_tables.LENGTH, *unit_tables.KINDS.values()):
        for spelling, name in kind.spellings.items():
            assert units._split(f"7{spelling}", kind) == (7, 1, name)
            assert units._split(f"7 {spelling}", kind) == (7, 1, name)


# --- ranges ---

RANGES = [
    ("5 mm", (5.0,)),
    ("3 mm..5 mm by 0.5 mm", (3.0, 3.5, 4.0, 4.5, 5.0)),
    ("3mm..5mm by 1mm", (3.0, 4.0, 5.0)),
    (" 3 mm .. 5 mm  by  1 mm ", (3.0, 4.0, 5.0)),
    ("0.1 mm..0.7 mm by 0.1 mm", (0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7)),
    ("1/4 in..1/2 in by 1/16 in", (6.35, 7.9375, 9.525, 11.1125, 12.7)),
    ("3 mm..0.5 cm by 1000 um", (3.0, 4.0, 5.0)),
    ("3 mm..3 mm by 1 mm", (3.0,)),
]
REFUSED_RANGES = [
    ("3 mm..8 mm", "has no step; write it as"),
    ("3 mm - 8 mm by 1 mm", "work it out first"),
    ("3..8 mm by 0.5 mm", 'a length needs a unit; write "3 mm"'),
    ("3 mm..8 mm by 0.5", 'a length needs a unit; write "0.5 mm"'),
    ("3 mm...8 mm by 0.5 mm", "not two lengths with two dots between"),
    ("3 mm..8 mm..9 mm by 1 mm", "not two lengths with two dots between"),
    ("3 mm by 1 mm..5 mm", "not two lengths with two dots between"),
    ("3 mm…8 mm by 1 mm", "a range and one value is wanted"),
    ("8 mm..3 mm by 1 mm", "runs downwards; write the smaller length first"),
    ("3 mm..8 mm by 0 mm", "has a step of zero; give a step of more than zero"),
    ("3 mm..8 mm by 0", "has a step of zero; give a step of more than zero"),
    ("3 mm..8 mm by -1 mm", "below zero"),
    ("3 mm..8 mm by 0.7 mm", "do not land on its end; end it at 7.9 mm or 8.6 mm"),
    ("1 mm..501 mm by 1 mm", "names 501 lengths; at most 500"),
    ("1 mm..10 km by 1 um", "not a unit of length"),
    ("1 mm..9999 m by 0.000001 mm", "at most 500"),
    ("..", "has no step"),
    ("3 mm.. by 1 mm", "nothing is written"),
    ("3 mm..8 mm by 1 mm" + " " * 60, "is not read"),
]


@pytest.mark.parametrize(("text", "expected"), RANGES)
def test_a_range_names_both_ends_and_every_step(text: str, expected: tuple[float, ...]) -> None:
    assert expected == parse_length_range(text)


@pytest.mark.parametrize(("text", "words"), REFUSED_RANGES)
def test_a_doubtful_range_is_refused_with_what_to_write(text: str, words: str) -> None:
    with pytest.raises(Refusal, match=re.escape(words)):
        parse_length_range(text)


def test_a_range_may_name_five_hundred_lengths() -> None:
    assert len(parse_length_range("1 mm..500 mm by 1 mm")) == 500


@given(st.integers(1, 10**5), st.integers(1, 10**4), st.integers(0, 499))
@settings(max_examples=100, deadline=None)
def test_no_length_of_a_range_drifts(first: int, step: int, steps: int) -> None:
    last = first + step * steps
    text = f"{first} um..{last} um by {step} um"
    assert tuple((first + i * step) / 1000 for i in range(steps + 1)) == parse_length_range(text)
