"""Words on a sheet: the one scale of lettering, lines that fit a width, and lists under a heading.

A line breaks at spaces. It breaks inside a word only where the word alone is wider than the room, and a last line
never has one word alone where the line above can give it another.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal, NamedTuple

from layouts.drawing import lettering
from layouts.drawing.marks import Anchor, Draft, Drawing
from layouts.drawing.pens import PENS, Role
from layouts.errors import OutOfRange

# The scale of lettering, em sizes in mm: the name of a sheet, a heading, a name, words to read, figures on scales.
# Nothing on any sheet is set smaller than the last.
TITLE, HEADING, NAME, WORDS, FIGURE = 6.4, 3.6, 2.9, 2.5, 2.2

LINE_MM = lettering.LINE * WORDS
HEADING_MM = 5.4  # a heading with the room under it
BETWEEN_MM = 0.9  # from one item of a list to the next, besides the line
BOX_MM, BOX_STEP_MM = 2.8, 4.0  # a box to tick, and from one to the next
HAIR_MM = PENS[Role.AID].width_mm / 2

Sign = Literal["", "box", "number", "dot"]
_INDENT_MM = {"": 0.0, "box": 5.0, "number": 4.2, "dot": 3.0}


def lines(string: str, within_mm: float, size_mm: float = WORDS, *, bold: bool = False) -> list[str]:
    """The string in lines no wider than `within_mm`, broken at spaces, and inside a word wider than that by itself."""
    found: list[str] = []
    for line in lettering.wrap(string, size_mm, within_mm, bold=bold):
        while lettering.width_mm(line, size_mm, bold=bold) > within_mm and len(line) > 1:
            end = 1
            while lettering.width_mm(line[: end + 1], size_mm, bold=bold) <= within_mm:
                end += 1
            found.append(line[:end])
            line = line[end:]
        found.append(line)
    # A last word alone gets company from the line above, where that keeps two words of its own.
    if len(found) > 1 and " " not in found[-1] and found[-2].count(" ") > 1:
        rest, word = found[-2].rsplit(" ", 1)
        last = f"{word} {found[-1]}"
        if lettering.width_mm(last, size_mm, bold=bold) <= within_mm:
            found[-2:] = [rest, last]
    return found


def longest_word_mm(string: str, size_mm: float = WORDS, *, bold: bool = False) -> float:
    """Width of the widest word, mm: a narrower column breaks it."""
    return max((lettering.width_mm(word, size_mm, bold=bold) for word in string.split()), default=0.0)


def write(
    draft: Draft,
    at: tuple[float, float],
    found: Iterable[str],
    size_mm: float = WORDS,
    *,
    bold: bool = False,
    anchor: Anchor = "start",
) -> float:
    """Writes lines down from the baseline of the first, at (x, y). Returns the baseline after the last."""
    x, y = at
    for line in found:
        draft.text(x, y, line, size_mm, anchor=anchor, bold=bold)
        y -= lettering.LINE * size_mm
    return y


def rule_under(draft: Draft, width_mm: float, y: float, role: Role = Role.AID) -> None:
    """A line across a frame of the given width, its ends within it."""
    draft.line(HAIR_MM, y, width_mm - HAIR_MM, y, role)


def draw_boxes(draft: Draft, x: float, y: float, count: int = 1) -> None:
    """Boxes to tick, side by side; (x, y) is the lower left corner of the first."""
    for number in range(count):
        draft.rectangle(x + number * BOX_STEP_MM + HAIR_MM, y, BOX_MM, BOX_MM, Role.LABEL)


class Item(NamedTuple):
    """A sentence or two of a list, which stay together."""

    words: str
    bold: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Listing:
    """Items under a heading, each on lines of its own, with a sign before each where one is wanted.

    `first` is the number of the first item, for a list that goes on from another. Refuses a list without heading and
    items (`OutOfRange`).
    """

    items: tuple[Item, ...]
    width_mm: float
    heading: str = ""
    sign: Sign = ""
    ruled: bool = False  # a line under the heading
    first: int = 1

    def __post_init__(self) -> None:
        if not (self.items or self.heading):
            raise OutOfRange("a list without heading and items", "give one or the other")

    @property
    def height_mm(self) -> float:
        """Of the heading and all items."""
        return self._head_mm + sum(self._item_mm(item) for item in self.items)

    @property
    def _head_mm(self) -> float:
        return HEADING_MM + (0.6 if self.ruled else 0.0) if self.heading else 0.0

    def _lines(self, item: Item) -> list[str]:
        return lines(item.words, self.width_mm - _INDENT_MM[self.sign], bold=item.bold)

    def _item_mm(self, item: Item) -> float:
        return LINE_MM * len(self._lines(item)) + BETWEEN_MM

    def split(self, room_mm: float, least: int = 2) -> tuple[Listing | None, Listing | None]:
        """What of the list goes in a height, and the rest: so many items at least in each part, or all in one."""
        height, count = self._head_mm, 0
        for item in self.items:
            height += self._item_mm(item)
            if height > room_mm + 1e-9:
                break
            count += 1
        if count == len(self.items):
            return self, None
        count = min(count, len(self.items) - least)
        if count < least:
            return None, self
        rest = replace(self, items=self.items[count:], heading="", first=self.first + count)
        return replace(self, items=self.items[:count]), rest

    def drawing(self, foot_mm: float = 0.0) -> Drawing:
        """The list in its width; `foot_mm` is left free below."""
        height = self.height_mm + foot_mm
        draft = Draft()
        if self.heading:
            draft.text(0.0, height - lettering.ASCENT * HEADING, self.heading, HEADING, bold=True)
            if self.ruled:
                rule_under(draft, self.width_mm, height - HEADING_MM + 0.4, Role.LABEL)
        y = height - self._head_mm - lettering.ASCENT * WORDS - 0.5
        for number, item in enumerate(self.items, self.first):
            self._draw_sign(draft, y, number)
            y = write(draft, (_INDENT_MM[self.sign], y), self._lines(item), bold=item.bold) - BETWEEN_MM
        return draft.drawing(self.width_mm, height, self.heading.lower() or "words", origin=(0.0, height))

    def _draw_sign(self, draft: Draft, y: float, number: int) -> None:
        if self.sign == "box":
            draw_boxes(draft, 0.0, y - 0.5)
        elif self.sign == "number":
            draft.text(0.0, y, f"{number}", WORDS, bold=True)
        elif self.sign == "dot":
            draft.disc(0.8, y + 0.85, 0.4, Role.LABEL)


def listing(
    sentences: Iterable[str], width_mm: float, heading: str = "", *, sign: Sign = "", ruled: bool = False
) -> Listing:
    """Plain sentences as a list."""
    items = tuple(Item(sentence) for sentence in sentences)
    return Listing(items=items, width_mm=width_mm, heading=heading, sign=sign, ruled=ruled)


def one_under_another(parts: Sequence[Drawing], width_mm: float, between_mm: float, name: str) -> Drawing:
    """Drawings one under another, flush at their left sides, as one drawing."""
    height = sum(part.height_mm for part in parts) + between_mm * (len(parts) - 1)
    draft, top = Draft(), height
    for part in parts:
        draft.add(part.marks, 0.0, top - part.height_mm)
        top -= part.height_mm + between_mm
    return draft.drawing(width_mm, height, name)


def side_by_side(parts: Sequence[Drawing], width_mm: float, between_mm: float, name: str) -> Drawing:
    """Drawings beside one another, flush at their tops."""
    height, x, draft = max(part.height_mm for part in parts), 0.0, Draft()
    for part in parts:
        draft.add(part.marks, x, height - part.height_mm)
        x += part.width_mm + between_mm
    return draft.drawing(width_mm, height, name, origin=(0.0, height))
