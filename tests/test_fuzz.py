"""Ten thousand random strings through everything that reads words: an answer or a refusal in one line, nothing else."""

from __future__ import annotations

import random
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from jigs.orders.price import parse_price
from jigs.orders.reading import order_of
from jigs.orders.weave import find_weave
from jigs.stock.blade import find_blade
from jigs.stock.metal import find_metal
from jigs.stock.rod import parse_rod
from jigs.stock.wire import parse_wire
from layouts.dates import parse_date
from layouts.errors import Refusal
from layouts.pages.paper import find_paper
from layouts.printing.budget import find_instrument
from layouts.printing.causes import settings_behind
from layouts.printing.printer import parse_reading
from layouts.render import formats_in
from layouts.units import parse_length, parse_length_range, parse_quantity

STRINGS = 10_000
WORDS = [
    *"0123456789",
    *" .,/-+*'\"½″()[]{}=#;:\\",
    "mm",
    "in",
    "AWG",
    "SWG",
    "g",
    "MPa",
    "ksi",
    "EUR per m",
    "1/2",
    "..",
    " by ",
]
WORDS += [
    "nan",
    "inf",
    "1e400",
    "9**9",
    "copper",
    "2/0",
    "a4",
    "2026-11-25",
    "99.5 %",
    " of ",
    "[[ring]]\n",
    "wire = ",
    "\n",
    "\0",
    "\u202e",
    "é",
    "漢",
]


@cache
def strings(count: int, seed: int = 20) -> list[str]:
    drawn = random.Random(seed)
    return ["".join(drawn.choice(WORDS) for _ in range(drawn.randint(0, 24))) for _ in range(count)]


def _ratio_of(text: str) -> object:
    return settings_behind(parse_length(text), parse_length(text))


READERS: dict[str, Callable[[str], Any]] = {
    "length": parse_length,
    "range": parse_length_range,
    "density": lambda text: parse_quantity(text, "density"),
    "modulus": lambda text: parse_quantity(text, "modulus"),
    "stress": lambda text: parse_quantity(text, "stress"),
    "mass": lambda text: parse_quantity(text, "mass"),
    "angle": lambda text: parse_quantity(text, "angle"),
    "wire": parse_wire,
    "rod": parse_rod,
    "metal": find_metal,
    "blade": find_blade,
    "weave": find_weave,
    "price": parse_price,
    "paper": find_paper,
    "formats": formats_in,
    "date": parse_date,
    "instrument": find_instrument,
    "reading by rule": lambda text: parse_reading(text, 150.0, "rule"),
    "reading by card": lambda text: parse_reading(text, 150.0, "card"),
    "ratio": _ratio_of,
}


def faults_of(read: Callable[[str], Any], texts: list[str]) -> list[tuple[str, str]]:
    """The texts that were neither read nor refused in one line."""
    faults = []
    for text in texts:
        try:
            read(text)
        except Refusal as refusal:
            if "\n" in str(refusal) or not str(refusal):
                faults.append((text, str(refusal)))
        except Exception as error:  # noqa: BLE001 - whatever it is, it is what this test looks for
            faults.append((text, repr(error)))
    return faults


@pytest.mark.parametrize("name", READERS)
def test_random_strings_are_read_or_refused_in_one_line(name: str) -> None:
    assert faults_of(READERS[name], strings(STRINGS)) == []


def test_random_orders_are_read_or_refused() -> None:
    """An order is a file: its faults are a line each."""
    faults = faults_of(order_of, strings(2_000))
    assert [
        fault for fault in faults if not all(line.startswith("order.toml:") for line in fault[1].splitlines())
    ] == []


def test_the_search_finds_what_is_neither() -> None:
    assert len(faults_of(int, ["5", "x"])) == 1


@pytest.mark.parametrize("kind", ["toml", "pictures", "commands", "kills"])
def test_a_short_slice_of_the_fuzz_script_finds_nothing(kind: str, tmp_path: Path) -> None:
    import fuzz

    _, run = fuzz.KINDS[kind]
    assert list(run(range(3 if kind == "kills" else 40), tmp_path)) == []


def test_the_fuzz_script_finds_what_is_neither_answer_nor_refusal() -> None:
    import fuzz

    assert list(fuzz.tried(lambda: int("x"), "x"))
    assert list(fuzz.tried(lambda: int("5"), "5")) == []
