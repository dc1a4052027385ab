"""Quantities in words: shown, and read back as they were; any text at all is answered or refused."""

from __future__ import annotations

import math
import subprocess
import sys
from fractions import Fraction

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from layouts import showing, unit_tables, units
from layouts.errors import OutOfRange, Refusal
from layouts.showing import inch_fraction, show_length, show_mm, show_number
from layouts.units import (
    finite,
    parse_length,
    parse_length_range,
    parse_quantity,
    positive,
)

# --- showing ---


@pytest.mark.parametrize(
    ("mm", "words"),
    [
        (9.5, "9.500 mm (0.3740 in, 3/8 in - 0.025 mm)"),
        (9.525, "9.525 mm (0.3750 in, 3/8 in)"),
        (25.4, "25.400 mm (1.0000 in, 1 in)"),
        (38.0, "38.000 mm (1.4961 in, 1 1/2 in - 0.100 mm)"),
        (5.0, "5.000 mm (0.1969 in, 13/64 in - 0.159 mm)"),
        (8.0, "8.000 mm (0.3150 in, 5/16 in + 0.062 mm)"),
        (0.198, "0.198 mm (0.0078 in)"),
        (0.0, "0.000 mm (0.0000 in)"),
    ],
)
def test_a_length_is_shown_in_millimetres_then_inches_then_sixty_fourths(mm: float, words: str) -> None:
    assert words == show_length(mm)


@pytest.mark.parametrize(
    ("mm", "denominator", "words", "residue"),
    [
        (38.1, 64, "1 1/2 in", 0.0),
        (0.1, 64, "0 in", 0.1),
        (12.7, 1, "1 in", -12.7),
        (10.0, 16, "3/8 in", 0.475),
    ],
)
def test_the_nearest_fraction_tells_how_far_off_it_is(mm: float, denominator: int, words: str, residue: float) -> None:
    found, off = inch_fraction(mm, denominator)
    assert (words, residue) == (found, pytest.approx(off, abs=1e-12))


def test_the_nearest_fraction_needs_a_denominator() -> None:
    with pytest.raises(OutOfRange, match="cut into 0 parts; give a denominator of 1 or more"):
        inch_fraction(5.0, 0)


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_what_is_not_finite_is_refused_by_name(bad: float) -> None:
    with pytest.raises(OutOfRange, match=r"kerf is .*not a finite number"):
        finite(bad, "kerf")
    with pytest.raises(OutOfRange, match=r"kerf is .*not a finite number"):
        positive(bad, "kerf")
    with pytest.raises(OutOfRange, match="not a finite number"):
        show_length(bad)


@pytest.mark.parametrize("bad", [0.0, -0.0, -1.0])
def test_what_is_not_positive_is_refused_by_name(bad: float) -> None:
    with pytest.raises(OutOfRange, match=r"kerf is -?\d; give a number above zero"):
        positive(bad, "kerf")


@pytest.mark.parametrize("bad", [-1.0, 1e300])
def test_a_length_below_zero_or_beyond_reason_is_not_shown(bad: float) -> None:
    with pytest.raises(OutOfRange, match=r"a length to show is .* mm; give zero or more"):
        show_length(bad)


def test_good_numbers_pass_the_guards_unchanged() -> None:
    assert finite(-2.5, "offset") == -2.5
    assert positive(2.5, "kerf") == 2.5


@pytest.mark.parametrize(
    ("value", "most", "least", "words"),
    [
        (8.8333, 2, 0, "8.83"),
        (120.0, 2, 0, "120"),
        (100.0, 0, 0, "100"),
        (5.0, 2, 1, "5.0"),
        (7.94, 2, 1, "7.94"),
        (0.973, 4, 3, "0.973"),
        (0.9676, 4, 3, "0.9676"),
        (-0.25, 2, 0, "-0.25"),
        (-0.001, 2, 0, "0"),
    ],
)
def test_a_number_is_shown_without_trailing_zeros(value: float, most: int, least: int, words: str) -> None:
    assert words == show_number(value, most, least)
    assert f"{words} mm" == show_mm(value, most, least)


# --- properties ---

LENGTHS = st.integers(1, 10**9)


@given(LENGTHS, st.sampled_from([1, 2, 4, 8, 16, 32, 64, 100]))
@settings(max_examples=200, deadline=None)
def test_a_fraction_in_words_reads_back_as_the_value_less_its_residue(micrometres: int, parts: int) -> None:
    mm = micrometres / 1000
    words, residue = inch_fraction(mm, parts)
    assert abs(residue) <= 25.4 / parts / 2 + 1e-9
    back = 0.0 if words == "0 in" else parse_length(words)
    assert mm == pytest.approx(back + residue, rel=1e-12)


@given(LENGTHS)
@settings(max_examples=200, deadline=None)
def test_shown_millimetres_read_back_exactly(micrometres: int) -> None:
    shown_mm = show_length(micrometres / 1000).partition(" (")[0]
    assert micrometres / 1000 == parse_length(shown_mm)


@given(st.integers(1, 9999), st.integers(1, 9999), st.sampled_from(sorted(unit_tables.LENGTH_NAMES)))
@settings(max_examples=300, deadline=None)
def test_a_fraction_is_the_float_nearest_to_the_exact_length(over: int, under: int, unit: str) -> None:
    exact = Fraction(over, under) * Fraction(unit_tables.NANOMETRES[unit_tables.LENGTH_NAMES[unit]], 10**6)
    assume(units.SMALLEST <= exact <= units.LARGEST)
    assert float(exact) == parse_length(f"{over}/{under} {unit}")


@given(st.decimals("0.001", "9999", places=3))
@settings(max_examples=200, deadline=None)
def test_a_comma_means_what_a_point_means_where_it_can_mean_nothing_else(number: object) -> None:
    point = f"{number}0 mm"  # four decimals: no group of thousands
    assert parse_length(point) == parse_length(point.replace(".", ","))


PIECES = [
    "mm",
    "in",
    '"',
    "′",
    "1",
    "1/2",
    "½",
    " ",
    ".",
    ",",
    "..",
    " by ",
    "-",
    "e9",
    "nan",
    "**",
    "/",
    "lb",
]
PIECES += [
    "g",
    "/in^3",
    "MPa",
    "ksi",
    "oz",
    "0",
    "9999999999",
    "AWG",
    "(",
    "\x00",
    "٣",
    "Ⅷ",
    "²",
    "°",
    "mil",
    "gr",
]
TEXTS = st.one_of(st.text(max_size=70), st.lists(st.sampled_from(PIECES), max_size=8).map("".join))
READERS = [parse_length, parse_length_range]
READERS += [lambda text, kind=kind: parse_quantity(text, kind) for kind in unit_tables.KINDS]


def answer_or_refusal(text: str) -> list[float] | str:
    """What the readers give, all together, or the last refusal; anything else that is raised comes through."""
    answers: list[float] = []
    for read in READERS:
        try:
            found = read(text)
        except Refusal as refusal:
            line = str(refusal)
        else:
            answers += found if isinstance(found, tuple) else [found]
    return answers or line


@given(st.lists(TEXTS, min_size=100, max_size=100))
@example(["9**9**9", "9" * 64, "1/" * 32, "1 " * 32, "1,1." * 16, "½" * 64, "-" * 64, "\ud800" * 64, "^2" * 32])
@settings(max_examples=100, deadline=None)  # 100 lists of 100 texts
def test_any_text_at_all_gets_a_finite_positive_answer_or_a_refusal_in_one_line(texts: list[str]) -> None:
    for text in texts:
        found = answer_or_refusal(text)
        if isinstance(found, str):
            assert found.isprintable()
        else:
            assert all(math.isfinite(value) and value > 0 for value in found)


# --- the house ---


def test_lengths_are_read_and_shown_without_pint_or_fractions() -> None:
    script = (
        "import sys, layouts.units as u, layouts.showing as s; s.show_length(u.parse_length('5/16 in'));"
        "print(sorted({'pint', 'fractions', 'decimal'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_a_quantity_that_is_refused_does_not_load_pint() -> None:
    script = (
        "import sys, layouts.units as u\n"
        "try: u.parse_quantity('9**9**9 MPa', 'stress')\n"
        "except ValueError: print('pint' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"


def test_the_examples_in_the_docstrings_are_true() -> None:
    import doctest

    outcomes = [doctest.testmod(module) for module in (units, showing)]
    assert [(outcome.failed, outcome.attempted) for outcome in outcomes] == [(0, 5), (0, 4)]
