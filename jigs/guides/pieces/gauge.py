"""A ring's gauge: the ring and its inside as black shapes at true size, with their sizes in words below them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from jigs.making.ring import Ring
from layouts.drawing import lettering
from layouts.drawing.marks import Draft
from layouts.drawing.words import FIGURE, NAME, write
from layouts.lengths import bare

SMALLEST_MM = 0.5  # a disc under this is a few dots of a printer (common practice, no source)


class Style(NamedTuple):
    """How a gauge is set: type size, room between, and whether words stand in one line."""

    type_mm: float
    gap_mm: float
    row_gap_mm: float
    one_line: bool

    @property
    def line_mm(self) -> float:
        """From baseline to baseline."""
        return lettering.LINE * self.type_mm

    @property
    def words_mm(self) -> float:
        """Height of the words below a shape, with the room above them."""
        return 1.0 + (1 if self.one_line else 2) * self.line_mm


ROOMY = Style(type_mm=NAME, gap_mm=4.0, row_gap_mm=5.0, one_line=False)
COMPACT = Style(type_mm=FIGURE, gap_mm=1.5, row_gap_mm=1.7, one_line=True)


class Group(NamedTuple):
    """Shapes side by side, as (outer, inner) diameters in mm with 0 for a disc, and the words below them."""

    shapes_mm: tuple[tuple[float, float], ...]
    words: tuple[str, ...]

    def width_mm(self, style: Style) -> float:
        """Of the shapes or of the words, whichever is wider."""
        return max(self.ink_mm(style), *(lettering.width_mm(words, style.type_mm) for words in self.words))

    def ink_mm(self, style: Style) -> float:
        """Of the shapes, with the room between them."""
        return sum(outer for outer, _ in self.shapes_mm) + style.gap_mm * (len(self.shapes_mm) - 1)

    def draw(self, draft: Draft, middle_mm: float, y: float, style: Style) -> None:
        """The shapes about a point."""
        left = middle_mm - self.ink_mm(style) / 2
        for outer, inner in self.shapes_mm:
            x = left + outer / 2
            if inner:
                draft.annulus(x, y, outer / 2, inner / 2)
            else:
                draft.disc(x, y, outer / 2)
            left += outer + style.gap_mm


def groups(ring: Ring, tolerance_mm: float | None, style: Style, *, names_inside: bool = False) -> tuple[Group, ...]:
    """The ring, its disc, and with a tolerance the small and the large disc.

    In one line there is room for one of ID and OD: names_inside where the other stands beside it already.
    """
    inside, outside = ring.inside_mm, ring.outside_mm
    sizes = f"OD {bare(outside, 2)}", f"AR {ring.aspect_ratio:.2f}"
    if style.one_line:
        sizes = (f"ID {bare(inside, 2)}", sizes[1]) if names_inside else sizes
        first: tuple[Group, ...] = (Group(shapes_mm=((outside, inside), (inside, 0)), words=("  ".join(sizes),)),)
    else:
        disc = Group(shapes_mm=((inside, 0),), words=(f"ID {bare(inside, 2)}",))
        first = (Group(shapes_mm=((outside, inside),), words=sizes), disc)
    if tolerance_mm is None:
        return first
    pair = (("small", inside - tolerance_mm), ("large", inside + tolerance_mm))
    return first + tuple(
        Group(shapes_mm=((d, 0),), words=(f"{name} {bare(d, 2)}",) if style.one_line else (name, bare(d, 2)))
        for name, d in pair
    )


def middles(found: Sequence[Group], style: Style) -> tuple[float, ...]:
    """Where the middle of each group stands, side by side from x = 0."""
    x, places = 0.0, []
    for group in found:
        places.append(x + group.width_mm(style) / 2)
        x += group.width_mm(style) + style.gap_mm
    return tuple(places)


def width_mm(found: Sequence[Group], style: Style) -> float:
    """Of all groups side by side."""
    return sum(group.width_mm(style) for group in found) + style.gap_mm * (len(found) - 1)


def draw_gauge(
    draft: Draft,
    found: Sequence[Group],
    at: tuple[float, float],
    shape_mm: float,
    style: Style,
    places_mm: Sequence[float] | None = None,
) -> None:
    """The groups from (x, top) down: shapes about the middle of a height `shape_mm`, their words below that.

    `places_mm` are the middles of the groups where they stand as others do, in a table.
    """
    x, top = at
    for group, place in zip(found, places_mm or middles(found, style), strict=True):
        group.draw(draft, x + place, top - shape_mm / 2, style)
        foot = top - shape_mm - 1.0 - lettering.ASCENT * style.type_mm
        write(draft, (x + place, foot), group.words, style.type_mm, anchor="middle")
