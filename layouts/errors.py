"""The family of refusals: each says in one line what is wrong and what would be right."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from enum import StrEnum
from typing import NamedTuple


class Remedy(StrEnum):
    """What would help, as data: each door puts it in its own words; the value does without a door."""

    LARGER_PAPER = "use a larger paper"
    LARGER_BOARD = "take a larger sheet of material"
    TURN_PAPER = "turn the paper to landscape"
    SPLIT_OVER_PAGES = "split it over several pages"
    ONE_SET_FOR_ALL = "make one set for all seats with the same work, and print it as often as needed"
    WRITE_ELSEWHERE = "write it somewhere else"
    MOVE_FILE = "move that file"
    OVERWRITE = "allow it to be overwritten"
    MEASURE_PRINTER = "measure a printer first"
    CHOOSE_PRINTER = "choose a usual printer"
    MEASURE_MACHINE = "cut or print a coupon, try it, and record the machine first"
    REPLACE = "write over what is there"
    SAVE_ANYWAY = "save it anyway"
    NOTHING_ON_SHEET = "lay nothing there, and say so"
    CHECK_SHEET_SCANNED = "check the paper, which way round it was, and the resolution"
    INSTALL_SOLIDS = "install what makes solids from the Python package index"
    INSTALL_SCANNING = "install them from the Python package index"


class Give(NamedTuple):
    """A remedy: to give a field, one of `values` where they are known, or something like `example`."""

    field: str
    values: tuple[str, ...] = ()
    example: str = ""

    def __str__(self) -> str:
        name = self.field.replace("_", " ")
        like = f", such as {self.example}" if self.example else ""
        return f"choose the {name}: {listed(self.values)}" if self.values else f"give the {name}{like}"


class LeaveOut(NamedTuple):
    """A remedy: to leave out fields that were given."""

    fields: tuple[str, ...]

    def __str__(self) -> str:
        return f"leave out {', '.join(field.replace('_', ' ') for field in self.fields)}"


class PrintUnscaled(NamedTuple):
    """A remedy: to have the program that prints leave the size alone, on a paper."""

    paper: str

    def __str__(self) -> str:
        return f"tell the program that prints not to scale, and that the paper is {self.paper}"


Remedies = Sequence[Remedy | Give | LeaveOut | PrintUnscaled]
"""What would help, the best first."""


class Refusal(ValueError):
    """An input that cannot be used as given. The text is one line: the problem, then what would be right.

    `remedy` says the latter in words that hold behind any door; `remedies` are what a door words itself; `field` is
    the name of the value at fault, where there is one.
    """

    def __init__(self, problem: str, remedy: str = "", remedies: Remedies = (), *, field: str = "") -> None:
        self.problem = problem
        self.remedy = remedy
        self.remedies = tuple(remedies)
        self.field = field
        super().__init__(problem)

    def __str__(self) -> str:
        where = f"{self.field.replace('_', ' ')}: " if self.field else ""
        return where + self.whole

    @property
    def whole(self) -> str:
        """Problem and advice, without the field at fault: for who gave no field."""
        return "; ".join(words for words in (self.problem, self.advice) if words)

    @property
    def advice(self) -> str:
        """What would be right, in words that hold behind any door."""
        return "; ".join(words for words in (self.remedy, listed(map(str, self.remedies))) if words)


class QuantityRefused(Refusal):
    """Text that is not a length, a wire or another quantity."""


class TwoReadings(QuantityRefused):
    """Text that could be read as two quantities. Says both, and what to write for each."""


class OutOfRange(Refusal):
    """A number that is a quantity but not one that this place can use."""


class UnknownName(Refusal):
    """A name that is not in a list. Lists the known names, the nearest first."""

    def __init__(self, kind: str, name: str, known: Iterable[str]) -> None:
        self.kind = kind
        self.name = name
        self.known = _nearest_first(name, known)
        super().__init__(f"no {kind} is called {shown(name)}", f"known: {', '.join(self.known)}")


class DoesNotFit(Refusal):
    """A drawing larger than the space for it. Carries both sizes in millimetres (width, height)."""

    def __init__(
        self,
        what: str,
        needs_mm: tuple[float, float],
        has_mm: tuple[float, float],
        remedy: str = "",
        remedies: Remedies = (),
    ) -> None:
        self.what = what
        self.needs_mm = needs_mm
        self.has_mm = has_mm
        needs, has = (f"{width:.1f} x {height:.1f} mm" for width, height in (needs_mm, has_mm))
        super().__init__(f"{what} needs {needs} and the space is {has}", remedy, remedies)


class Unprintable(Refusal):
    """A number that is not finite, or a character that the lettering does not have."""


class MissingLibrary(Refusal):
    """A library of the system that a format needs and this machine lacks."""


class ScanRefused(Refusal):
    """A picture from which a printer cannot be measured."""


class FileRefused(Refusal):
    """A file that cannot be read, or must not be written."""


def listed(words: Iterable[str]) -> str:
    """'one', 'one or two', 'one, two or three'."""
    *most, last = (*words,) or ("",)
    return f"{', '.join(most)} or {last}" if most else last


def shown(text: str) -> str:
    """The user's text in quotes, safe for one line of a terminal: escaped, and cut at 64 characters."""
    return repr(text if len(text) <= 64 else text[:61] + "...")


def printable(text: str) -> str:
    """The text with a mark for whatever would not show, or would turn the line about: a path, somebody's words."""
    return "".join(c if c.isprintable() else "\N{REPLACEMENT CHARACTER}" for c in text)


def _nearest_first(name: str, known: Iterable[str]) -> tuple[str, ...]:
    from difflib import SequenceMatcher  # only a refusal needs it

    # The matcher studies its second text once and keeps that: a long list is compared faster so.
    matcher = SequenceMatcher(None, "", name[:64].casefold())

    def distance(word: str) -> float:
        matcher.set_seq1(word.casefold())
        # What shares few letters is far off in any order; the whole comparison takes twenty times as long.
        return -matcher.ratio() if matcher.quick_ratio() > 0.3 else 0.0

    return tuple(sorted(known, key=distance))
