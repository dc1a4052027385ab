"""The sheet that shows whether a print is true: base lines, a card outline, ink bars, and markers for a scan.

A plate fills the width of the field: a base of two long lines with crosses at its corners A (lower left), B, C and
D (counter-clockwise), and everything else inside it. Eight markers stand on the plate's edge. Its place on a page
hangs on the paper and its orientation alone, never on a title or a date.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from layouts.drawing import lettering
from layouts.drawing.marks import Draft, Drawing, Point
from layouts.drawing.pens import Role
from layouts.errors import DoesNotFit, OutOfRange
from layouts.pages.page import Content, Field, Placed, Setup
from layouts.pages.paper import Paper
from layouts.pages.sheet import compose
from layouts.printing.causes import causes
from layouts.printing.printer import Printer
from layouts.units import positive

SHEET = "printer-check 1"  # its version: it rises when a base line or a marker moves
# ISO/IEC 7810 ID-1, mm; the limits of the size from memory.
CARD_WIDTH_MM, CARD_HEIGHT_MM, CARD_RADIUS_MM = 85.60, 53.98, 3.18
INK_MM = (0.5, 1.0, 2.0)  # black bars and white gaps
MARKER_MM, MARKER_HOLE_MM = 6.0, 2.0

_SIDE = 10.0  # least space between a base and the sides of the field: a marker, and air
_OVERSHOOT, _STUB = 3.0, 12.0
_WORDS, _HEADING, _SMALL = 2.5, 3.2, 2.2
_LEAD = 3.4  # from line to line of words
_GAP = 7.0


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
    size, away = 3.0, 2.6
    draft.text(x - inward_x * away, y - inward_y * away - 0.36 * size, letter, size, anchor="middle", bold=True)


def _side_labels(draft: Draft, base: Base) -> None:
    """The true length of each side, just inside it."""
    across, along, size = base.across_mm, base.along_mm, _WORDS
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
    card = _card(_card_words(CARD_WIDTH_MM, CARD_HEIGHT_MM))
    yield card, 13.0, 2.8
    x = 13.0 + card.width_mm + 4
    yield _record(base, base.across_mm - 7 - x, CARD_HEIGHT_MM - 6), x, 7.2


def _narrow(base: Base) -> Iterator[_Placed]:
    """The card upright, the record in it."""
    words = _card_words(CARD_HEIGHT_MM, CARD_WIDTH_MM, limits=False)
    words.add(_record_rows(base, CARD_HEIGHT_MM - 8), 4, 16)
    card = _card(words, upright=True)
    yield card, (base.across_mm - CARD_HEIGHT_MM) / 2, (base.along_mm - CARD_WIDTH_MM) / 2


def _tall(base: Base) -> Iterator[_Placed]:
    """Three rows: card and record, ink, words."""
    width = min(base.across_mm - 13, 190.0)
    card = _card(_card_words(CARD_WIDTH_MM, CARD_HEIGHT_MM))
    words = 0.42 * (width - _GAP)
    rows = (
        (card, _below_scale(card, _record(base, width - card.width_mm - _GAP, CARD_HEIGHT_MM))),
        (_ink(width),),
        (_settings(words), _causes(width - _GAP - words)),
    )
    return _stacked(rows, (base.across_mm - width) / 2, base.along_mm)


def _wide(base: Base) -> Iterator[_Placed]:
    """Two rows: card, record and settings; ink and ratios."""
    ink = 136.0
    words = min(base.across_mm - 13 - ink - _GAP, 80.0)
    card = _card(_card_words(CARD_WIDTH_MM, CARD_HEIGHT_MM))
    record = _record(base, ink - card.width_mm - _GAP, CARD_HEIGHT_MM)
    rows = (
        (card, _below_scale(card, record), _below_scale(card, _settings(words))),
        (_ink(ink), _causes(words)),
    )
    return _stacked(rows, (base.across_mm - ink - _GAP - words) / 2, base.along_mm)


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
            x += block.width_mm + _GAP
        top -= row_height + gap


# --- the blocks


def _card(words: Draft, *, upright: bool = False) -> Drawing:
    """The outline that a bank card just covers, with scales at its right and top that read the size of the print."""
    draft = Draft()
    width, height = (CARD_HEIGHT_MM, CARD_WIDTH_MM) if upright else (CARD_WIDTH_MM, CARD_HEIGHT_MM)
    _rounded(draft, width, height, CARD_RADIUS_MM)
    right = _card_scale_across(draft, width, 0.63 * height if upright else 0.38 * height)
    top = _card_scale_along(draft, height, 0.78 * width)
    draft.add(words)
    return draft.drawing(right, top, "card outline")


def _rounded(draft: Draft, width: float, height: float, r: float) -> None:
    """A rectangle with rounded corners, its lower left at the origin; the middle of the line counts."""
    for y in (0.0, height):
        draft.line(r, y, width - r, y)
    for x in (0.0, width):
        draft.line(x, r, x, height - r)
    corners = ((width - r, height - r), (r, height - r), (r, r), (width - r, r))
    for quarter, (x, y) in enumerate(corners):
        draft.arc(x, y, r, 90.0 * quarter, 90.0, Role.TICK)


def card_edge_mm(nominal_mm: float, percent: float) -> float:
    """Where, in printed mm from the corner it is pushed into, a card's far edge falls on a print of `percent` size."""
    return nominal_mm * 100 / positive(percent, "a size of print")


def _card_scale_across(draft: Draft, width: float, y: float) -> float:
    """Ticks where the right edge of a card falls on a print of 95 to 105 %. Returns the right end of the ink."""
    for percent in (*range(95, 100), *range(101, 106)):
        x = card_edge_mm(width, percent)
        draft.line(x, y, x, y + (2.2 if percent % 5 == 0 else 1.4))
    for percent in (95, 105):
        draft.text(card_edge_mm(width, percent), y - 2.2, f"{percent}", _SMALL, anchor="middle")
    return card_edge_mm(width, 95) + 1.5


def _card_scale_along(draft: Draft, height: float, x: float) -> float:
    """The same for the upper edge. Returns the upper end of the ink."""
    for percent in (*range(95, 100), *range(101, 106)):
        y = card_edge_mm(height, percent)
        draft.line(x, y, x + (2.2 if percent % 5 == 0 else 1.4), y)
    for percent in (95, 105):
        draft.text(x + 2.8, card_edge_mm(height, percent) - 0.36 * _SMALL, f"{percent}", _SMALL)
    return card_edge_mm(height, 95) + 1.0


def _card_words(width: float, height: float, *, limits: bool = True) -> Draft:
    """How to read the outline, and where a card or a rule lies for a scan."""
    draft = Draft()
    y = height - 8
    draft.text(4, y, "Bank card", _HEADING, bold=True)
    draft.text(20.5, y, "ISO/IEC 7810 ID-1", _WORDS)
    y = _paragraph(draft, _CARD, 4, y - _LEAD - 0.8, width - 9)
    if limits:
        _paragraph(draft, _CARD_LIMITS, 4, y - 0.8, width - 9)
    draft.line(4, 12.5, width - 4, 12.5, Role.FOLD)
    _paragraph(draft, _SCAN, 4, 8.4, width - 8)
    return draft


_CARD = (
    "Push a card into the lower left corner, half over the line. If its other edges halve the line too, the print "
    "is true. Line covered: too small. Line seen whole: too large. The ticks read the size in %."
)
_CARD_LIMITS = "Cards are made 85.47–85.72 × 53.92–54.03 mm (from memory)."
_SCAN = "For a scan: a card here, a little turned, or a rule's edge on the dashes."


def _record(base: Base, width: float, height: float) -> Drawing:
    """The true length of each base line with a box to write the measured one, and room for printer and paper."""
    draft = Draft()
    draft.add(_record_rows(base, width), 0, height - _RECORD_MM)
    draft.text(0, height - _RECORD_MM - 3.2, "Measure from cross to cross.", _WORDS)
    for words, line in (("printer", 6.2), ("paper", 0.1)):
        draft.text(0, line + 0.7, words, _WORDS)
        draft.line(10.5, line, width, line, Role.LABEL)
    return draft.drawing(width, height, "record")


_RECORD_ROW, _RECORD_MM = 6.8, 32.0


def _record_rows(base: Base, width: float) -> Draft:
    draft = Draft()
    y = _RECORD_MM - lettering.CAP_HEIGHT * _WORDS
    draft.text(0, y, "True", _WORDS, bold=True)
    draft.text(width, y, "measured, mm", _WORDS, bold=True, anchor="end")
    for row, (corners, _way, length) in enumerate(base.lines, 1):
        y = 4 * _RECORD_ROW - _RECORD_ROW * row + 0.6
        draft.text(0, y + 1.7, corners, _WORDS, bold=True)
        draft.text(15.6, y + 1.7, f"{length:.2f}", _WORDS, anchor="end")
        draft.rectangle(17, y, width - 17.1, 5.4, Role.LABEL)
    return draft


def _ink(width: float) -> Drawing:
    """Black bars and white gaps of the same width, both ways, with boxes to write what they measure."""
    draft = Draft()
    height = 37.0
    draft.text(0, height - 2.5, "Ink spread", _HEADING, bold=True)
    rule = "s = (black bar − white gap) / 4: every edge of the ink grows by s, whatever the scale."
    draft.text(20, height - 2.5, rule, _WORDS)
    half = (width - _GAP) / 2
    for start, upright, words in ((0.0, True, "across"), (half + _GAP, False, "along")):
        draft.text(start, height - 8, f"{words}, mm", _WORDS, bold=True)
        for column, size in enumerate(INK_MM):
            draft.add(_ink_cell(size, upright=upright), start + column * half / 3, 0)
    return draft.drawing(width, height, "ink bars")


def _ink_cell(size: float, *, upright: bool) -> Draft:
    """One width: the bar alone, the gap between two blocks, and boxes for both."""
    draft = Draft()
    block, space, length, left, foot = 3.2, 2.2, 12.6, 0.1, 12.0
    starts = ((0.0, size), (size + space, block), (2 * size + space + block, block))
    for start, thick in starts:
        if upright:
            draft.bar(left + start, foot, thick, length)
        else:
            draft.bar(left, foot + start, length, thick)
    draft.text(14.4, foot + length / 2 - 0.9, f"{size:g}", _WORDS, bold=True)
    for x, words in ((left, "bar"), (9.6, "gap")):
        draft.rectangle(x, 4, 8.6, 6, Role.LABEL)
        draft.text(x + 4.3, 1, words, _SMALL, anchor="middle")
    return draft


def _settings(width: float) -> Drawing:
    """How print settings change the size of a page, and what to choose."""
    return _words_block(
        "If it is not true",
        (
            "Choose actual size, or 100 %, where you print.",
            "Switch off: fit to page, shrink oversized pages, scale to the printable area.",
            "Switch off borderless: it makes the page larger.",
            "Name the paper that lies in the tray.",
            "Print again and measure again: a driver may forget.",
        ),
        width,
    )


def _words_block(heading: str, items: Sequence[str], width: float) -> Drawing:
    lines = [(first, line) for item in items for first, line in _itemised(item, width - 3.2)]
    height = 4.4 + sum(_LEAD + (0.9 if first else 0) for first, _ in lines)
    draft = Draft()
    y = height - 2.5
    draft.text(0, y, heading, _HEADING, bold=True)
    y -= 1.2
    for first, line in lines:
        y -= _LEAD + (0.9 if first else 0)
        if first:
            draft.disc(0.8, y + 0.85, 0.4, Role.LABEL)
        draft.text(3.0, y, line, _WORDS)
    return draft.drawing(width, height, heading.lower())


def _itemised(item: str, width: float) -> Iterator[tuple[bool, str]]:
    for number, line in enumerate(lettering.wrap(item, _WORDS, width)):
        yield number == 0, line


def _causes(width: float) -> Drawing:
    """The ratios that mean settings, each a candidate."""
    close = lettering.wrap("Several lie close together: a ratio is a hint, not a proof.", _WORDS, width)
    pitch = 4.1
    listed = [cause for cause in causes() if cause.on_sheet]
    height = 5.2 + pitch * len(listed) + _LEAD * len(close) + 1.2
    draft = Draft()
    y = height - 2.5
    draft.text(0, y, "Measured / true, and what it may be", _HEADING, bold=True)
    draft.line(0, y - 1.7, width, y - 1.7, Role.AID)
    y -= 1.2
    for cause in listed:
        y -= pitch
        draft.text(0, y, cause.ratio, _WORDS, bold=True)
        draft.text(23, y, cause.words, _WORDS)
    y -= 1.2
    for line in close:
        y -= _LEAD
        draft.text(0, y, line, _WORDS)
    return draft.drawing(width, height, "causes")


def _paragraph(draft: Draft, words: str, x: float, y: float, width: float) -> float:
    """Words in lines from the baseline y down. Returns the last baseline."""
    for line in lettering.wrap(words, _WORDS, width):
        draft.text(x, y, line, _WORDS)
        y -= _LEAD
    return y
