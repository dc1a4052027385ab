"""Readers of the values that stand in a TOML file: text, numbers, choices, lists; each refuses what it cannot use."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any, TypeVar

from layouts.dates import parse_date
from layouts.errors import OutOfRange, QuantityRefused, UnknownName, shown

Value = TypeVar("Value")

_LONGEST = 40  # characters of a value that is shown again


class Miswritten(QuantityRefused):
    """A value that stands otherwise in a file. `boxed`: what would be right in a box, where nothing is in quotes."""

    def __init__(self, problem: str, remedy: str, boxed: str) -> None:
        self.boxed = boxed
        super().__init__(problem, remedy)


def words(most: int = 60) -> Callable[[Any], str]:
    """A reader of printable text on one line."""

    def read(value: Any) -> str:
        text = text_in(value)
        if not text.strip() or len(text) > most or not text.isprintable():
            raise QuantityRefused(f"{shown(text)} cannot stand on a sheet", f"write 1 to {most} printable characters")
        return text.strip()

    return read


def text_in(value: Any) -> str:
    """The text of a value that must be one."""
    if not isinstance(value, str):
        right = f'write it in quotes: "{value}"' if _is_number(value) else "write words in quotes"
        raise QuantityRefused(f"{_written(value)} is not in quotes", right)
    return value


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and len(str(value)) < _LONGEST


def in_text(read: Callable[[str], Value]) -> Callable[[Any], Value]:
    """A reader for a value in quotes, by the parser of its words."""

    def read_text(value: Any) -> Value:
        if _is_number(value):
            read(str(value))  # refuses it in its own words: 5 lacks a unit, 18 could be two gauges
        return read(text_in(value))

    return read_text


def whole(least: int, most: int) -> Callable[[Any], int]:
    """A reader of whole numbers from least to most."""

    def read(value: Any) -> int:
        if not isinstance(value, int) or isinstance(value, bool):
            boxed = right = f"write one from {least} to {most}"
            if found := re.match(r" *(\d{1,9})(?![\d.,/])", value if isinstance(value, str) else "", re.ASCII):
                right = f"write the number alone and without quotes: {int(found[1])}"
            raise Miswritten(f"{_written(value)} is not a whole number", right, boxed)
        if not least <= value <= most:
            raise OutOfRange(f"{_written(value)} is out of range", f"write a whole number from {least} to {most}")
        return value

    return read


def number(least: float, most: float) -> Callable[[Any], float]:
    """A reader of numbers from least to most."""

    def read(value: Any) -> float:
        if not isinstance(value, int | float) or isinstance(value, bool):
            found = re.match(r" *(\d{1,6}(?:[.,]\d{1,6})?)(?!\d)", value if isinstance(value, str) else "", re.ASCII)
            right = f": {found[1].replace(',', '.')}" if found else ", such as 3.5"
            boxed = f"write one from {least:g} to {most:g}"
            raise Miswritten(f"{_written(value)} is not a number", f"write one without quotes{right}", boxed)
        if not least <= value <= most:
            raise OutOfRange(f"{_written(value)} is out of range", f"write a number from {least:g} to {most:g}")
        return float(value)

    return read


def one_of(*names: str) -> Callable[[Any], str]:
    """A reader of one name out of a few."""

    def read(value: Any) -> str:
        if text_in(value) not in names:
            raise UnknownName("choice", value, names)
        return str(value)

    return read


def yes_or_no(value: Any) -> bool:
    """A reader of true and false."""
    if not isinstance(value, bool):
        raise QuantityRefused(f"{_written(value)} is neither yes nor no", "write true or false")
    return value


def percent(most: float) -> Callable[[Any], float]:
    """A reader of parts such as "15 %", up to a percentage; 0.15 comes out."""

    def read(value: Any) -> float:
        text = value.strip() if isinstance(value, str) else ""
        match = re.fullmatch(r"([0-9]{1,4}(?:\.[0-9]{1,4})?) ?%", text, re.ASCII)
        if not match or float(match[1]) > most:
            boxed, right = f"write one from 0 % to {most:g} %", f'one from "0 %" to "{most:g} %"'
            if _is_number(value) and 0 <= value <= most:
                right = f'"{100 * value if 0 < value < 1 else value:g} %"'
            raise Miswritten(f"{_written(value)} is not a percentage", f"write {right}, in quotes", boxed)
        return float(match[1]) / 100

    return read


def day_in(value: Any) -> str:
    """A day, with or without quotes: TOML has dates of its own."""
    from datetime import date

    words = str(value) if isinstance(value, date) else text_in(value)
    return words and str(parse_date(words))


def list_of(read: Callable[[Any], Value], most: int) -> Callable[[Any], tuple[Value, ...]]:
    """A reader of a list in square brackets."""

    def read_list(value: Any) -> tuple[Value, ...]:
        if not isinstance(value, list) or not 1 <= len(value) <= most:
            right = (
                f'write it in square brackets: ["{value}"]' if isinstance(value, str) and len(value) < _LONGEST else ""
            )
            raise QuantityRefused(f"{_written(value)} is not a list", right or f"write 1 to {most} in square brackets")
        return tuple(read(each) for each in value)

    return read_list


def _written(value: Any) -> str:
    """A value as it may be shown, whatever it is."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, int):
        return str(value) if abs(value) < 10**18 else "a number of many digits"
    if isinstance(value, dict | list):
        return "a table" if isinstance(value, dict) else f"a list of {len(value)}"
    return shown(value) if isinstance(value, str) else shown(str(value)).strip("'")
