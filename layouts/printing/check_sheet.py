"""The sheet that shows whether a print is true: base lines, a card outline, ink bars, and markers for a scan.

A plate fills the width of the field: a base of two long lines with crosses at its corners A (lower left), B, C and
D (counter-clockwise), and everything else inside it. Eight markers stand on the plate's edge. Its place on a page
depends on the paper and its orientation alone, never on a title or a date.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from layouts.drawing import lettering
from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.pens import Role
from layouts.drawing.words import NAME, WORDS
from layouts.lengths import sized, sized_each
from layouts.pages.page import Content, Field, Placed, Setup
from layouts.pages.paper import Paper
from layouts.pages.sheet import compose
from layouts.printing.check_blocks import (
    BETWEEN_MM,
    INK_MM,
    Block,
    card_outline,
    card_words,
    causes_block,
    ink_block,
    record_block,
    record_rows,
    settings_block,
)
from layouts.printing.plate import MARKER_HOLE_MM, MARKER_MM, Base, Marker, base_for, markers
from layouts.printing.printer import Printer
from layouts.scanning import bank_card
from layouts.scanning.target import Target

SHEET = "printer-check 2"  # its version: it rises when a base line or a marker moves

_OVERSHOOT, _STUB = 3.0, 12.0


def _plate_on(paper: Paper, printer: Printer | None) -> Placed:
    (page,) = compose(printer_check(), Setup(paper=paper, printer=printer))
    return page.placed[1]


def base_on(paper: Paper, printer: Printer | None = None) -> Base:
    """The base lines of the sheet on a paper; a sheet that is corrected for a printer has a little less room."""
    plate = _plate_on(paper, printer).drawing
    return base_for(Field(plate.width_mm, plate.height_mm))


def card_on(paper: Paper) -> tuple[float, float]:
    """A card's size in mm, across and along, as it lies on the sheet."""
    lies_flat = base_on(paper).across_mm >= bank_card.WIDTH_MM
    return (bank_card.WIDTH_MM, bank_card.HEIGHT_MM) if lies_flat else (bank_card.HEIGHT_MM, bank_card.WIDTH_MM)


def markers_on(paper: Paper, printer: Printer | None = None) -> tuple[Marker, ...]:
    """The eight markers in mm from the lower left corner of the paper, before any correction of the printer."""
    return _markers_on(_plate_on(paper, printer))


def _markers_on(plate: Placed) -> tuple[Marker, ...]:
    field = Field(plate.drawing.width_mm, plate.drawing.height_mm)
    return tuple(replace(m, x_mm=m.x_mm + plate.x, y_mm=m.y_mm + plate.y) for m in markers(field))


_ROOM_MM = 12.0  # what is printed so near the card's outline may lie at its edge


def target_on(paper: Paper, printer: Printer | None = None) -> Target:
    """What a scan of the sheet on this paper is compared with, before any correction of the printer.

    On a sheet that is corrected for a printer the fine bars, which are never corrected, are left out.
    """
    plate = _plate_on(paper, printer)
    field = Field(plate.drawing.width_mm, plate.drawing.height_mm)
    base = base_for(field)
    x, y = plate.x + (field.width_mm - base.across_mm) / 2, plate.y + base.margin_mm
    blocks = [block.moved(x + left, y + bottom) for block, left, bottom in _arranged(base)]
    card, rule = next((block.card, block.rule) for block in blocks if block.card)
    low_x, low_y, high_x, high_y = card[0] - _ROOM_MM, card[1] - _ROOM_MM, card[2] + _ROOM_MM, card[3] + _ROOM_MM
    marks = (mark.moved(plate.x, plate.y) for mark in plate.drawing.marks if mark.role is not Role.FOLD)
    return Target(
        label=paper.label,
        discs=tuple((m.x_mm, m.y_mm) for m in _markers_on(plate)),
        radius_mm=MARKER_MM / 2,
        hole_mm=MARKER_HOLE_MM / 2,
        card=card,
        rule=rule,
        ink=tuple(
            box
            for box in (mark.inked for mark in marks)
            if box[0] < high_x and box[2] > low_x and box[1] < high_y and box[3] > low_y
        ),
        stripes=tuple(
            stripes
            for block in blocks
            for stripes in block.stripes
            if not printer or min(high - low for low, high in stripes.ink) >= min(INK_MM) - 1e-9
        ),
    )


def printer_check() -> Content:
    """The sheet that shows whether a print is true, on one page of any paper from A5 up.

    On A5 it has the base lines, the card outline and the markers, and leaves the rest out for want of room.
    """
    return Content(
        title="Printer check",
        facts=(
            ("base lines", f"true to {sized(0.01)}"),
            ("bank card", sized_each("{} × {}", (bank_card.WIDTH_MM, bank_card.HEIGHT_MM), 2)),
            ("marks", f"Ø {sized(MARKER_MM)}"),
        ),
        draw=lambda field: (_plate(field),),
        longest_bars=True,
        measures_printer=True,
    )


def _plate(field: Field) -> Drawing:
    """All of the sheet, its lower left corner at that of the field."""
    base = base_for(field)
    draft = Draft()
    for marker in markers(field):
        if marker.hole_mm:
            draft.annulus(marker.x_mm, marker.y_mm, marker.diameter_mm / 2, marker.hole_mm / 2)
        else:
            draft.disc(marker.x_mm, marker.y_mm, marker.diameter_mm / 2)
    left, bottom = (field.width_mm - base.across_mm) / 2, base.margin_mm
    draft.add(_base_lines(base), left, bottom)
    for block, x, y in _arranged(base):
        draft.add(block.drawing.marks, left + x, bottom + y)
    return draft.drawing(field.width_mm, field.height_mm, "printer check")


# --- the base lines


def _base_lines(base: Base) -> Draft:
    """The base with its lower left cross, A, at the origin; letters outside, the true lengths just inside."""
    draft = Draft()
    across, along, over = base.across_mm, base.along_mm, _OVERSHOOT
    for y in (0.0, along):
        draft.line(-over, y, across + over, y)
    for x in (0.0, across):
        draft.line(x, -over, x, along + over)
    for letter, x, y in (("A", 0.0, 0.0), ("B", across, 0.0), ("C", across, along), ("D", 0.0, along)):
        inward_x, inward_y = (1 if x == 0 else -1), (1 if y == 0 else -1)
        stub = _STUB / base.diagonal_mm  # the start of the diagonal
        draft.line(x, y, x + inward_x * stub * across, y + inward_y * stub * along)
        draft.text(x - inward_x * 2.6, y - inward_y * 2.6 - 0.36 * NAME, letter, NAME, anchor="middle", bold=True)
    capital = lettering.CAP_HEIGHT * WORDS
    x = 0.81 * across if _is_low(base) else across / 2
    for y in (1.5, along - 1.5 - capital):
        draft.text(x, y, f"across {sized(across, 2)}", WORDS, anchor="middle")
    for x in (1.5 + capital, across - 1.5):
        draft.text(x, along / 2, f"along {sized(along, 2)}", WORDS, anchor="middle", angle_deg=90)
    return draft


# --- where the blocks stand inside the base

_Placed = tuple[Block, float, float]


def _arranged(base: Base) -> Iterator[_Placed]:
    """The blocks with their lower left corners, from cross A."""
    if _is_low(base):  # card beside record, clear of the diagonals
        card = card_outline(card_words(bank_card.WIDTH_MM, bank_card.HEIGHT_MM))
        yield card, 13.0, 2.8
        x = 13.0 + card.width_mm + 4
        yield Block(drawing=record_block(base.lines, base.across_mm - 7 - x, bank_card.HEIGHT_MM - 6)), x, 7.2
    elif base.across_mm < bank_card.WIDTH_MM:  # the card upright, the record in it
        words = card_words(bank_card.HEIGHT_MM, bank_card.WIDTH_MM, limits=False)
        words.add(record_rows(base.lines, bank_card.HEIGHT_MM - 8), 4, 16)
        card = card_outline(words, upright=True)
        yield card, (base.across_mm - bank_card.HEIGHT_MM) / 2, (base.along_mm - bank_card.WIDTH_MM) / 2
    else:
        yield from _wide(base) if base.across_mm > base.along_mm else _tall(base)


def _is_low(base: Base) -> bool:
    """Whether a card only just fits between the long sides."""
    return base.along_mm < bank_card.HEIGHT_MM + 16


def _tall(base: Base) -> Iterator[_Placed]:
    """Three rows: card and record, ink, words."""
    width = min(base.across_mm - 13, 190.0)
    card = card_outline(card_words(bank_card.WIDTH_MM, bank_card.HEIGHT_MM))
    words = 0.42 * (width - BETWEEN_MM)
    rows = (
        (card, _below_scale(card, record_block(base.lines, width - card.width_mm - BETWEEN_MM, bank_card.HEIGHT_MM))),
        (ink_block(width),),
        (Block(drawing=settings_block(words)), Block(drawing=causes_block(width - BETWEEN_MM - words))),
    )
    return _stacked(rows, (base.across_mm - width) / 2, base.along_mm)


def _wide(base: Base) -> Iterator[_Placed]:
    """Two rows: card, record and settings; ink and ratios."""
    ink = 136.0
    words = min(base.across_mm - 13 - ink - BETWEEN_MM, 80.0)
    card = card_outline(card_words(bank_card.WIDTH_MM, bank_card.HEIGHT_MM))
    record = record_block(base.lines, ink - card.width_mm - BETWEEN_MM, bank_card.HEIGHT_MM)
    rows = (
        (card, _below_scale(card, record), _below_scale(card, settings_block(words))),
        (ink_block(ink), Block(drawing=causes_block(words))),
    )
    return _stacked(rows, (base.across_mm - ink - BETWEEN_MM - words) / 2, base.along_mm)


def _below_scale(card: Block, block: Drawing) -> Block:
    """A block with room above, so that its head is level with a card's outline and not with the scale on it."""
    height = block.height_mm + card.height_mm - bank_card.HEIGHT_MM
    return Block(drawing=replace(block, height_mm=height))


def _stacked(rows: Sequence[Sequence[Block]], left: float, height: float) -> Iterator[_Placed]:
    """Rows under one another with even gaps of at most 36 mm, centred in the height; tops level in a row."""
    tall = [max(block.height_mm for block in row) for row in rows]
    gap = min((height - 8 - sum(tall)) / (len(rows) + 1), 36.0)
    top = (height + sum(tall) + gap * (len(rows) - 1)) / 2
    for row, row_height in zip(rows, tall, strict=True):
        x = left
        for block in row:
            yield block, x, top - block.height_mm
            x += block.width_mm + BETWEEN_MM
        top -= row_height + gap
