"""Neutral tables: a heading, columns with their units, rows of values, notes. Figures stay numbers until printed.

A report is said once and printed in many ways: `as_text`, `as_json`, `as_csv` and `as_table` each take the same one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from enum import Enum
from math import isfinite
from typing import Any, TypeAlias, TypeVar

from layouts.errors import OutOfRange
from layouts.lengths import are_inches

Thing = TypeVar("Thing")


@dataclass(frozen=True, slots=True, kw_only=True)
class CellKind:
    """What a column holds, and with it how its numbers are printed: `places` None is as many as the number has.

    is_number: its cells stand flush right under one another.
    """

    name: str
    unit: str = ""
    places: int | None = None
    signed: bool = False
    is_number: bool = True


BESIDE = "in [mm]"
"""The unit of a column of lengths in inches: each has its millimetres in brackets beside."""

WORDS = CellKind(name="words", is_number=False)
FORMULA = CellKind(name="formula", is_number=False)  # words with signs that print has and no keyboard: x, -, pi
FRACTION = CellKind(name="fraction", is_number=False)  # of an inch, and what is left: words that belong in one line
COUNT = CellKind(name="count", places=0)
BOXES = CellKind(name="boxes", places=0)  # so many boxes to tick, where there is a pen
COUNTED = CellKind(name="counted", is_number=False)  # lengths, each so many times
NUMBER = CellKind(name="number")
RATIO, RATIO_FINE = CellKind(name="ratio", places=2), CellKind(name="ratio", places=3)
LENGTH, LENGTH_FINE = CellKind(name="length", unit="mm", places=3), CellKind(name="length", unit="mm", places=4)
LENGTH_COARSE = CellKind(name="length", unit="mm", places=2)  # to a hundredth
LENGTH_LONG = CellKind(name="length", unit="mm", places=1)  # to a tenth
LENGTH_WHOLE = CellKind(name="length", unit="mm", places=0)
CHANGE = CellKind(name="length", unit="mm", places=3, signed=True)
INCHES = CellKind(name="length", unit="inch", places=4)
INCHES_CHANGE = CellKind(name="length", unit="inch", places=4, signed=True)
MASS, MASS_FINE = CellKind(name="mass", unit="g", places=3), CellKind(name="mass", unit="g", places=4)
MASS_COARSE = CellKind(name="mass", unit="g", places=1)
DENSITY = CellKind(name="density", unit="g/cm3", places=2)
MODULUS = CellKind(name="modulus", unit="GPa", places=1)
STRESS = CellKind(name="stress", unit="MPa")
TURNS = CellKind(name="turns", places=1)
ANGLE = CellKind(name="angle", unit="deg", places=2)
PERCENT = CellKind(name="percent", unit="%", places=1)
PERCENT_CHANGE = CellKind(name="percent", unit="%", places=2, signed=True)
MONEY, PRICE = CellKind(name="money", places=2), CellKind(name="money", places=4)


@dataclass(frozen=True, slots=True)
class OfKind:
    """A number that brings its own kind, where the rows of one column are of several."""

    value: float
    kind: CellKind


@dataclass(frozen=True, slots=True)
class Band:
    """From `low` to `high`, numbers of the column's kind; without an upper end, `open_end` says so."""

    low: float
    high: float | None
    kind: CellKind
    open_end: str = ""


@dataclass(frozen=True, slots=True)
class Counted:
    """Lengths in mm, each so many times: (length, count). `key` names the length for scripts."""

    pairs: tuple[tuple[float, int], ...]
    key: str = "length_mm"


Cell: TypeAlias = "bool | int | float | str | tuple[Any, ...] | OfKind | Band | Counted | Report | None"
"""A value; None where a figure does not apply. A tuple, and a report, are for scripts alone."""


@dataclass(frozen=True, slots=True)
class Column:
    """A column. key: its name for scripts, with the unit. heading: for people; the unit is added to it."""

    key: str
    heading: str
    kind: CellKind = WORDS
    unit: str | None = None
    people: bool = True
    scripts: bool = True

    @property
    def shown_unit(self) -> str:
        """The unit of its numbers: its own, else that of its kind; inches have the millimetres beside."""
        unit = self.kind.unit if self.unit is None else self.unit
        return BESIDE if unit == "mm" and are_inches() else unit

    @property
    def title(self) -> str:
        """'wire, mm', or either of the two."""
        return ", ".join(part for part in (self.heading, self.shown_unit) if part)


class Form(Enum):
    """What a report is for scripts: a list of rows, one object (or none), or a list of objects."""

    TABLE = "table"
    RECORD = "record"
    GROUP = "group"


@dataclass(frozen=True, slots=True, kw_only=True)
class Report:
    """A table, or one thing with its figures (a record), or several of such things (a group).

    A record has one row, or no row where the thing is missing; its parts are what belongs to it. A group has parts
    alone. `scripts` and `people`: whom it is for; a heading may be all that people need of a record. The last row
    may be the sum of the others: JSON leaves it to its reader. at_most: rows that a terminal shows of a long table.
    """

    key: str
    heading: str = ""
    columns: tuple[Column, ...] = ()
    rows: tuple[tuple[Cell, ...], ...] = ()
    notes: tuple[str, ...] = ()
    parts: tuple[Report, ...] = ()
    form: Form = Form.TABLE
    last_is_sum: bool = False
    at_most: int | None = None
    people: bool = True
    scripts: bool = True

    def __post_init__(self) -> None:
        keys = [column.key for column in self.columns]
        if len(set(keys)) != len(keys):
            raise OutOfRange(f"two columns of one key in the report {self.key}", "give each a key of its own")
        if self.form is not Form.TABLE and len(self.rows) > 1:
            raise OutOfRange(f"{len(self.rows)} rows in the {self.form.value} {self.key}", "give one at most")
        for row in self.rows:
            if len(row) != len(keys):
                raise OutOfRange(f"a row of {len(row)} cells under {len(keys)} columns of {self.key}", "give one each")
            for key, cell in zip(keys, row, strict=True):
                if not all(isfinite(number) for number in numbers_in(cell)):
                    raise OutOfRange(f"{key} in {self.key} is {cell}", "give a finite number, or None")

    def pick(self, *keys: str) -> Report:
        """The same with these columns alone, in this order, all of them for people."""
        places = [[column.key for column in self.columns].index(key) for key in keys]
        return replace(
            self,
            columns=tuple(replace(self.columns[place], people=True) for place in places),
            rows=tuple(tuple(row[place] for place in places) for row in self.rows),
        )

    @property
    def for_people(self) -> tuple[tuple[Column, ...], tuple[tuple[Cell, ...], ...]]:
        """The columns that people see, and the rows under them."""
        return self._seen([column.people for column in self.columns])

    @property
    def for_scripts(self) -> tuple[tuple[Column, ...], tuple[tuple[Cell, ...], ...]]:
        """The columns that scripts get, and the rows under them."""
        return self._seen([column.scripts for column in self.columns])

    def _seen(self, seen: list[bool]) -> tuple[tuple[Column, ...], tuple[tuple[Cell, ...], ...]]:
        columns = tuple(column for column, is_seen in zip(self.columns, seen, strict=True) if is_seen)
        return columns, tuple(
            tuple(cell for cell, is_seen in zip(row, seen, strict=True) if is_seen) for row in self.rows
        )


def table_of(
    key: str, things: Iterable[Thing], columns: Mapping[Column, Callable[[Thing], Cell]], **more: Any
) -> Report:
    """A table with a row for each thing; beside each column stands how a thing's cell in it is read."""
    rows = tuple(tuple(read(thing) for read in columns.values()) for thing in things)
    return Report(key=key, columns=tuple(columns), rows=rows, **more)


def record(key: str, columns: tuple[Column, ...], row: tuple[Cell, ...] | None, **more: Any) -> Report:
    """A report of one thing; a row of None says that it is missing."""
    return Report(key=key, columns=columns, rows=() if row is None else (row,), form=Form.RECORD, **more)


def facts(key: str, cells: Mapping[str, Cell] | None, **more: Any) -> Report:
    """A record whose figures are for scripts, by their keys; people get its heading, notes and parts. None as above."""
    columns = tuple(Column(name, "", people=False) for name in cells or ())
    return record(key, columns, None if cells is None else tuple(cells.values()), **more)


def group(key: str, parts: tuple[Report, ...], **more: Any) -> Report:
    """A report of several things, each a record."""
    return Report(key=key, parts=parts, form=Form.GROUP, **more)


def numbers_in(cell: Cell) -> Iterator[float]:
    """Every number in a cell, in order."""
    if isinstance(cell, OfKind):
        yield cell.value
    elif isinstance(cell, Band):
        yield cell.low
        if cell.high is not None:
            yield cell.high
    elif isinstance(cell, Counted):
        for length, count in cell.pairs:
            yield from (length, count)
    elif isinstance(cell, int | float) and not isinstance(cell, bool):
        yield cell
