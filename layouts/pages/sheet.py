"""Sheets: drawings placed on pages at true size. Nothing is scaled: what does not fit is refused."""

from __future__ import annotations

from collections.abc import Sequence

from layouts.drawing.marks import Box, Drawing
from layouts.drawing.pens import PENS
from layouts.errors import DoesNotFit, Remedy
from layouts.pages.frame import Frame
from layouts.pages.page import Content, Page, Placed, Setup

GAP_MM = 4.0  # between drawings


def compose(content: Content, setup: Setup) -> tuple[Page, ...]:
    """The pages of a sheet, made true for its printer: ink spread undone in the drawings, the rest left to renderers.

    A drawing larger than the field of an empty page becomes tiles where the setup says so, else it is refused
    (`DoesNotFit`), and so is ink pushed over the safe edge.
    """
    if content.on and setup.printer:
        content = content.on(setup.printer)
    frame = Frame(content, setup)
    drawings = frame.drawings()
    if setup.tile:
        from layouts.pages.tiles import HOW_TO_JOIN, is_too_large, tiled  # few sheets are split

        if any(is_too_large(drawing, frame.room) for drawing in drawings):
            frame = Frame(content._replace(notes=(*content.notes, HOW_TO_JOIN)), setup)
            drawings = [part for drawing in frame.drawings() for part in tiled(drawing, frame.room)]
    shelves = _Shelves(frame.field)
    for drawing in drawings:
        shelves.put(drawing)
    count = len(shelves.pages)
    pages = tuple(frame.page(placed, number, count) for number, placed in enumerate(shelves.pages, 1))
    if setup.printer:
        for page in pages:
            for placed in page.placed:
                _refuse_if_out_of_reach(placed, page)
    return pages


_SLACK_MM = 0.01 + max(pen.width_mm for pen in PENS.values()) / 2  # a line may stand on the safe edge


def _refuse_if_out_of_reach(placed: Placed, page: Page) -> None:
    left, bottom, right, top = placed.extent
    corners = [page.correction.apply(x, y) for x in (left, right) for y in (bottom, top)]
    xs, ys = zip(*corners, strict=True)
    low_x, low_y, high_x, high_y = page.paper.safe
    over = max(low_x - min(xs), low_y - min(ys), max(xs) - high_x, max(ys) - high_y)
    if over > _SLACK_MM:
        needs = max(xs) - min(xs), max(ys) - min(ys)
        why = f"the correction pushes it {over:.2f} mm over the safe edge"
        raise DoesNotFit(placed.drawing.name, needs, (high_x - low_x, high_y - low_y), why, (Remedy.LARGER_PAPER,))


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
            ways = Remedy.LARGER_PAPER, Remedy.TURN_PAPER, Remedy.SPLIT_OVER_PAGES
            raise DoesNotFit(drawing.name, (width, height), has, "nothing is shrunk to fit", ways)
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


def repeated(pages: Sequence[Page], copies: int) -> tuple[Page, ...]:
    """The same pages, several times over: the renderers write each body once."""
    return tuple(pages) * copies
