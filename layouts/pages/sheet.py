"""Sheets: drawings placed on pages at true size, with a title block, check bars and the edge rule.

Every page has the same frame. A try square of two check bars stands at the lower left: one across, one along, each
with millimetres inside and inches outside. The head is at the top, the notes above the bar across, and what is
left is the field, where the drawings go. There is no scale and no zoom: what does not fit is refused.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, NamedTuple

from layouts import lettering
from layouts.affine import IDENTITY, Affine
from layouts.errors import DoesNotFit, OutOfRange
from layouts.marks import Box, Draft, Drawing, Mark
from layouts.pages.tiles import HOW_TO_JOIN, is_too_large, tiled
from layouts.paper import Paper
from layouts.parts import rulers
from layouts.pens import PENS, Role
from layouts.printing.ink import compensated
from layouts.printing.trust import Gauge, good_for

if TYPE_CHECKING:
    from layouts.printing.printer import Printer  # a sheet that is not corrected does without

COLUMN_MM = 14.0  # the bar along, to the left of everything
ROW_MM = 12.5  # the bar across, below everything
GAP_MM = 4.0  # between drawings
CHECK_MM = 100.0
_HALF_FIGURE = 1.9  # the last figure of a bar stands in the middle of its tick: half of three digits
_TITLE, _SUBTITLE, _FACT, _NOTE = 6.4, 3.6, 2.9, 2.5  # em sizes, mm

PRINT_AT = "Print at 100 %, actual size. Not to fit, not shrunk."
REST = "Let the sheet rest some minutes, then measure both check bars with a rule before you trust it."
REST_BEFORE_GAUGES = "Let it rest some minutes; how good the gauges are is unknown until you measure both check bars."
CHECKS_THE_CORRECTION = (
    "This sheet is corrected: it shows what is left. Record a printer from an uncorrected one alone."
)
EDGE_RULE = (
    "What counts: scales and cut lines, the middle of the line; black shapes, the edge of the ink; "
    "holes, the cross. Never the paper's edge."
)


class Field(NamedTuple):
    """The space on a page for drawings, mm."""

    width_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Content:
    """What a sheet shows. `draw` takes the field of a page and gives the drawings, in reading order."""

    title: str
    facts: tuple[tuple[str, str], ...]  # the numbers that made it: name, value with unit
    draw: Callable[[Field], Sequence[Drawing]]
    notes: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    longest_bars: bool = False  # check bars as long as the paper allows, instead of 100 mm
    gauges: tuple[Gauge, ...] = ()  # what on it has a size that counts: the sheet says what each is good for
    measures_printer: bool = False  # what it shows is the printer: no printer is corrected unless it is named


@dataclass(frozen=True, slots=True, kw_only=True)
class Setup:
    """The paper that a sheet goes on, and what its user adds to it."""

    paper: Paper
    title: str = ""  # a line of the user's own
    date: str = ""
    printer: Printer | None = None  # the one that it is made true for
    correction: Affine = IDENTITY  # instead of a printer's: a matrix of one's own, laid over the same layout
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A drawing with its lower left corner at (x, y) on the page."""

    drawing: Drawing
    x: float = 0.0
    y: float = 0.0

    @property
    def extent(self) -> Box:
        """What its ink covers on the page."""
        left, bottom, right, top = self.drawing.extent
        return left + self.x, bottom + self.y, right + self.x, top + self.y


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """One page, complete. The correction is for the renderers: they apply it once, last, as one matrix."""

    paper: Paper
    placed: tuple[Placed, ...]
    title: str
    correction: Affine = IDENTITY

    def marks(self) -> Iterator[Mark]:
        """Every mark in page coordinates (mm, origin lower left), before the correction."""
        for placed in self.placed:
            for mark in placed.drawing.marks:
                yield mark.moved(placed.x, placed.y)


def compose(content: Content, setup: Setup) -> tuple[Page, ...]:
    """The pages of a sheet, made true for its printer: ink spread undone in the drawings, the rest left to renderers.

    A drawing larger than the field of an empty page becomes tiles where the setup says so, else it is refused
    (`DoesNotFit`), and so is ink pushed over the safe edge.
    """
    frame = _Frame(content, setup)
    drawings = frame.drawings()
    if setup.tile and any(is_too_large(drawing, frame.room) for drawing in drawings):
        frame = _Frame(replace(content, notes=(*content.notes, HOW_TO_JOIN)), setup)
        drawings = [part for drawing in frame.drawings() for part in tiled(drawing, frame.room)]
    shelves = _Shelves(frame.field)
    for drawing in drawings:
        shelves.put(drawing)
    count = len(shelves.pages)
    pages = tuple(frame.page(placed, number, count) for number, placed in enumerate(shelves.pages, 1))
    if setup.printer:
        _refuse_out_of_reach(pages)
    return pages


_SLACK_MM = 0.01 + max(pen.width_mm for pen in PENS.values()) / 2  # a line may stand on the safe edge


def _refuse_out_of_reach(pages: Sequence[Page]) -> None:
    for page in pages:
        for placed in page.placed:
            _refuse_if_out_of_reach(placed, page)


def _refuse_if_out_of_reach(placed: Placed, page: Page) -> None:
    left, bottom, right, top = placed.extent
    corners = [page.correction.apply(x, y) for x in (left, right) for y in (bottom, top)]
    xs, ys = zip(*corners, strict=True)
    low_x, low_y, high_x, high_y = page.paper.safe
    over = max(low_x - min(xs), low_y - min(ys), max(xs) - high_x, max(ys) - high_y)
    if over > _SLACK_MM:
        needs = max(xs) - min(xs), max(ys) - min(ys)
        remedy = f"the correction pushes it {over:.2f} mm over the safe edge: try a larger paper"
        raise DoesNotFit(placed.drawing.name, needs, (high_x - low_x, high_y - low_y), remedy)


class _Shelves:
    """Sets drawings side by side from the top left of a field, shelf under shelf, page after page."""

    def __init__(self, field: Box) -> None:
        self.left, self.bottom, self.right, self.top = field
        self.pages: list[list[Placed]] = [[]]
        self._fresh()

    def _fresh(self) -> None:
        self.x, self.shelf_top, self.shelf_bottom = self.left, self.top, self.top

    def put(self, drawing: Drawing) -> None:
        """The next free place: on this shelf, on a new one, or on a new page."""
        width, height = drawing.width_mm, drawing.height_mm
        if self._too_big(width, height):
            has = self.right - self.left, self.top - self.bottom
            remedy = "try a larger paper or --landscape; nothing is shrunk to fit; --tile splits it over several pages"
            raise DoesNotFit(drawing.name, (width, height), has, remedy)
        if self.x > self.left and self.x + width > self.right + 1e-9:
            self.x, self.shelf_top = self.left, self.shelf_bottom - GAP_MM
        if self.shelf_top - height < self.bottom - 1e-9:
            self.pages.append([])
            self._fresh()
        self.pages[-1].append(Placed(drawing=drawing, x=self.x, y=self.shelf_top - height))
        self.shelf_bottom = min(self.shelf_bottom, self.shelf_top - height)
        self.x += width + GAP_MM

    def _too_big(self, width: float, height: float) -> bool:
        return width > self.right - self.left + 1e-9 or height > self.top - self.bottom + 1e-9


class _Frame:
    """The part of a page that every sheet shares, and the field that it leaves."""

    def __init__(self, content: Content, setup: Setup) -> None:
        self.content, self.setup = content, setup
        left, self.bottom, self.right, self.top = setup.reach
        self.left = left + COLUMN_MM
        self.width = self.right - self.left
        self.notes = self._note_lines()
        self.facts = _fact_lines(content.facts, self.width)
        self.titles = lettering.wrap(setup.title, _SUBTITLE, self.width, bold=True)
        self.beside = self._beside_the_title()
        self.bar_down = max(_TITLE * lettering.ASCENT + 5.6 * len(self.titles) + 2.6, 3.2 * len(self.beside))
        head = self.bar_down + 3.8 + 3.9 * len(self.facts)
        foot = ROW_MM + lettering.LINE * _NOTE * len(self.notes) + 2.5
        self.field: Box = self.left, self.bottom + foot, self.right, self.top - head
        self.height = self.field[3] - self.field[1]
        self.room = Field(self.width, self.height)
        if self.height <= 0:
            space = self.top - self.bottom
            raise DoesNotFit(
                "the frame of the sheet", (self.width, head + foot), (self.width, space), "try a larger paper"
            )

    def drawings(self) -> list[Drawing]:
        """What the content draws for this field, with ink spread undone; what comes more than once stays one."""
        drawn = self.content.draw(self.room)
        undone = {id(drawing): self._ink_undone(drawing) for drawing in drawn}
        return [undone[id(drawing)] for drawing in drawn]

    def _ink_undone(self, drawing: Drawing) -> Drawing:
        printer = self.setup.printer
        return compensated(drawing, printer.spread_mm) if printer else drawing

    def _beside_the_title(self) -> list[str]:
        """Paper, printer and date, set in lines in what the title leaves of the width."""
        room = self.width - lettering.width_mm(self.content.title, _TITLE, bold=True) - 6
        printer = self.setup.printer.short if self.setup.printer else "uncorrected"
        words = " · ".join(filter(None, (f"printer: {printer}", self.setup.date)))
        return [*lettering.wrap(self.setup.paper.label, _NOTE, room), *lettering.wrap(words, _NOTE, room)]

    def _note_lines(self) -> list[tuple[str, bool]]:
        lines: list[tuple[str, bool]] = []
        cautions = [f"Care: {caution}" for caution in self.content.cautions]
        for note, bold in [
            *((caution, True) for caution in cautions),
            *((note, False) for note in (*self.content.notes, *self._trust(), EDGE_RULE)),
        ]:
            lines += [(line, bold) for line in lettering.wrap(note, _NOTE, self.width, bold=bold)]
        return lines

    def _trust(self) -> tuple[str, ...]:
        """What the sheet says of its truth: the gauges, the printer, how to print."""
        printer, gauges = self.setup.printer, self.content.gauges
        if printer is None:
            return (f"{PRINT_AT} {REST_BEFORE_GAUGES if gauges else REST}",)
        checks = (CHECKS_THE_CORRECTION,) if self.content.measures_printer else ()
        return *good_for(gauges, printer), printer.long, *checks, f"{PRINT_AT} {REST}"

    def page(self, placed: Sequence[Placed], number: int, count: int) -> Page:
        """A finished page: the frame under what is placed."""
        draft = Draft()
        self._head(draft)
        self._foot(draft)
        if count > 1:
            draft.text(self.right, self.bottom + 4.2, f"page {number}/{count}", _NOTE, anchor="end")
        self._bars(draft)
        paper = self.setup.paper
        frame = Placed(drawing=self._ink_undone(draft.drawing(paper.width_mm, paper.height_mm, "frame")))
        title = self.content.title + (f": {self.setup.title}" if self.setup.title else "")
        return Page(paper=paper, placed=(frame, *placed), title=title, correction=self.setup.matrix)

    def _head(self, draft: Draft) -> None:
        y = self.top - _TITLE * lettering.ASCENT
        draft.text(self.left, y, self.content.title, _TITLE, bold=True)
        for line, words in enumerate(self.beside):
            draft.text(self.right, self.top - 1.9 - 3.2 * line, words, _NOTE, anchor="end")
        for line, words in enumerate(self.titles, 1):
            draft.text(self.left, y - 5.6 * line, words, _SUBTITLE, bold=True)
        y = self.top - self.bar_down
        draft.bar(self.left, y, self.width, 0.6)
        for number_of_line, facts in enumerate(self.facts, 1):
            _draw_facts(draft, self.left, y - 3.9 * number_of_line + 0.3, facts)

    def _foot(self, draft: Draft) -> None:
        y = self.bottom + ROW_MM + lettering.LINE * _NOTE * (len(self.notes) - 1) + 0.8
        draft.line(self.left, y + 2.9, self.right, y + 2.9, Role.AID)
        for line, bold in self.notes:
            draft.text(self.left, y, line, _NOTE, bold=bold)
            y -= lettering.LINE * _NOTE

    def _bars(self, draft: Draft) -> None:
        """The try square. Its zero is where the column meets the row."""
        across = self.width - _HALF_FIGURE if self.content.longest_bars else CHECK_MM
        along = self.top - self.bottom - ROW_MM if self.content.longest_bars else CHECK_MM
        y0 = self.bottom + ROW_MM - 1.2
        draft.add(rulers.ruler(across).marks, self.left, self.bottom)
        draft.add(rulers.upright(rulers.ruler(along)).marks, self.left - COLUMN_MM, y0)


def _fact_lines(facts: Sequence[tuple[str, str]], within: float) -> list[list[tuple[str, str]]]:
    """The facts set in lines, none wider than `within`; a fact is never broken."""
    lines: list[list[tuple[str, str]]] = [[]]
    for fact in facts:
        if lines[-1] and _facts_width([*lines[-1], fact]) > within:
            lines.append([])
        lines[-1].append(fact)
    return [line for line in lines if line]


_FACT_GAP = 5.0


def _facts_width(facts: Sequence[tuple[str, str]]) -> float:
    return sum(_fact_width(fact) for fact in facts) + _FACT_GAP * (len(facts) - 1)


def _fact_width(fact: tuple[str, str]) -> float:
    name, value = fact
    return lettering.width_mm(f"{name} ", _FACT) + lettering.width_mm(value, _FACT, bold=True)


def _draw_facts(draft: Draft, x: float, y: float, facts: Sequence[tuple[str, str]]) -> None:
    for fact in facts:
        name, value = fact
        draft.text(x, y, name, _FACT)
        draft.text(x + lettering.width_mm(f"{name} ", _FACT), y, value, _FACT, bold=True)
        x += _fact_width(fact) + _FACT_GAP


def repeated(pages: Sequence[Page], copies: int) -> tuple[Page, ...]:
    """The same pages, several times over: the renderers write each body once."""
    return tuple(pages) * copies


def corrected(page: Page, correction: Affine) -> Page:
    """The page as a printer that needs `correction` should get it."""
    return replace(page, correction=correction)
