"""What a sheet is made of: its content and setup as they come, pages with placed drawings as they leave."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple, Protocol

from layouts.affine import IDENTITY, Affine
from layouts.drawing import lettering
from layouts.drawing.marks import Box, Drawing, Mark
from layouts.errors import OutOfRange
from layouts.pages.paper import Paper


class Sized(NamedTuple):
    """Something on a sheet whose size counts: what it is, its size, and the tolerance asked for (0: none), mm."""

    name: str
    size_mm: float
    tolerance_mm: float = 0.0


class KnownPrinter(Protocol):
    """What a sheet asks of the printer that it is made true for. `layouts.printing` has one that was measured."""

    @property
    def short(self) -> str:
        """What the head of a sheet calls it."""
        ...

    @property
    def tray(self) -> str:
        """The paper or card in its tray, in words."""
        ...

    @property
    def spread_mm(self) -> float:
        """What each edge of the ink grows by, mm."""
        ...

    @property
    def scale_expanded(self) -> float:
        """The part of a length by which lines on a corrected sheet may be off, k = 2."""
        ...

    def correction(self, paper: Paper) -> Affine:
        """The matrix that undoes, on this paper, what the printer does to a page."""
        ...

    def reach(self, paper: Paper) -> Box:
        """The part of the paper whose ink stays within the safe edges, as drawn and as corrected, mm."""
        ...

    def good_for_mm(self, size_mm: float, edges: int = 2) -> float:
        """How far off a size on a corrected sheet may be, k = 2, mm; with the ink of so many edges, 0 of lines."""
        ...

    def notes(self, gauges: Sequence[Sized]) -> tuple[str, ...]:
        """What a sheet that is corrected for it says of its truth, and of what each gauge is good for."""
        ...


class Field(NamedTuple):
    """The space on a page for drawings, mm."""

    width_mm: float
    height_mm: float


class Content(NamedTuple):
    """What a sheet shows. `draw` takes the field of a page and gives the drawings, in reading order."""

    title: str
    facts: tuple[tuple[str, str], ...]  # the numbers that made it: name, value with unit
    draw: Callable[[Field], Sequence[Drawing]]
    notes: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    longest_bars: bool = False  # check bars as long as the paper allows, instead of 100 mm
    gauges: tuple[Sized, ...] = ()  # what on it has a size that counts: the sheet says what each is good for
    measures_printer: bool = False  # what it shows is the printer: no printer is corrected unless it is named
    on: Callable[[KnownPrinter], Content] | None = None  # the same off a printer, or on its paper, that it depends on


@dataclass(frozen=True, slots=True, kw_only=True)
class Setup:
    """The paper that a sheet goes on, and what its user adds to it."""

    paper: Paper
    title: str = ""  # a line of the user's own
    date: str = ""
    printer: KnownPrinter | None = None  # the one that it is made true for
    correction: Affine = IDENTITY  # instead of a printer's: any other matrix, laid over the same layout
    tile: bool = False  # what is larger than a page is split into tiles

    def __post_init__(self) -> None:
        for words in (self.title, self.date):
            lettering.check(words)  # before they are set in lines: some control characters pass for spaces there
        if self.printer and self.correction != IDENTITY:
            raise OutOfRange("a sheet with a printer and a correction of its own", "give one of them")

    @property
    def matrix(self) -> Affine:
        """What the renderers apply last."""
        return self.printer.correction(self.paper) if self.printer else self.correction

    @property
    def reach(self) -> Box:
        """The part of the paper for the layout: within the safe edges as drawn, and as corrected."""
        return self.printer.reach(self.paper) if self.printer else self.paper.safe


class Placed(NamedTuple):
    """A drawing with its lower left corner at (x, y) on the page."""

    drawing: Drawing
    x: float = 0.0
    y: float = 0.0

    @property
    def extent(self) -> Box:
        """What its ink covers on the page."""
        left, bottom, right, top = self.drawing.extent
        return left + self.x, bottom + self.y, right + self.x, top + self.y


class Page(NamedTuple):
    """One page, complete. The correction is for the renderers: they apply it once, last, as one matrix."""

    paper: Paper
    placed: tuple[Placed, ...]
    title: str
    correction: Affine = IDENTITY

    def marks(self) -> Iterator[Mark]:
        """Every mark in page coordinates (mm, origin lower left), before the correction."""
        for placed in self.placed:
            if not (placed.x or placed.y):  # the frame's marks are in place as they are
                yield from placed.drawing.marks
                continue
            there = Affine(e=placed.x, f=placed.y)
            for mark in placed.drawing.marks:
                yield mark.under(there)
