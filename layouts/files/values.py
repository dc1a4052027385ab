"""Readers of the values that stand in a TOML file: text, numbers, choices, lists; each refuses what it cannot use."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any, TypeVar

from layouts.errors import OutOfRange, QuantityRefused, UnknownName, shown

Value = TypeVar("Value")


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
        raise QuantityRefused(f"{_written(value)} is not in quotes", 'write it in quotes, such as "5 mm"')
    return value


def in_text(read: Callable[[str], Value]) -> Callable[[Any], Value]:
    """A reader for a value in quotes, by the parser of its words."""
    return lambda value: read(text_in(value))


def whole(least: int, most: int) -> Callable[[Any], int]:
    """A reader of whole numbers from least to most."""

    def read(value: Any) -> int:
        if not isinstance(value, int) or isinstance(value, bool):
            raise QuantityRefused(f"{_written(value)} is not a whole number", f"write one from {least} to {most}")
        if not least <= value <= most:
            raise OutOfRange(f"{_written(value)} is out of range", f"write a whole number from {least} to {most}")
        return value

    return read


def number(least: float, most: float) -> Callable[[Any], float]:
    """A reader of numbers from least to most."""

    def read(value: Any) -> float:
        if not isinstance(value, int | float) or isinstance(value, bool):
            raise QuantityRefused(f"{_written(value)} is not a number", "write one without quotes, such as 3.5")
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
            raise QuantityRefused(
                f"{_written(value)} is not a percentage", f'write one from "0 %" to "{most:g} %", in quotes'
            )
        return float(match[1]) / 100

    return read


def list_of(read: Callable[[Any], Value], most: int) -> Callable[[Any], tuple[Value, ...]]:
    """A reader of a list in square brackets."""

    def read_list(value: Any) -> tuple[Value, ...]:
        if not isinstance(value, list) or not 1 <= len(value) <= most:
            raise QuantityRefused(f"{_written(value)} is not a list", f"write 1 to {most} in square brackets")
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
