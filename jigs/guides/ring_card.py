"""The ring card: rings and their insides as black shapes at true size, and a wedge that reads the outside."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import NamedTuple

from jigs.guides.catalogue import Asked, AskedKind, Made, Sheet
from jigs.guides.pieces.blanks import lines_to_write_on
from jigs.guides.pieces.gauge import COMPACT, ROOMY, SMALLEST_MM, Style, draw_gauge, groups, middles, width_mm
from jigs.guides.pieces.ring_wedge import NAMES_MM, in_full, in_short, wedges_for
from jigs.making.ring import Ring
from jigs.stock.wire import Wire
from layouts.drawing import lettering
from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.words import WORDS, Listing, listing, rule_under, write
from layouts.errors import Give, OutOfRange, QuantityRefused
from layouts.lengths import sized, sized_each, sized_short
from layouts.pages.page import Content, Field, Sized
from layouts.pages.sheet import GAP_MM
from layouts.units import positive

LARGEST_MM = 500.0  # an OD in some two dozen tiles of A4 (common practice, no source)
PAPER_READS_MM = 0.1  # at best (common practice, no source)

_WIRES_MM = 4.8  # the line of wires above the cells
_LOOK = (
    "Lay the ring on its black ring and look straight down. Black outside: it is too small. Black inside: too large."
)
_DISC = "Seen through the ring, a disc shows white all round when the inside (ID) is larger than the disc."


def ring_card(
    wires: Sequence[Wire],
    insides_mm: Sequence[float],
    tolerance_mm: float | None = None,
    outsides_mm: Sequence[float] = (),
) -> Content:
    """A card with the ring of every wire at every inside diameter, and at every outside diameter.

    Each has a filled ring from ID to OD and a filled disc of ID; with a tolerance a small and a large disc too, of
    ID - tolerance and ID + tolerance. Refuses an empty or repeated size, and one too small or large for paper
    (`OutOfRange`). A ring that needs more than the field is drawn anyway: the sheet refuses or splits it.
    """
    _refuse_repeats("inside diameter", insides_mm)
    _refuse_repeats("outside diameter", outsides_mm)
    sizes = (*(_Size(mm) for mm in insides_mm), *(_Size(mm, of_outside=True) for mm in outsides_mm))
    card = _Card(wires=tuple(wires), sizes=sizes, tolerance_mm=tolerance_mm)
    ring = min(card.rings, key=lambda ring: (ring.wire_mm, ring.inside_mm))
    wire, inside = next(wire for wire in card.wires if wire.diameter_mm == ring.wire_mm), ring.inside_mm
    notes = [
        f"Paper reads to ±{sized(PAPER_READS_MM)} at best (common practice, no source): it sorts rings and does not"
        f" measure them. On the smallest ring here ({in_short(wire)}, ID {sized(inside, 2)}, AR"
        f" {ring.aspect_ratio:.2f}) {sized(PAPER_READS_MM)} more of ID is {PAPER_READS_MM / wire.diameter_mm:.2f}"
        f" more of AR, or {100 * PAPER_READS_MM / inside:.1f} %. When AR must be right within 2 %, use a caliper."
    ]
    if tolerance_mm is not None and tolerance_mm < PAPER_READS_MM:
        notes.append(f"±{sized(tolerance_mm)} is finer than paper reads: hold that tolerance with a caliper.")
    return Content(
        title="Ring card",
        facts=tuple(_facts(card)),
        draw=card.draw,
        notes=tuple(notes),
        gauges=(
            *(Sized("disc", inside, card.tolerance_mm or 0.0) for inside in card.all_insides_mm),
            *(Sized("ring", outside) for outside in sorted(ring.outside_mm for ring in card.rings)),
        ),
    )


class _Size(NamedTuple):
    """A row of the card: an inside diameter in mm, or an outside one."""

    mm: float
    of_outside: bool = False

    @property
    def name(self) -> str:
        """'ID 5.00 mm', 'OD 7.40 mm'."""
        return f"{'OD' if self.of_outside else 'ID'} {sized(self.mm, 2)}"

    def ring(self, wire: Wire) -> Ring:
        """The ring of that size in a wire."""
        return _ring(wire.diameter_mm, **{"outside_mm" if self.of_outside else "inside_mm": self.mm})


@lru_cache(maxsize=1024)  # a card asks for each of its rings some thirty times
def _ring(wire_mm: float, **size: float) -> Ring:
    return (Ring.of_outside if "outside_mm" in size else Ring)(wire_mm=wire_mm, **size)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Card:
    """The sizes on a card."""

    wires: tuple[Wire, ...]
    sizes: tuple[_Size, ...]
    tolerance_mm: float | None

    def __post_init__(self) -> None:
        if not self.wires:
            raise OutOfRange("a ring card needs a wire", "give one or more, such as 16 AWG")
        if not self.sizes:
            raise OutOfRange("a ring card needs an inside or an outside diameter", "give one or more, such as 5 mm")
        _refuse_repeats("wire", [wire.diameter_mm for wire in self.wires])
        for size in self.sizes:
            positive(size.mm, "an outside diameter" if size.of_outside else "an inside diameter")
        smallest = min(ring.inside_mm for ring in self.rings)
        if smallest < SMALLEST_MM:
            problem = f"an inside diameter of {smallest:g} mm is too small for a printed disc"
            raise OutOfRange(problem, f"give {SMALLEST_MM:g} mm or more")
        if (largest := max(ring.outside_mm for ring in self.rings)) > LARGEST_MM:
            problem = f"a ring of OD {sized(largest, 1)} is too large for a ring card"
            raise OutOfRange(problem, f"give rings of OD {LARGEST_MM:g} mm or less")
        most = smallest - SMALLEST_MM / 2
        if self.tolerance_mm is not None and positive(self.tolerance_mm, "tolerance") > most:
            problem = f"a tolerance of {self.tolerance_mm:g} mm leaves no small disc for an inside of {smallest:g} mm"
            raise OutOfRange(problem, f"give {most:g} mm or less")

    @property
    def rings(self) -> tuple[Ring, ...]:
        """Every ring on the card."""
        return tuple(size.ring(wire) for wire in self.wires for size in self.sizes)

    @property
    def all_insides_mm(self) -> tuple[float, ...]:
        """The inside of every row, and of every ring in the rows that go by the outside."""
        each = (self.wires[:1] if not size.of_outside else self.wires for size in self.sizes)
        return tuple(size.ring(wire).inside_mm for size, wires in zip(self.sizes, each, strict=True) for wire in wires)

    def draw(self, field: Field) -> Sequence[Drawing]:
        """The cells, then the wedge; where a page leaves room, lines to write on.

        Rings that need more than the field are drawn last, each as a drawing of its own, and have no wedge.
        """
        intro = _intro(self, field)
        # a hair less than the page: `_paged` would turn pages for ever for a row that misses one by rounding
        low = field.height_mm - intro.height_mm - 1e-6

        def fit(blocks: Sequence[_Block]) -> bool:
            return all(block.width_mm <= field.width_mm and block.height_mm <= low for block in blocks)

        largest = {max(self.sizes, key=lambda size: size.ring(wire).outside_mm) for wire in self.wires}
        if all(fit(self._alone(size)) for size in largest):  # and so do all others
            return self._draw_fitting(field)
        rest = tuple(size for size in self.sizes if fit(self._alone(size)))
        large = [  # one drawing for each ring, so that the sheet refuses or tiles it by its name
            replace(block.drawing(), name=f"a ring of OD {sized(size.ring(wire).outside_mm, 1)} with its discs")
            for size in self.sizes
            if size not in rest
            for wire, block in zip(self.wires, self._alone(size), strict=True)
        ]
        drawn = replace(self, sizes=rest)._draw_fitting(field) if rest else []
        return [*drawn, *([intro.drawing(), *large] if large else [])]

    def _alone(self, size: _Size) -> list[_Block]:
        """The rings of a size with their discs, each a block of its own, as wide as it must be."""
        blocks = []
        for wire in self.wires:
            one = replace(self, wires=(wire,), sizes=(size,))
            column = _column(one, wire, COMPACT)
            blocks += _blocks(one, COMPACT, [(column,)], 1, NAMES_MM + column.width_mm)
        return blocks

    def _draw_fitting(self, field: Field) -> list[Drawing]:
        wedges = wedges_for(
            [(wire, sorted(size.ring(wire).inside_mm for size in self.sizes)) for wire in self.wires], field
        )
        room = field.height_mm - sum(wedge.height_mm + GAP_MM for wedge in wedges)
        blocks = _on_one_page(self, field, room)
        left = room - sum(block.height_mm + GAP_MM for block in blocks)
        drawn = [*(block.drawing() for block in blocks or _paged(self, field)), *wedges]
        # Lines to write the batches on, where the card leaves room for some.
        count = min(math.floor((left - 9.0) / _LINE_MM), _MOST)  # 9 for the heading and the titles
        if blocks and count >= _FEWEST:
            heading = "What came out, for the next batch"
            drawn.append(lines_to_write_on(heading, _FORM, field.width_mm, count, _LINE_MM))
        return drawn


# --- the cells ----------------------------------------------------------------------------------------------


class _Column(NamedTuple):
    """A wire's cells, alike for every inside: how wide they are, and where the middles of their groups stand."""

    wire: Wire
    width_mm: float
    middles_mm: tuple[float, ...]


def _column(card: _Card, wire: Wire, style: Style) -> _Column:
    """Laid out for the wire's largest ring: no cell of the column is wider."""
    largest = max((size.ring(wire) for size in card.sizes), key=lambda ring: ring.inside_mm)
    found = groups(largest, card.tolerance_mm, style)
    width = max(width_mm(found, style), lettering.width_mm(in_full(wire), WORDS, bold=True))
    return _Column(wire=wire, width_mm=width, middles_mm=middles(found, style))


class _Block(NamedTuple):
    """Rows of cells under their wires, in one or more strips side by side: what stays together on a page."""

    card: _Card
    style: Style
    columns: tuple[_Column, ...]
    rows: tuple[tuple[_Size, ...], ...]  # one for each strip; the last row may be short
    strips: int
    intro: Listing | None
    width_mm: float

    @property
    def height_mm(self) -> float:
        """Of the intro, the line of wires and all rows."""
        return self.head_mm + sum(self.row_mm(row) for row in self.rows) - self.style.row_gap_mm

    @property
    def intro_mm(self) -> float:
        """Of the words above the line of wires."""
        return self.intro.height_mm if self.intro else 0.0

    @property
    def head_mm(self) -> float:
        """Of the intro and the line of wires."""
        return self.intro_mm + _WIRES_MM + self.style.row_gap_mm / 4

    def row_mm(self, row: tuple[_Size, ...]) -> float:
        """Height of a row: its largest shape, the words and the room below."""
        return self._shape_mm(row) + self.style.words_mm + self.style.row_gap_mm

    def _shape_mm(self, row: tuple[_Size, ...]) -> float:
        rings = [size.ring(column.wire) for size in row for column in self.columns]
        return max(max(ring.outside_mm, ring.inside_mm + (self.card.tolerance_mm or 0)) for ring in rings)

    def within(self, room_mm: float) -> _Block:
        """The block with the first of its rows, as many as fit in a height."""
        height = self.head_mm - self.style.row_gap_mm
        for count, row in enumerate(self.rows):
            height += self.row_mm(row)
            if height > room_mm:
                return self._replace(rows=self.rows[:count])
        return self

    def drawing(self) -> Drawing:
        """The block drawn in the full width of the field."""
        draft, y = Draft(), self.height_mm
        if self.intro:
            draft.add(self.intro.drawing().marks, 0.0, y - self.intro_mm)
        y -= self.intro_mm + _WIRES_MM
        places = self._places()
        for strip in range(min(self.strips, len(self.rows[0]))):
            for x, column in places:
                at = strip * self.width_mm / self.strips + x
                draft.text(at, y + 1.9, in_full(column.wire), WORDS, bold=True)
        rule_under(draft, self.width_mm, y + 0.6)
        y -= self.style.row_gap_mm / 4
        for row in self.rows:
            for strip, size in enumerate(row):
                self._draw_cells(draft, strip * self.width_mm / self.strips, y, self._shape_mm(row), size, places)
            y -= self.row_mm(row)
        return draft.drawing(self.width_mm, self.height_mm, "a row of the ring card")

    def _places(self) -> list[tuple[float, _Column]]:
        """The columns with their left sides in a strip, spread over its width but not torn apart."""
        spare = self.width_mm / self.strips - NAMES_MM - sum(column.width_mm for column in self.columns)
        # wider apart than 14 mm, a name at the left no longer leads to its shape
        x, gap, places = NAMES_MM, min(spare / len(self.columns), 14.0), []
        for column in self.columns:
            places.append((x, column))
            x += column.width_mm + gap
        return places

    def _draw_cells(
        self, draft: Draft, left: float, top: float, shape: float, size: _Size, places: list[tuple[float, _Column]]
    ) -> None:
        """One size of one strip: its name and a cell for every wire."""
        # 0.9: half a capital, to stand level with the shapes
        name = size.name.replace(" [", "\n[").split("\n")  # the other unit under the chosen one
        write(draft, (left, top - shape / 2 - 0.9), name, bold=True)
        for x, column in places:
            found = groups(size.ring(column.wire), self.card.tolerance_mm, self.style, names_inside=size.of_outside)
            draw_gauge(draft, found, (left + x, top), shape, self.style, column.middles_mm)


def _on_one_page(card: _Card, field: Field, room_mm: float) -> list[_Block]:
    """The cells in the first setting that fits in the room: roomy before compact, few strips before many."""
    for style in (ROOMY, COMPACT):
        panels = _panels(card, style, field)
        if any(NAMES_MM + panel[0].width_mm > field.width_mm for panel in panels):
            continue
        for strips in range(1, _most_strips(panels, style, field) + 1):
            blocks = _blocks(card, style, panels, strips, field.width_mm, _intro(card, field))
            if sum(block.height_mm + GAP_MM for block in blocks) - GAP_MM <= room_mm:
                return blocks
    return []


def _paged(card: _Card, field: Field) -> Iterator[_Block]:
    """The cells, compact, in blocks that fill the pages from the top, every block with its wires above it."""
    panels, room = _panels(card, COMPACT, field), field.height_mm
    strips = _most_strips(panels, COMPACT, field)
    for block in _blocks(card, COMPACT, panels, strips, field.width_mm, _intro(card, field)):
        rest = block
        while rest.rows:
            part = rest.within(room)
            if part.rows:
                yield part
                rest = rest._replace(rows=rest.rows[len(part.rows) :], intro=None)
                room -= part.height_mm + GAP_MM
            else:
                room = field.height_mm  # a new page: it takes a row, as the larger rings stand elsewhere


def _blocks(
    card: _Card,
    style: Style,
    panels: list[tuple[_Column, ...]],
    strips: int,
    width_mm: float,
    intro: Listing | None = None,
) -> list[_Block]:
    """A block for each panel of wires, as if pages had no end; the first has the intro."""
    rows = tuple(card.sizes[i : i + strips] for i in range(0, len(card.sizes), strips))
    intros = (intro, *[None] * (len(panels) - 1))
    return [
        _Block(card=card, style=style, columns=columns, rows=rows, strips=strips, intro=words, width_mm=width_mm)
        for columns, words in zip(panels, intros, strict=True)
    ]


def _most_strips(panels: list[tuple[_Column, ...]], style: Style, field: Field) -> int:
    """How often the wires of a card fit side by side; once where they need more than one panel."""
    strip = NAMES_MM + sum(column.width_mm + 2 * style.gap_mm for column in panels[0])
    return max(1, math.floor(field.width_mm / strip)) if len(panels) == 1 else 1


def _panels(card: _Card, style: Style, field: Field) -> list[tuple[_Column, ...]]:
    """The wires' columns, as many side by side as the field takes."""
    panels: list[list[_Column]] = [[]]
    for wire in card.wires:
        column = _column(card, wire, style)
        beside = sum(other.width_mm + 2 * style.gap_mm for other in panels[-1])
        if panels[-1] and NAMES_MM + beside + column.width_mm > field.width_mm:
            panels.append([])
        panels[-1].append(column)
    return [tuple(panel) for panel in panels]


# --- what came out ------------------------------------------------------------------------------------------

# of the width
_FORM = dict(date=0.14, wire=0.16, mandrel=0.16, cut=0.14, ID=0.1, OD=0.1, remarks=0.2)
# a line takes handwriting (common practice, no source); fewer than 3 are not worth it
_LINE_MM, _FEWEST, _MOST = 8.0, 3, 8


def _intro(card: _Card, field: Field) -> Listing:
    words = f"{_LOOK} {_DISC}"
    if card.tolerance_mm is not None:
        within = f"±{sized_short(card.tolerance_mm, 3)}"
        words += f" Within {within} it shows white all round on the small disc, and none on the large."
    return listing((words,), field.width_mm, "Rings at true size")


# --- the words ----------------------------------------------------------------------------------------------


def _facts(card: _Card) -> Iterator[tuple[str, str]]:
    wires = card.wires
    if len(wires) <= 3:
        yield ("wire", "; ".join(in_full(wire) for wire in wires))
    else:
        thin, *_, thick = sorted(wires, key=lambda wire: wire.diameter_mm)
        yield (f"{len(wires)} wires", f"{in_full(thin)} to {in_full(thick)}")
    for what, of_outside in (("inside", False), ("outside", True)):
        found = [size.mm for size in card.sizes if size.of_outside is of_outside]
        if len(found) > 6:
            yield (f"{len(found)} {what}s", sized_each("{} to {}", (min(found), max(found)), 2))
        elif found:
            yield (what, sized_each(", ".join(["{}"] * len(found)), found, 2))
    if card.tolerance_mm is not None:
        yield ("tolerance", f"±{sized_short(card.tolerance_mm, 3)}")


def _refuse_repeats(what: str, sizes_mm: Sequence[float]) -> None:
    repeated = [size for place, size in enumerate(sizes_mm) if size in sizes_mm[:place]]
    if repeated:
        raise OutOfRange(f"the {what} {repeated[0]:.4g} mm is given twice", "give each size once")


def _made(
    wire: tuple[Wire, ...], inside: tuple[float, ...], outside: tuple[float, ...], tolerance: float | None
) -> Made:
    if not inside and not outside:
        remedies = (Give(field="inside", example="5 mm"),)
        raise QuantityRefused("no inside or outside diameter is given", remedies=remedies)
    return Made(content=ring_card(wire, inside, tolerance, outside))


SHEET = Sheet(
    name="ring-card",
    summary="Rings and their insides as discs at true size, and a wedge that reads the outside.",
    about=("Rings and their insides as black shapes at true size, and a wedge that reads the outside.",),
    fields=(
        Asked(
            key="wire",
            kind=AskedKind.WIRE,
            help="A gauge with its system, or a diameter.",
            needed=True,
            repeatable=True,
            example="16 AWG",
        ),
        Asked(
            key="inside",
            kind=AskedKind.LENGTHS,
            title="inside diameter",
            help='An inside diameter, or a range: "3 mm..8 mm by 0.5 mm".',
            repeatable=True,
            example="5 mm",
        ),
        Asked(
            key="outside",
            kind=AskedKind.LENGTHS,
            title="outside diameter",
            help="Or: an outside diameter, or a range.",
            repeatable=True,
            example="7.4 mm",
        ),
        Asked(
            key="tolerance",
            kind=AskedKind.LENGTH,
            help="Adds a small and a large disc: the inside less this, and plus this.",
        ),
    ),
    build=_made,
    examples=(
        {"wire": "16 AWG", "inside": "5 mm", "tolerance": "0.1 mm"},
        {"wire": ("16 AWG", "18 SWG"), "inside": "3 mm..8 mm by 0.5 mm"},
        {"wire": "1.2 mm", "outside": "1/4 in", "paper": "letter", "format": "pdf,png"},
    ),
    place=20,
    use="lay a ring on it: inside, outside, large or small",
    demo={
        "wire": ("1.2 mm", "1.6 mm"),
        "inside": ("4.5 mm", "5 mm", "5.5 mm", "8 mm", "9.8 mm"),
        "tolerance": "0.1 mm",
    },
)
