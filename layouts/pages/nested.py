"""Pages of small pieces to cut out: the frame of a sheet, with pieces nested in its field."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from layouts.drawing.ink import compensated
from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.pens import Role
from layouts.pages.nesting import Piece, nest
from layouts.pages.page import Content, Field, Page, Setup
from layouts.pages.sheet import GAP_MM, compose

PIECE_MM = 88.0  # two abreast fill the field of A4
MODULE_MM = 11.0  # twenty of them fill its height


def piece_height_mm(least_mm: float) -> float:
    """The height of a piece that must be so tall at least: whole modules, so that pieces of a width leave no gaps.

    >>> piece_height_mm(20.0), piece_height_mm(33.0)
    (22.0, 33.0)
    """
    return MODULE_MM * math.ceil(least_mm / MODULE_MM - 1e-9)  # 33 mm is three, whatever the last digit of a float


def compose_nested(content: Content, pieces: Sequence[Piece], setup: Setup, gap_mm: float = GAP_MM) -> tuple[Page, ...]:
    """As few pages as the pieces go on, each in the frame of `content`, whose own drawings are not used.

    Ink spread is undone in the pieces as `compose` does. A drawing that comes many times stays one. Refuses
    (`DoesNotFit`) a piece larger than the field.
    """

    def fill(field: Field) -> Sequence[Drawing]:
        # Composing a drawing of the whole field shows where that lies, and that the printer reaches all of it.
        draft = Draft()
        draft.rectangle(0.0, 0.0, field.width_mm, field.height_mm, Role.AID)
        return [draft.drawing(field.width_mm, field.height_mm, "the field")]

    page = compose(content._replace(draw=fill), setup)[0]
    frame, whole = page.placed
    field = Field(whole.drawing.width_mm, whole.drawing.height_mm)
    if setup.printer:
        spread = setup.printer.spread_mm
        undone = {id(piece.drawing): compensated(piece.drawing, spread) for piece in pieces}
        pieces = [replace(piece, drawing=undone[id(piece.drawing)]) for piece in pieces]
    pages = []
    for spots in nest(pieces, field, gap_mm):
        # Moved up together as far as they go: nesting fills a field from its foot, and a page is cut from its top.
        spare = field.height_mm - max(spot.y + spot.drawing.height_mm for spot in spots)
        lifted = (spot._replace(x=spot.x + whole.x, y=spot.y + whole.y + spare) for spot in spots)
        pages.append(page._replace(placed=(frame, *lifted)))
    return tuple(pages)
