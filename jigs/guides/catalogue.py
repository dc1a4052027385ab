"""The catalogue of aids: what each is called, which fields it takes, and how it is made from them.

An aid is a module of this folder with an entry `SHEET`: `ring-card` stands in `ring_card.py`. It is found by its
name, and only that module is imported; a list of all of them imports all. It is printed on paper, cut by a laser or a
knife, printed as a solid, or several of these: the entry says how it is made for each.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from enum import StrEnum
from importlib import import_module
from importlib.machinery import PathFinder
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

import jigs.guides
from jigs.stock.wire import parse_wire
from layouts.errors import Give, QuantityRefused, Refusal, UnknownName
from layouts.pages.page import Content
from layouts.units import parse_count, parse_length, parse_length_range

if TYPE_CHECKING:
    from jigs.guides.jobs import CutFrom, CutJob, SolidJob  # what is printed on paper needs none of these
    from layouts.machines.machine import Machine

Words = str | Sequence[str]
"""What a person gives for a field: words, or several where it is repeatable. Empty is as if it were not given."""


class AskedKind(StrEnum):
    """What a field holds. The value names it for a reader."""

    LENGTH = "length"
    LENGTHS = "length or range"  # "5 mm", or "3 mm..8 mm by 0.5 mm", which is several
    ROD = "length or name"  # the name is that of a mandrel of the bench
    MANDREL = "name or length"  # likewise, and the name counts too: "rod 7 = 6.02 mm" is both
    WIRE = "wire"
    COUNT = "count"
    CHOICE = "choice"
    BLADE = "blade"
    FILE = "file"


class Asked(NamedTuple):
    """One thing that a sheet asks for.

    default: the words that count when none are given. otherwise: what holds then, for a reader, where it is not a
    value that could be written. title: its name for a reader, where the key is not. example: words to show to
    somebody who left out what is needed. each_of: the field that it goes along with, where it is given once for each
    of that one, in order.
    """

    key: str
    kind: AskedKind
    help: str
    default: str = ""
    otherwise: str = ""
    needed: bool = False
    repeatable: bool = False
    choices: tuple[str, ...] = ()
    example: str = ""
    title: str = ""
    each_of: str = ""

    @property
    def name(self) -> str:
        """What a reader calls it."""
        return self.title or self.key.replace("_", " ")

    def read(self, words: str) -> Any:
        """The value of some words: mm for a length, a wire, a blade, a path. Refuses words of another kind."""
        if self.kind is AskedKind.CHOICE and words not in self.choices:
            raise UnknownName(self.name, words, self.choices)
        if self.kind is AskedKind.BLADE:
            from jigs.stock.blade import find_blade  # few sheets ask for a blade

            return find_blade(words)
        return _READERS[self.kind](words)

    def value(self, words: Words) -> Any:
        """The value of what was given: a tuple for a repeatable field, None for one that is left out."""
        given = [words] if isinstance(words, str) else [*words]
        given = [each for each in given if each] or [each for each in (self.default,) if each]
        if self.needed and not given:
            raise QuantityRefused(f"no {self.name} is given", remedies=(Give(field=self.key, example=self.example),))
        try:
            read = [self.read(each) for each in given]
        except Refusal as refusal:
            refusal.field = self.key
            raise
        if self.kind is AskedKind.LENGTHS:
            read = [length for lengths in read for length in lengths]
        return tuple(read) if self.repeatable else (read or [None])[0]


def _rod(text: str) -> Any:
    from jigs.stock.rod import parse_rod  # the drills that rods may be shanks of: only a dowel asks for them

    return parse_rod(text)


def _mandrel(text: str) -> tuple[str, float]:
    """Its name, which may be empty, and its diameter [mm]."""
    name, _, size = text.rpartition("=")
    return name.strip(), _rod(size)


_READERS: dict[AskedKind, Callable[[str], Any]] = {
    AskedKind.LENGTH: parse_length,
    AskedKind.LENGTHS: parse_length_range,
    AskedKind.ROD: _rod,
    AskedKind.MANDREL: _mandrel,
    AskedKind.WIRE: parse_wire,
    AskedKind.COUNT: parse_count,
    AskedKind.CHOICE: str,
    AskedKind.FILE: Path,
}


class Made(NamedTuple):
    """A sheet ready for paper, and what its maker should hear about the numbers that were given."""

    content: Content
    warnings: tuple[str, ...] = ()


class Sheet(NamedTuple):
    """The entry of an aid: a sheet to print, a job to cut, or a solid.

    summary: a line for lists. about: what it is, in paragraphs; lines of a paragraph that begin with spaces stand as
    they are. examples: values of its fields and of its setup (paper, landscape, tile, format); the first makes a usual
    sheet. build: the sheet from its fields by key, parsed; as words where it reads them itself (`from_words`), to say
    which of several things a refusal is about. cut: likewise what is cut, of the material that is given first, with
    examples (`cut_examples`) and, where they differ, fields of its own (`cut_fields`); solid: likewise what is printed
    as a solid, for the machine that is given first, or None (`solid_examples`). place: where it stands in lists, by the
    order of the work. use: what one does with it, in few words. demo: its fields for the class of the demo; None where
    that does without it.
    """

    name: str
    summary: str
    about: tuple[str, ...]
    fields: tuple[Asked, ...]
    build: Callable[..., Made] | None = None
    cut: Callable[..., CutJob] | None = None
    solid: Callable[..., SolidJob] | None = None
    examples: tuple[Mapping[str, Words | bool], ...] = ()
    cut_examples: tuple[Mapping[str, Words | bool], ...] = ()
    cut_fields: tuple[Asked, ...] | None = None
    cut_summary: str = ""  # where the summary is of the sheet
    solid_examples: tuple[Mapping[str, Words | bool], ...] = ()
    from_words: bool = False
    place: int = 100
    use: str = ""
    demo: Mapping[str, Words] | None = None

    def make(self, given: Mapping[str, Words]) -> Made:
        """The sheet of what was given by key. Refuses (`UnknownName`) a field that it does not take."""
        if self.build is None:
            raise UnknownName("sheet", self.name, [known.name for known in sheets()])
        return self.build(**self._read(given, self.fields))

    def make_cut(self, given: Mapping[str, Words], material: CutFrom) -> CutJob:
        """What is cut, of what was given by key. Refuses (`UnknownName`) a field that it does not take."""
        if self.cut is None:
            raise UnknownName("thing to cut", self.name, [known.name for known in cut_aids()])
        return self.cut(material, **self._read(given, self.fields_to_cut))

    def make_solid(self, given: Mapping[str, Words], machine: Machine | None = None) -> SolidJob:
        """What is printed as a solid, of what was given by key. Refuses (`UnknownName`) a field that it does not take.

        Its sizes are corrected for the machine, where there is one.
        """
        if self.solid is None:
            raise UnknownName("solid", self.name, [known.name for known in solid_aids()])
        return self.solid(machine, **self._read(given, self.fields))

    @property
    def summary_to_cut(self) -> str:
        """A line for lists of what is cut."""
        return self.cut_summary or self.summary

    @property
    def fields_to_cut(self) -> tuple[Asked, ...]:
        """What it asks for when it is cut."""
        return self.fields if self.cut_fields is None else self.cut_fields

    def _read(self, given: Mapping[str, Words], fields: Sequence[Asked]) -> dict[str, Any]:
        keys = [field.key for field in fields]
        for key in given:
            if key not in keys:
                raise UnknownName(f"field of {self.name}", key, keys)
        if self.from_words:
            return {key: given.get(key, ()) for key in keys}
        return {field.key: field.value(given.get(field.key, ())) for field in fields}

    def example(self, number: int = 0) -> dict[str, Words]:
        """The fields of an example, without what is of the setup."""
        keys = [field.key for field in self.fields]
        given = self.examples[number].items()
        return {key: value for key, value in given if key in keys and not isinstance(value, bool)}


def sheet_called(name: str) -> Sheet | None:
    """The sheet of that name, importing no other; None if nothing to print has that name."""
    sheet = _called(name)
    return sheet if sheet and sheet.build else None


def cut_aid_called(name: str) -> Sheet | None:
    """The aid of that name, importing no other; None if nothing to cut has that name."""
    sheet = _called(name)
    return sheet if sheet and sheet.cut else None


def solid_aid_called(name: str) -> Sheet | None:
    """The aid of that name, importing no other; None if nothing to print as a solid has that name."""
    sheet = _called(name)
    return sheet if sheet and sheet.solid else None


def find_sheet(name: str) -> Sheet:
    """The sheet of that name. Refuses an unknown one (`UnknownName`), the nearest name first."""
    sheet = sheet_called(name)
    if sheet is None:
        raise UnknownName("sheet", name, [known.name for known in sheets()])
    return sheet


def find_cut_aid(name: str) -> Sheet:
    """The aid to cut of that name. Refuses an unknown one (`UnknownName`), the nearest name first."""
    aid = cut_aid_called(name)
    if aid is None:
        raise UnknownName("thing to cut", name, [known.name for known in cut_aids()])
    return aid


def find_solid_aid(name: str) -> Sheet:
    """The aid to print as a solid. Refuses an unknown one (`UnknownName`), the nearest name first."""
    aid = solid_aid_called(name)
    if aid is None:
        raise UnknownName("solid", name, [known.name for known in solid_aids()])
    return aid


def sheets() -> tuple[Sheet, ...]:
    """Every sheet to print, in the order of the work."""
    return tuple(sheet for sheet in _all() if sheet.build)


def cut_aids() -> tuple[Sheet, ...]:
    """Every aid for a laser or a knife, in the order of the work."""
    return tuple(sheet for sheet in _all() if sheet.cut)


def solid_aids() -> tuple[Sheet, ...]:
    """Every aid to print as a solid, in the order of the work."""
    return tuple(sheet for sheet in _all() if sheet.solid)


def _all() -> tuple[Sheet, ...]:
    from pkgutil import iter_modules

    found = (_sheet_in(module.name) for module in iter_modules(jigs.guides.__path__))
    return tuple(sorted((sheet for sheet in found if sheet), key=lambda sheet: (sheet.place, sheet.name)))


def _called(name: str) -> Sheet | None:
    sheet = _sheet_in(name.replace("-", "_"))
    return sheet if sheet and sheet.name == name else None


def _sheet_in(module: str) -> Sheet | None:
    """The entry of a module of this folder; None if it has no entry."""
    if not module.isidentifier() or PathFinder.find_spec(f"jigs.guides.{module}", jigs.guides.__path__) is None:
        return None
    sheet = getattr(import_module(f"jigs.guides.{module}"), "SHEET", None)
    return sheet if isinstance(sheet, Sheet) else None
