"""The sheet that shows whether a print is true: base lines, a card outline, ink bars, and markers for a scan.

A plate fills the width of the field: a base of two long lines with crosses at its corners A (lower left), B, C and
D (counter-clockwise), and everything else inside it. Eight markers stand on the plate's edge. Its place on a page
depends on the paper and its orientation alone, never on a title or a date.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from layouts.drawing import lettering
from layouts.drawing.marks import Draft, Drawing, Point
from layouts.drawing.words import NAME, WORDS
from layouts.errors import DoesNotFit, OutOfRange
from layouts.pages.page import Content, Field, Placed, Setup
from layouts.pages.paper import Paper
from layouts.pages.sheet import compose
from layouts.printing.check_blocks import (
    BETWEEN_MM,
    CARD_HEIGHT_MM,
    CARD_WIDTH_MM,
    card_outline,
    card_words,
    causes_block,
    ink_block,
    record_block,
    record_rows,
    settings_block,
)
from layouts.printing.printer import Printer
from layouts.units import positive

SHEET = "printer-check 1"  # its version: it rises when a base line or a marker moves
MARKER_MM, MARKER_HOLE_MM = 6.0, 2.0

_SIDE = 10.0  # least space between a base and the sides of the field: a marker, and air
_OVERSHOOT, _STUB = 3.0, 12.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Base:
    """The long base lines: two sides of a rectangle and its diagonals, all true to 0.01 mm, and the space around."""

    across_mm: float
    along_mm: float
    diagonal_mm: float
    margin_mm: float  # above and below, to the edge of the plate

    def __post_init__(self) -> None:
        for size in (self.across_mm, self.along_mm, self.diagonal_mm, self.margin_mm):
            positive(size, "a base line")
        if abs(math.hypot(self.across_mm, self.along_mm) - self.diagonal_mm) > 1e-9:
            raise OutOfRange(
                f"a diagonal of {self.diagonal_mm:g} mm on {self.across_mm:g} x {self.along_mm:g} mm",
                "give sides whose squares add up to its square",
            )

    @property
    def plate_mm(self) -> float:
        """Height of the plate: the base and the margins above and below."""
        return self.along_mm + 2 * self.margin_mm

    @property
    def lines(self) -> tuple[tuple[str, str, float], ...]:
        """Each base line: its corners, its way, its length in mm."""
        return (
            ("A–B", "across", self.across_mm),
            ("A–D", "along", self.along_mm),
            ("A–C", "diagonal", self.diagonal_mm),
            ("B–D", "diagonal", self.diagonal_mm),
        )


def _base(across: float, along: float, diagonal: float, margin: float) -> Base:
    return Base(across_mm=across, along_mm=along, diagonal_mm=diagonal, margin_mm=margin)


# Whole-number right triangles, the longest diagonal first.
_BASES = (
    _base(360, 192, 408, 17),
    _base(240, 320, 400, 14.5),
    _base(300, 125, 325, 10),
    _base(154, 247.5, 291.5, 18),
    _base(225, 120, 255, 9.5),
    _base(150, 200, 250, 13),
    _base(144, 192, 240, 8.5),
    _base(151.2, 63, 163.8, 7.25),
    _base(84, 112, 140, 10),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Marker:
    """A filled disc for a scan to find: its centre, its diameter, and that of its white middle (0: none), mm."""

    x_mm: float
    y_mm: float
    diameter_mm: float = MARKER_MM
    hole_mm: float = 0.0

    def __post_init__(self) -> None:
        positive(self.diameter_mm, "a marker's diameter")
        if not (math.isfinite(self.x_mm + self.y_mm) and 0 <= self.hole_mm < self.diameter_mm):
            raise OutOfRange("a marker whose white middle is not the smaller", "give the diameter of the ink first")


def base_for(field: Field) -> Base:
    """The base with the longest diagonal that fits the field. Refuses (`DoesNotFit`) a field too small for any."""
    for base in _BASES:
        if base.across_mm + 2 * _SIDE <= field.width_mm and base.plate_mm <= field.height_mm:
            return base
    least = _BASES[-1]
    needs = least.across_mm + 2 * _SIDE, least.plate_mm
    raise DoesNotFit("the printer check", needs, (field.width_mm, field.height_mm), "try a5 or a larger paper")


def markers(field: Field) -> tuple[Marker, ...]:
    """The eight markers of the plate in a field, in mm from the field's lower left corner.

    Counter-clockwise from the lower left, corners and middles of the sides in turn. The first one is a ring: it
    tells which way up a scan is, and, as the plate is no square, whether it is mirrored.
    """
    low, width, height = MARKER_MM / 2, field.width_mm, base_for(field).plate_mm
    right, top = width - low, height - low
    middle, mid_height = width / 2, height / 2
    first = Marker(x_mm=low, y_mm=low, hole_mm=MARKER_HOLE_MM)
    places = (
        *((middle, low), (right, low), (right, mid_height)),
        *((right, top), (middle, top), (low, top), (low, mid_height)),
    )
    return first, *(Marker(x_mm=x, y_mm=y) for x, y in places)


def _plate_on(paper: Paper, printer: Printer | None) -> Placed:
    (page,) = compose(printer_check(), Setup(paper=paper, printer=printer))
    return page.placed[1]


def base_on(paper: Paper, printer: Printer | None = None) -> Base:
    """The base lines of the sheet on a paper; a sheet that is corrected for a printer has a little less room."""
    plate = _plate_on(paper, printer).drawing
    return base_for(Field(plate.width_mm, plate.height_mm))


def card_on(paper: Paper) -> tuple[float, float]:
    """A card's size in mm, across and along, as it lies on the sheet."""
    lies_flat = base_on(paper).across_mm >= CARD_WIDTH_MM
    return (CARD_WIDTH_MM, CARD_HEIGHT_MM) if lies_flat else (CARD_HEIGHT_MM, CARD_WIDTH_MM)


def markers_on(paper: Paper, printer: Printer | None = None) -> tuple[Marker, ...]:
    """The eight markers in mm from the lower left corner of the paper, before any correction of the printer."""
    plate = _plate_on(paper, printer)
    field = Field(plate.drawing.width_mm, plate.drawing.height_mm)
    return tuple(replace(m, x_mm=m.x_mm + plate.x, y_mm=m.y_mm + plate.y) for m in markers(field))


def printer_check() -> Content:
    """The sheet that shows whether a print is true, on one page of any paper from A5 up.

    On A5 it has the base lines, the card outline and the markers, and leaves the rest out for want of room.
    """
    return Content(
        title="Printer check",
        facts=(
            ("base lines", "true to 0.01 mm"),
            ("bank card", f"{CARD_WIDTH_MM:.2f} × {CARD_HEIGHT_MM:.2f} mm"),
            ("marks", f"Ø {MARKER_MM:g} mm"),
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
        _draw_marker(draft, marker)
    left, bottom = (field.width_mm - base.across_mm) / 2, base.margin_mm
    draft.add(_base_lines(base), left, bottom)
    for block, x, y in _arranged(base):
        draft.add(block.marks, left + x, bottom + y)
    return draft.drawing(field.width_mm, field.height_mm, "printer check")


def _draw_marker(draft: Draft, marker: Marker) -> None:
    if marker.hole_mm:
        draft.annulus(marker.x_mm, marker.y_mm, marker.diameter_mm / 2, marker.hole_mm / 2)
    else:
        draft.disc(marker.x_mm, marker.y_mm, marker.diameter_mm / 2)


# --- the base lines


def _base_lines(base: Base) -> Draft:
    """The base with its lower left cross, A, at the origin."""
    draft = Draft()
    across, along, over = base.across_mm, base.along_mm, _OVERSHOOT
    for y in (0.0, along):
        draft.line(-over, y, across + over, y)
    for x in (0.0, across):
        draft.line(x, -over, x, along + over)
    for letter, x, y in (("A", 0.0, 0.0), ("B", across, 0.0), ("C", across, along), ("D", 0.0, along)):
        _corner(draft, letter, (x, y), base)
    _side_labels(draft, base)
    return draft


def _corner(draft: Draft, letter: str, at: Point, base: Base) -> None:
    """The start of the diagonal, and the corner's letter outside."""
    (x, y), diagonal = at, base.diagonal_mm
    inward_x, inward_y = (1 if x == 0 else -1), (1 if y == 0 else -1)
    draft.line(x, y, x + inward_x * _STUB * base.across_mm / diagonal, y + inward_y * _STUB * base.along_mm / diagonal)
    away = 2.6
    draft.text(x - inward_x * away, y - inward_y * away - 0.36 * NAME, letter, NAME, anchor="middle", bold=True)


def _side_labels(draft: Draft, base: Base) -> None:
    """The true length of each side, just inside it."""
    across, along, size = base.across_mm, base.along_mm, WORDS
    capital = lettering.CAP_HEIGHT * size
    x = 0.81 * across if _is_low(base) else across / 2
    for y in (1.5, along - 1.5 - capital):
        draft.text(x, y, f"across {across:.2f} mm", size, anchor="middle")
    for x in (1.5 + capital, across - 1.5):
        draft.text(x, along / 2, f"along {along:.2f} mm", size, anchor="middle", angle_deg=90)


# --- where the blocks stand inside the base

_Placed = tuple[Drawing, float, float]


def _arranged(base: Base) -> Iterator[_Placed]:
    """The blocks with their lower left corners, from cross A."""
    if _is_low(base):
        return _low(base)
    if base.across_mm < CARD_WIDTH_MM:
        return _narrow(base)
    return _wide(base) if base.across_mm > base.along_mm else _tall(base)


def _is_low(base: Base) -> bool:
    """Whether a card only just fits between the long sides."""
    return base.along_mm < CARD_HEIGHT_MM + 16


def _low(base: Base) -> Iterator[_Placed]:
    """Card beside record, clear of the diagonals."""
    card = card_outline(card_words(CARD_WIDTH_MM, CARD_HEIGHT_MM))
    yield card, 13.0, 2.8
    x = 13.0 + card.width_mm + 4
    yield record_block(base.lines, base.across_mm - 7 - x, CARD_HEIGHT_MM - 6), x, 7.2


def _narrow(base: Base) -> Iterator[_Placed]:
    """The card upright, the record in it."""
    words = card_words(CARD_HEIGHT_MM, CARD_WIDTH_MM, limits=False)
    words.add(record_rows(base.lines, CARD_HEIGHT_MM - 8), 4, 16)
    card = card_outline(words, upright=True)
    yield card, (base.across_mm - CARD_HEIGHT_MM) / 2, (base.along_mm - CARD_WIDTH_MM) / 2


def _tall(base: Base) -> Iterator[_Placed]:
    """Three rows: card and record, ink, words."""
    width = min(base.across_mm - 13, 190.0)
    card = card_outline(card_words(CARD_WIDTH_MM, CARD_HEIGHT_MM))
    words = 0.42 * (width - BETWEEN_MM)
    rows = (
        (card, _below_scale(card, record_block(base.lines, width - card.width_mm - BETWEEN_MM, CARD_HEIGHT_MM))),
        (ink_block(width),),
        (settings_block(words), causes_block(width - BETWEEN_MM - words)),
    )
    return _stacked(rows, (base.across_mm - width) / 2, base.along_mm)


def _wide(base: Base) -> Iterator[_Placed]:
    """Two rows: card, record and settings; ink and ratios."""
    ink = 136.0
    words = min(base.across_mm - 13 - ink - BETWEEN_MM, 80.0)
    card = card_outline(card_words(CARD_WIDTH_MM, CARD_HEIGHT_MM))
    record = record_block(base.lines, ink - card.width_mm - BETWEEN_MM, CARD_HEIGHT_MM)
    rows = (
        (card, _below_scale(card, record), _below_scale(card, settings_block(words))),
        (ink_block(ink), causes_block(words)),
    )
    return _stacked(rows, (base.across_mm - ink - BETWEEN_MM - words) / 2, base.along_mm)


def _below_scale(card: Drawing, block: Drawing) -> Drawing:
    """A block with room above, so that its head is level with a card's outline and not with the scale on it."""
    return replace(block, height_mm=block.height_mm + card.height_mm - CARD_HEIGHT_MM)


def _stacked(rows: Sequence[Sequence[Drawing]], left: float, height: float) -> Iterator[_Placed]:
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
