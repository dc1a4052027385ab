"""Labels: one for a bag of rings, with the ring at true size to lay one on; one for a spool of wire.

All are of one width and of whole modules in height, so that they nest with one another and with winding strips.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from jigs.making.ring import Ring
from jigs.stock.wire import Wire
from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.pens import Role
from layouts.drawing.words import FIGURE, HEADING, WORDS, lines
from layouts.errors import OutOfRange
from layouts.lengths import sized_each
from layouts.pages.nested import PIECE_MM, piece_height_mm

WIDTH_MM = PIECE_MM
SMALLEST_MM, LARGEST_MM = 0.5, 36.0  # inside and outside of a ring that is drawn beside the words
_LEAST_MM = 30.0  # in height
_FOOT_MM = 6.7  # with the line to write on
_MARGIN_MM = 3.0
_NAME_STEP, _STEP = 4.3, 3.3
_NAMES_MM = 14.0  # the column of names


@dataclass(frozen=True, slots=True, kw_only=True)
class Bag:
    """What is in a bag: the wanted ring; `count` in words, such as "50 and 8 spare"; `metal` with its temper."""

    name: str
    wire: Wire
    metal: str
    ring: Ring
    mandrel: str
    count: str
    cut: str = ""
    wires: str = ""  # what was cut for it: "4 × 373, 1 × 238 mm"
    window: str = ""  # what passes: "4.90 to 5.10 mm"
    gives: str = ""  # the inside that the mandrel gives, where it is another


def bag_label(bag: Bag, *, each_seat: bool = False) -> Drawing:
    """The label of a bag of rings, with the ring from ID to OD in black at its right where it has room."""
    sizes = bag.ring.inside_mm, bag.ring.outside_mm
    entries = [
        ("wire", f"{bag.wire.in_words} {bag.metal}"),
        ("ring", f"{sized_each('ID {}, OD {}', sizes, 2)}, AR {bag.ring.aspect_ratio:.2f}"),
        *([("passes", f"ID {bag.window}")] if bag.window else []),
        ("mandrel", "; ".join(filter(None, (bag.mandrel, bag.gives and f"gives ID {bag.gives}", bag.cut)))),
        *([("lengths", bag.wires)] if bag.wires else []),
        ("rings", bag.count),
    ]
    return _label(f"the label of {bag.name}", bag.name, entries, "seat" if each_seat else "date", bag.ring)


def spool_label(wire: Wire, metal: str, entries: Sequence[tuple[str, str]]) -> Drawing:
    """The label of a spool: wire and metal, and what else there is to say of it, by name."""
    return _label(f"the label of {metal}", f"{wire.in_words} {metal}", entries, "opened")


def _label(
    name: str, heading: str, entries: Sequence[tuple[str, str]], blank: str, ring: Ring | None = None
) -> Drawing:
    """A framed label: heading, names and values, a line to write on, the ring."""
    if not heading.strip():
        raise OutOfRange("a label without a name", "say what it is for")
    drawn = ring if ring and ring.inside_mm >= SMALLEST_MM and ring.outside_mm <= LARGEST_MM else None
    side = drawn.outside_mm + 2 * _MARGIN_MM if drawn else 0.0
    room = WIDTH_MM - _MARGIN_MM - max(side, _MARGIN_MM)
    rows = [("", words, True) for words in lines(heading, room, HEADING, bold=True)]
    for entry, value in entries:
        parts = enumerate(lines(value, room - _NAMES_MM))
        rows += [("" if number else entry, words, False) for number, words in parts]
    tall = _MARGIN_MM - 0.8 + sum(_NAME_STEP if bold else _STEP for _, _, bold in rows) + _FOOT_MM
    height = piece_height_mm(max(_LEAST_MM, tall, side + 2.0 if drawn else 0.0))
    draft = Draft()
    draft.rectangle(0.0, 0.0, WIDTH_MM, height, Role.CUT)
    y = height - _MARGIN_MM + 0.8
    for entry, words, is_heading in rows:
        y -= _NAME_STEP if is_heading else _STEP
        if is_heading:
            draft.text(_MARGIN_MM, y + 0.8, words, HEADING, bold=True)
        else:
            if entry:
                draft.text(_MARGIN_MM, y, entry, WORDS)
            draft.text(_MARGIN_MM + _NAMES_MM, y, words, WORDS, bold=True)
    draft.text(_MARGIN_MM, 2.6, blank, WORDS)
    draft.line(_MARGIN_MM + _NAMES_MM, 2.0, _MARGIN_MM + min(room, 54.0), 2.0, Role.AID)
    if drawn:
        middle = height / 2 + 1.6
        draft.annulus(WIDTH_MM - side / 2, middle, drawn.outside_mm / 2, drawn.inside_mm / 2)
        if side >= 12.0:  # else the words are wider than their column
            draft.text(WIDTH_MM - side / 2, middle - drawn.outside_mm / 2 - 3.2, "true size", FIGURE, anchor="middle")
    return draft.drawing(WIDTH_MM, height, name, origin=(0.0, height))
