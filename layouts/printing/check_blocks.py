"""What stands inside the base lines of the printer check: card outline, record, ink bars, settings, causes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from layouts.drawing import lettering
from layouts.drawing.marks import Box, Draft, Drawing, Line
from layouts.drawing.pens import Role
from layouts.drawing.words import FIGURE, HEADING, LINE_MM, WORDS, lines, listing, write
from layouts.lengths import are_inches, bare, bare_short, sized_each, unit_said
from layouts.printing.causes import causes
from layouts.scanning import bank_card
from layouts.scanning.target import Stripes
from layouts.units import positive

INK_MM = (0.5, 1.0, 2.0)  # black bars and white gaps to read by hand
FINE_MM = (0.12, 0.25)  # bars and gaps that a scan alone reads
BETWEEN_MM = 7.0

BaseLine = tuple[str, str, float]  # its corners, its way, its length in mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A drawing, and what a scan finds on it: the places of a card and a rule, and bars of ink; mm."""

    drawing: Drawing
    card: Box | None = None
    rule: Line | None = None
    stripes: tuple[Stripes, ...] = ()

    @property
    def width_mm(self) -> float:
        """Width of the drawing."""
        return self.drawing.width_mm

    @property
    def height_mm(self) -> float:
        """Height of the drawing."""
        return self.drawing.height_mm

    def moved(self, x: float, y: float) -> Block:
        """The same with everything a scan finds x to the right and y up; the drawing has its own corner."""
        return replace(
            self,
            card=self.card and (self.card[0] + x, self.card[1] + y, self.card[2] + x, self.card[3] + y),
            rule=self.rule and self.rule.moved(x, y),
            stripes=tuple(stripes.moved(x, y) for stripes in self.stripes),
        )


def card_outline(words: Draft, *, upright: bool = False) -> Block:
    """The outline that a bank card just covers, with scales at its right and top that read the size of the print."""
    draft = Draft()
    width, height = (bank_card.HEIGHT_MM, bank_card.WIDTH_MM) if upright else (bank_card.WIDTH_MM, bank_card.HEIGHT_MM)
    r = bank_card.RADIUS_MM
    for y in (0.0, height):
        draft.line(r, y, width - r, y)
    for x in (0.0, width):
        draft.line(x, r, x, height - r)
    corners = ((width - r, height - r), (r, height - r), (r, r), (width - r, r))
    for quarter, (x, y) in enumerate(corners):
        draft.arc(x, y, r, 90.0 * quarter, 90.0, Role.TICK)
    right = _card_scale(draft, width, 0.63 * height if upright else 0.38 * height, across=True)
    top = _card_scale(draft, height, 0.78 * width, across=False)
    draft.add(words)
    return Block(drawing=draft.drawing(right, top, "card outline"), card=(0.0, 0.0, width, height), rule=_dashes(width))


def card_edge_mm(nominal_mm: float, percent: float) -> float:
    """Where, in printed mm from the corner it is pushed into, a card's far edge falls on a print of `percent` size."""
    return nominal_mm * 100 / positive(percent, "a size of print")


def _card_scale(draft: Draft, nominal_mm: float, at: float, *, across: bool) -> float:
    """Ticks where the right or upper edge of a card falls on a print of 95 to 105 %. Returns the far end of the ink."""
    for percent in (*range(95, 100), *range(101, 106)):  # at 100 % stands the outline itself
        edge, tick = card_edge_mm(nominal_mm, percent), 2.2 if percent % 5 == 0 else 1.4
        draft.line(*((edge, at, edge, at + tick) if across else (at, edge, at + tick, edge)))
    for percent in (95, 105):
        edge = card_edge_mm(nominal_mm, percent)
        if across:
            draft.text(edge, at - 2.2, f"{percent}", FIGURE, anchor="middle")
        else:
            draft.text(at + 2.8, edge - 0.36 * FIGURE, f"{percent}", FIGURE)
    return card_edge_mm(nominal_mm, 95) + (1.5 if across else 1.0)


def card_words(width: float, height: float, *, limits: bool = True) -> Draft:
    """How to read the outline, and where a card or a rule lies for a scan."""
    draft = Draft()
    y = height - 8
    draft.text(4, y, "Bank card", HEADING, bold=True)
    draft.text(6.5 + lettering.width_mm("Bank card", HEADING, bold=True), y, "ISO/IEC 7810 ID-1", WORDS)
    y = write(draft, (4, y - LINE_MM - 0.8), lines(_CARD, width - 9))
    if limits:
        made = sized_each("{}–{} × {}–{}", (*bank_card.WIDTH_LIMITS_MM, *bank_card.HEIGHT_LIMITS_MM), 2)
        write(draft, (4, y - 0.8), lines(_CARD_LIMITS.format(made), width - 9))
    rule = _dashes(width)
    draft.line(rule.x1, rule.y1, rule.x2, rule.y2, rule.role)
    write(draft, (4, 8.4), lines(_SCAN, width - 8))
    return draft


def _dashes(width: float) -> Line:
    """The line that the edge of a rule lies on."""
    return Line(x1=4, y1=12.5, x2=width - 4, y2=12.5, role=Role.FOLD)


_CARD = (
    "Push a card into the lower left corner, half over the line. If its other edges halve the line too, the print "
    "is true. Line covered: too small. Line seen whole: too large. The ticks read the size in %."
)
_CARD_LIMITS = "Cards are made {} (from memory)."
_SCAN = "For a scan: a card here, a little turned, or a rule's edge on the dashes."


def record_block(base_lines: Sequence[BaseLine], width: float, height: float) -> Drawing:
    """The true length of each base line with a box to write the measured one, and room for printer and paper."""
    draft = Draft()
    draft.add(record_rows(base_lines, width), 0, height - _RECORD_MM)
    draft.text(0, height - _RECORD_MM - 3.2, "Measure from cross to cross.", WORDS)
    for words, line in (("printer", 6.2), ("paper", 0.1)):
        draft.text(0, line + 0.7, words, WORDS)
        draft.line(10.5, line, width, line, Role.LABEL)
    return draft.drawing(width, height, "record")


_RECORD_ROW, _RECORD_MM = 6.8, 32.0


def record_rows(base_lines: Sequence[BaseLine], width: float) -> Draft:
    """A row for each base line: its corners, its true length, a box for the measured one."""
    draft = Draft()
    y = _RECORD_MM - lettering.CAP_HEIGHT * WORDS
    draft.text(0, y, "True", WORDS, bold=True)
    draft.text(width, y, f"measured, {unit_said()}", WORDS, bold=True, anchor="end")
    for row, (corners, _way, length) in enumerate(base_lines, 1):
        y = 4 * _RECORD_ROW - _RECORD_ROW * row + 0.6
        draft.text(0, y + 1.7, corners, WORDS, bold=True)
        draft.text(15.6, y + 1.7, bare(length, 3 if are_inches() else 2), WORDS, anchor="end")
        draft.rectangle(17, y, width - 17.1, 5.4, Role.LABEL)
    return draft


def ink_block(width: float) -> Block:
    """Black bars and white gaps of the same width, both ways, with boxes to write what they measure."""
    draft = Draft()
    height = 37.0
    draft.text(0, height - 2.5, "Ink spread", HEADING, bold=True)
    rule = "s = (black bar − white gap) / 4: every edge of the ink grows by s, whatever the scale."
    draft.text(2.5 + lettering.width_mm("Ink spread", HEADING, bold=True), height - 2.5, rule, WORDS)
    half, stripes = (width - BETWEEN_MM) / 2, []
    for start, upright, words in ((0.0, True, "across"), (half + BETWEEN_MM, False, "along")):
        draft.text(start, height - 8, f"{words}, {unit_said()}", WORDS, bold=True)
        for column, size in enumerate(INK_MM):
            stripes.append(_ink_cell(draft, size, start + column * _CELL, upright=upright))
        stripes.append(_fine_bars(draft, start + len(INK_MM) * _CELL, upright=upright))
    return Block(drawing=draft.drawing(width, height, "ink bars"), stripes=tuple(stripes))


_CELL, _FOOT, _LONG = 19.0, 12.0, 12.6  # from cell to cell; where the bars start; how long they are
_WHITE = 0.7  # beside the outer bars nothing is printed


def _ink_cell(draft: Draft, size: float, left: float, *, upright: bool) -> Stripes:
    """One width: the bar alone, the gap between two blocks, and boxes for both."""
    block, space = 3.2, 2.2
    bars = ((0.0, size), (size + space, block), (2 * size + space + block, block))
    stripes = _stripes(draft, bars, left + 0.1, _LONG, Role.GAUGE, upright=upright)
    # beside the bars; an inch's places have no room there
    x, y = (left + 0.1, _FOOT + _LONG + 0.9) if are_inches() else (left + 14.4, _FOOT + _LONG / 2 - 0.9)
    draft.text(x, y, bare_short(size), WORDS, bold=True)
    for x, words in ((left + 0.1, "bar"), (left + 9.6, "gap")):
        draft.rectangle(x, 4, 8.6, 6, Role.LABEL)
        draft.text(x + 4.3, 1, words, FIGURE, anchor="middle")
    return stripes


def _fine_bars(draft: Draft, left: float, *, upright: bool) -> Stripes:
    """Bars and a gap too fine to be read by hand, which show a scan's tone curve. They are never corrected."""
    block, space = 1.2, 1.3
    thin, thick = FINE_MM
    start = thin + thick + 2 * space
    bars = ((0.0, thin), (thin + space, thick), (start, block), (start + block + thick, block))
    stripes = _stripes(draft, bars, left + 0.3, _LONG if upright else 6.4, Role.LABEL, upright=upright)
    for y, words in ((7.0, "for a"), (4.0, "scan")):
        draft.text(left + 0.3, y, words, FIGURE)
    return stripes


def _stripes(
    draft: Draft, bars: Sequence[tuple[float, float]], left: float, length: float, role: Role, *, upright: bool
) -> Stripes:
    """Bars, each with its start and its thickness, drawn from the lower left corner of a cell on."""
    start = left if upright else _FOOT
    for at, thick in bars:
        if upright:
            draft.bar(start + at, _FOOT, thick, length, role)
        else:
            draft.bar(left, start + at, length, thick, role)
    ink = tuple((start + at, start + at + thick) for at, thick in bars)
    low, high = ink[0][0] - _WHITE, ink[-1][1] + _WHITE
    box = (low, _FOOT, high, _FOOT + length) if upright else (left, low, left + length, high)
    return Stripes(box=box, upright=upright, ink=ink)


def settings_block(width: float) -> Drawing:
    """How print settings change the size of a page, and what to choose."""
    return listing(
        (
            "Choose actual size, or 100 %, where you print.",
            "Switch off: fit to page, shrink oversized pages, scale to the printable area.",
            "Switch off borderless: it makes the page larger.",
            "Name the paper that lies in the tray. With CUPS: lp -o print-scaling=none -o media=PAPER.",
            "Print again and measure again: a driver may forget.",
        ),
        width,
        "If it is not true",
        sign="dot",
    ).drawing()


def causes_block(width: float) -> Drawing:
    """The ratios that mean settings, each a candidate."""
    close = lines("Several lie close together: a ratio is a hint, not a proof.", width)
    pitch = 4.1
    listed = [cause for cause in causes() if cause.on_sheet]
    height = 5.2 + pitch * len(listed) + LINE_MM * len(close) + 1.2
    draft = Draft()
    y = height - 2.5
    draft.text(0, y, "Measured / true, and what it may be", HEADING, bold=True)
    draft.line(0, y - 1.7, width, y - 1.7, Role.AID)
    y -= 1.2
    for cause in listed:
        y -= pitch
        draft.text(0, y, cause.ratio, WORDS, bold=True)
        draft.text(23, y, cause.words, WORDS)
    write(draft, (0, y - 1.2 - LINE_MM), close)
    return draft.drawing(width, height, "causes")
