"""The pocket card: the gauge of one ring to cut out, with check bars of its own.

As wide as a label and of whole modules in height, so that the two nest with one another.
"""

from __future__ import annotations

from collections.abc import Sequence

from jigs.guides.pieces.gauge import COMPACT, SMALLEST_MM, Group, draw_gauge, groups, width_mm
from jigs.making.ring import Ring
from layouts.drawing import lettering
from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.pens import Role
from layouts.drawing.words import FIGURE, HEADING, LINE_MM, lines, write
from layouts.errors import DoesNotFit
from layouts.lengths import are_inches, bare, sized
from layouts.pages.nested import PIECE_MM, piece_height_mm

WIDTH_MM = PIECE_MM
ACROSS_MM, ALONG_MM = 60.0, 20.0  # its check bars: as long as the card has room for
_MARGIN_MM = 3.0
_BAR_MM = 8.2  # the bar across, with its figures
_SIDE_MM = 11.0  # the bar along
_ROOM_MM = WIDTH_MM - 2 * _MARGIN_MM - _SIDE_MM


def has_room(ring: Ring, tolerance_mm: float | None) -> bool:
    """Whether a pocket card can show the ring: not too large for it, nor too small for paper."""
    return ring.inside_mm >= SMALLEST_MM and all(
        width_mm(row, COMPACT) <= _ROOM_MM for row in _rows(ring, tolerance_mm)
    )


def pocket_card(name: str, about: Sequence[str], ring: Ring, tolerance_mm: float | None) -> Drawing:
    """The card of the wanted ring: ring and disc, the small and the large disc of its window, words about it.

    Refuses (`DoesNotFit`) a ring that is too large for it.
    """
    rows = _rows(ring, tolerance_mm)
    wide = max(width_mm(row, COMPACT) for row in rows)
    if wide > _ROOM_MM:
        raise DoesNotFit("a pocket card", (wide, ring.outside_mm), (_ROOM_MM, ring.outside_mm), "make a ring card")
    title = lines(name, _ROOM_MM, HEADING, bold=True)
    words = [line for sentence in about for line in lines(sentence, _ROOM_MM)]
    shapes = [max(outer for group in row for outer, _ in group.shapes_mm) for row in rows]
    head = lettering.LINE * HEADING * len(title) + LINE_MM * len(words) + 1.6
    tall = sum(shape + COMPACT.words_mm + 1.2 for shape in shapes)
    height = piece_height_mm(max(_MARGIN_MM + head + tall + _BAR_MM, ALONG_MM + 9.0))
    draft = Draft()
    draft.rectangle(0.0, 0.0, WIDTH_MM, height, Role.CUT)
    y = write(draft, (_MARGIN_MM, height - _MARGIN_MM - lettering.ASCENT * HEADING), title, HEADING, bold=True)
    write(draft, (_MARGIN_MM, y + 0.5), words)
    spare = (height - _MARGIN_MM - head - tall - _BAR_MM) / 2
    y = height - _MARGIN_MM - head - spare
    for row, shape in zip(rows, shapes, strict=True):
        draw_gauge(draft, row, (_MARGIN_MM, y), shape, COMPACT)
        y -= shape + COMPACT.words_mm + 1.2
    _bars(draft)
    return draft.drawing(WIDTH_MM, height, f"the ring card of {name}")


def _rows(ring: Ring, tolerance_mm: float | None) -> list[tuple[Group, ...]]:
    """The groups in one row, or in two where they are too wide for one."""
    found = groups(ring, tolerance_mm, COMPACT)
    return [found] if width_mm(found, COMPACT) <= _ROOM_MM or len(found) == 1 else [found[:1], found[1:]]


def _bars(draft: Draft) -> None:
    """A bar across the foot and one along the right side; the middle of the ticks counts."""
    x, y = _MARGIN_MM + 1.0, 5.4
    draft.line(x, y, x + ACROSS_MM, y)
    for mm in range(0, int(ACROSS_MM) + 1, 10):
        draft.line(x + mm, y, x + mm, y + (2.0 if mm % 20 == 0 else 1.3))
        if mm % 20 == 0 and (not are_inches() or mm in (0, ACROSS_MM)):
            words = sized(mm) if mm == ACROSS_MM else bare(mm)
            draft.text(
                x + mm,
                y - 2.9,
                words,
                FIGURE,
                anchor="end" if are_inches() and mm == ACROSS_MM else "middle",
                bold=mm == ACROSS_MM,
            )
    x = WIDTH_MM - _MARGIN_MM - 1.0
    draft.line(x, y, x, y + ALONG_MM)
    for mm in range(0, int(ALONG_MM) + 1, 10):
        draft.line(x, y + mm, x - (2.0 if mm % 20 == 0 else 1.3), y + mm)
    draft.text(x + 1.0, y + ALONG_MM + 1.2, sized(ALONG_MM), FIGURE, anchor="end", bold=True)
