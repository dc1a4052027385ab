"""The frame that every page shares, and the field that it leaves for drawings.

A try square of two check bars stands at the lower left: one across, one along, each with millimetres on one side of
its line and inches on the other. The head is at the top, the notes above the bar across.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from layouts.drawing import lettering, rulers
from layouts.drawing.ink import compensated
from layouts.drawing.marks import Box, Draft, Drawing, Mark
from layouts.drawing.pens import Role
from layouts.drawing.turning import quarter_turned
from layouts.drawing.words import HEADING, LINE_MM, NAME, TITLE, WORDS, lines
from layouts.errors import DoesNotFit, Remedy
from layouts.pages.page import Content, Field, Page, Placed, Setup
from layouts.pages.paper import CHECK_MM

COLUMN_MM = 14.0  # the bar along, to the left of everything
ROW_MM = 12.5  # the bar across, below everything
_HALF_FIGURE = 1.9  # the last figure of a bar stands in the middle of its tick: half of three digits

_FACT_GAP = 5.0  # between the facts of a line

PRINT_AT = "Print at 100 %, actual size. Not to fit, not shrunk."
REST = "Let the sheet rest a few minutes, then measure both check bars with a rule before you trust it."
REST_BEFORE_GAUGES = "Let it rest a few minutes; how good the gauges are is unknown until you measure both check bars."
CHECKS_THE_CORRECTION = "This sheet is corrected: it shows what is left. Record a printer only from an uncorrected one."
EDGE_RULE = (
    "What counts: scales and cut lines, the middle of the line; black shapes, the edge of the ink; "
    "holes, the cross. Never the paper's edge."
)


class Frame:
    """The part of a page that every sheet shares, and the field that it leaves."""

    def __init__(self, content: Content, setup: Setup) -> None:
        self.content, self.setup = content, setup
        left, self.bottom, self.right, self.top = setup.reach
        self.left = left + COLUMN_MM
        self.width = self.right - self.left
        self.notes = self._note_lines()
        self.facts = self._fact_lines()
        self.titles = lines(setup.title, self.width, HEADING, bold=True)
        self.beside = self._beside_the_title()
        self.bar_down = max(TITLE * lettering.ASCENT + 5.6 * len(self.titles) + 2.6, 3.2 * len(self.beside))
        head = self.bar_down + 3.8 + 3.9 * len(self.facts)
        foot = ROW_MM + LINE_MM * len(self.notes) + 2.5
        self.field: Box = self.left, self.bottom + foot, self.right, self.top - head
        self.height = self.field[3] - self.field[1]
        self.room = Field(self.width, self.height)
        if self.height <= 0:
            space = self.top - self.bottom
            raise DoesNotFit(
                "the frame of the sheet",
                (self.width, head + foot),
                (self.width, space),
                remedies=(Remedy.LARGER_PAPER,),
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
        room = self.width - lettering.width_mm(self.content.title, TITLE, bold=True) - 6
        printer = self.setup.printer.short if self.setup.printer else "uncorrected"
        words = " · ".join(filter(None, (f"printer: {printer}", self.setup.date)))
        return [*lines(self.setup.paper.label, room), *lines(words, room)]

    def _note_lines(self) -> list[tuple[str, bool]]:
        found: list[tuple[str, bool]] = []
        cautions = [f"Care: {caution}" for caution in self.content.cautions]
        for note, bold in [
            *((caution, True) for caution in cautions),
            *((note, False) for note in (*self.content.notes, *self._trust(), EDGE_RULE)),
        ]:
            found += [(line, bold) for line in lines(note, self.width, bold=bold)]
        return found

    def _fact_lines(self) -> list[list[tuple[str, str]]]:
        """The facts set in lines, none wider than the page; a fact is never broken."""
        found: list[list[tuple[str, str]]] = [[]]
        for fact in self.content.facts:
            longer = [*found[-1], fact]
            if found[-1] and sum(map(_fact_width, longer)) + _FACT_GAP * (len(longer) - 1) > self.width:
                found.append([])
            found[-1].append(fact)
        return [line for line in found if line]

    def _trust(self) -> tuple[str, ...]:
        """What the sheet says of its truth: the gauges, the printer, how to print."""
        printer, gauges = self.setup.printer, self.content.gauges
        if printer is None:
            return (f"{PRINT_AT} {REST_BEFORE_GAUGES if gauges else REST}",)
        checks = (CHECKS_THE_CORRECTION,) if self.content.measures_printer else ()
        return *printer.notes(gauges), *checks, f"{PRINT_AT} {REST}"

    def page(self, placed: Sequence[Placed], number: int, count: int) -> Page:
        """A finished page: the frame under what is placed."""
        draft = Draft()
        self._head(draft)
        self._foot(draft)
        if count > 1:
            draft.text(self.right, self.bottom + 4.2, f"page {number}/{count}", WORDS, anchor="end")
        self._bars(draft)
        paper = self.setup.paper
        frame = Placed(drawing=self._ink_undone(draft.drawing(paper.width_mm, paper.height_mm, "the check bars")))
        title = self.content.title + (f": {self.setup.title}" if self.setup.title else "")
        return Page(paper=paper, placed=(frame, *placed), title=title, correction=self.setup.matrix)

    def _head(self, draft: Draft) -> None:
        y = self.top - TITLE * lettering.ASCENT
        draft.text(self.left, y, self.content.title, TITLE, bold=True)
        for line, words in enumerate(self.beside):
            draft.text(self.right, self.top - 1.9 - 3.2 * line, words, WORDS, anchor="end")
        for line, words in enumerate(self.titles, 1):
            draft.text(self.left, y - 5.6 * line, words, HEADING, bold=True)
        y = self.top - self.bar_down
        draft.bar(self.left, y, self.width, 0.6)
        for number_of_line, facts in enumerate(self.facts, 1):
            x, foot = self.left, y - 3.9 * number_of_line + 0.3
            for name, value in facts:
                draft.text(x, foot, name, NAME)
                draft.text(x + lettering.width_mm(f"{name} ", NAME), foot, value, NAME, bold=True)
                x += _fact_width((name, value)) + _FACT_GAP

    def _foot(self, draft: Draft) -> None:
        y = self.bottom + ROW_MM + LINE_MM * (len(self.notes) - 1) + 0.8
        draft.line(self.left, y + 2.9, self.right, y + 2.9, Role.AID)
        for line, bold in self.notes:
            draft.text(self.left, y, line, WORDS, bold=bold)
            y -= LINE_MM

    def _bars(self, draft: Draft) -> None:
        """The try square. Its zero is where the column meets the row."""
        across = self.width - _HALF_FIGURE if self.content.longest_bars else CHECK_MM
        along = self.top - self.bottom - ROW_MM if self.content.longest_bars else CHECK_MM
        y0 = self.bottom + ROW_MM - 1.2
        draft.add(_ruler(across, self.left, self.bottom))
        draft.add(_ruler(along, self.left - COLUMN_MM, y0, upright=True))


@lru_cache(maxsize=32)
def _ruler(longest_mm: float, x: float, y: float, *, upright: bool = False) -> tuple[Mark, ...]:
    """A bar in its place on the page: pages of one paper share the marks, hundreds for each bar."""
    ruler = rulers.ruler(longest_mm)
    draft = Draft()
    draft.add((quarter_turned(ruler) if upright else ruler).marks, x, y)
    return tuple(draft)


def _fact_width(fact: tuple[str, str]) -> float:
    name, value = fact
    return lettering.width_mm(f"{name} ", NAME) + lettering.width_mm(value, NAME, bold=True)
