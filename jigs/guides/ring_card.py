"""The ring card: rings and their insides as black shapes at true size, and a wedge that reads the outside."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import NamedTuple

from jigs.making.ring import Ring
from jigs.stock.wire import Wire
from layouts.drawing import lettering
from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.pens import PENS, Role
from layouts.drawing.wedge import Wedge, draw_wedge
from layouts.errors import OutOfRange
from layouts.pages.page import Content, Field, Gauge
from layouts.pages.sheet import GAP_MM
from layouts.showing import show_number
from layouts.units import positive

SMALLEST_MM = 0.5  # a disc under this is a few dots of a printer (common practice, no source)
LARGEST_MM = 500.0  # an OD in some two dozen tiles of A4 (common practice, no source)
PAPER_READS_MM = 0.1  # at best (common practice, no source)

_HEADING, _WORDS = 3.6, 2.5
_HAIR_MM = PENS[Role.AID].width_mm / 2
_WIRES_MM = 4.8  # the line of wires above the cells
_NAMES_MM = 17.0  # the column of names at the left
_LOOK = (
    "Lay the ring on its black ring and look straight down. Black outside: it is too small. Black inside: too large."
)
_DISC = "Seen through the ring, a disc shows white all round when the inside (ID) is larger than the disc."


def ring_card(wires: Sequence[Wire], insides_mm: Sequence[float], tolerance_mm: float | None = None) -> Content:
    """A card with the ring of every wire at every inside diameter.

    Each has a filled ring from ID to OD and a filled disc of ID; with a tolerance a small and a large disc too, of
    ID - tolerance and ID + tolerance. Refuses an empty or repeated size, and one too small or large for paper
    (`OutOfRange`). A ring that needs more than the field is drawn all the same: the sheet refuses or splits it.
    """
    card = _Card(wires=tuple(wires), insides_mm=tuple(insides_mm), tolerance_mm=tolerance_mm)
    return Content(
        title="Ring card",
        facts=tuple(_facts(card)),
        draw=card.draw,
        notes=tuple(_notes(card)),
        gauges=tuple(_gauges(card)),
    )


class _Style(NamedTuple):
    """How the cells of a card are set: type size, room between, and whether words stand in one line."""

    type_mm: float
    gap_mm: float
    row_gap_mm: float
    one_line: bool


_ROOMY = _Style(type_mm=2.9, gap_mm=4.0, row_gap_mm=5.0, one_line=False)
_COMPACT = _Style(type_mm=2.3, gap_mm=1.5, row_gap_mm=1.7, one_line=True)


class _Group(NamedTuple):
    """Shapes side by side, as (outer, inner) diameters in mm with 0 for a disc, and the words below them."""

    shapes_mm: tuple[tuple[float, float], ...]
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Card:
    """The sizes on a card."""

    wires: tuple[Wire, ...]
    insides_mm: tuple[float, ...]
    tolerance_mm: float | None

    def __post_init__(self) -> None:
        if not self.wires:
            raise OutOfRange("a ring card needs a wire", "give one or more, such as 16 AWG")
        if not self.insides_mm:
            raise OutOfRange("a ring card needs an inside diameter", "give one or more, such as 5 mm")
        _refuse_repeats("wire", [wire.diameter_mm for wire in self.wires])
        _refuse_repeats("inside diameter", self.insides_mm)
        smallest = min(positive(inside, "an inside diameter") for inside in self.insides_mm)
        if smallest < SMALLEST_MM:
            raise OutOfRange(
                f"an inside diameter of {smallest:g} mm is too small for a printed disc",
                f"give {SMALLEST_MM:g} mm or more",
            )
        if self.outsides_mm[-1] > LARGEST_MM:
            problem = f"a ring of OD {self.outsides_mm[-1]:.1f} mm is too large for a ring card"
            raise OutOfRange(problem, f"give rings of OD {LARGEST_MM:g} mm or less")
        self._refuse_tolerance(smallest)

    def _refuse_tolerance(self, smallest: float) -> None:
        if self.tolerance_mm is None:
            return
        most = smallest - SMALLEST_MM / 2
        if positive(self.tolerance_mm, "tolerance") > most:
            problem = f"a tolerance of {self.tolerance_mm:g} mm leaves no small disc for an inside of {smallest:g} mm"
            raise OutOfRange(problem, f"give {most:g} mm or less")

    @property
    def outsides_mm(self) -> tuple[float, ...]:
        """Every OD on the card, smallest first."""
        return tuple(sorted(inside + 2 * wire.diameter_mm for wire in self.wires for inside in self.insides_mm))

    def draw(self, field: Field) -> Sequence[Drawing]:
        """The cells, then the wedge; where a page leaves room, lines to write on.

        Rings that need more than the field are drawn last, each as a drawing of its own, and have no wedge.
        """
        large = [inside for inside in self.insides_mm if _is_too_large(self, inside, field)]
        rest = tuple(inside for inside in self.insides_mm if inside not in large)
        drawn = replace(self, insides_mm=rest)._draw_fitting(field) if rest else []
        return [*drawn, *(_draw_large(self, large, field) if large else ())]

    def _draw_fitting(self, field: Field) -> list[Drawing]:
        wedges = _wedge_drawings(self, field)
        room = field.height_mm - sum(wedge.height_mm + GAP_MM for wedge in wedges)
        blocks = _on_one_page(self, field, room)
        left = room - sum(block.height_mm + GAP_MM for block in blocks)
        form = _form(left, field) if blocks else ()
        return [*(block.drawing() for block in blocks or _paged(self, field)), *wedges, *form]


def _groups(ring: Ring, tolerance_mm: float | None, style: _Style) -> tuple[_Group, ...]:
    """The shapes of one cell and their words."""
    inside, outside = ring.inside_mm, ring.outside_mm
    sizes = f"OD {outside:.2f}", f"AR {ring.aspect_ratio:.2f}"
    if style.one_line:
        first: tuple[_Group, ...] = (_Group(shapes_mm=((outside, inside), (inside, 0)), words=("  ".join(sizes),)),)
    else:
        disc = _Group(shapes_mm=((inside, 0),), words=(f"ID {inside:.2f}",))
        first = (_Group(shapes_mm=((outside, inside),), words=sizes), disc)
    if tolerance_mm is None:
        return first
    pair = (("small", inside - tolerance_mm), ("large", inside + tolerance_mm))
    return first + tuple(
        _Group(shapes_mm=((d, 0),), words=(f"{name} {d:.2f}",) if style.one_line else (name, f"{d:.2f}"))
        for name, d in pair
    )


# --- the cells ----------------------------------------------------------------------------------------------


class _Column(NamedTuple):
    """Where the parts of a wire's cells stand, from the cell's left: alike for every inside."""

    wire: Wire
    width_mm: float
    centres_mm: tuple[tuple[float, ...], ...]  # of each group's shapes
    middles_mm: tuple[float, ...]  # of each group's words


def _column(card: _Card, wire: Wire, style: _Style) -> _Column:
    """Laid out for the wire's largest ring: no cell of the column is wider."""
    largest = Ring(wire_mm=wire.diameter_mm, inside_mm=max(card.insides_mm))
    x, centres, middles = 0.0, [], []
    for group in _groups(largest, card.tolerance_mm, style):
        shapes = sum(outer for outer, _ in group.shapes_mm) + style.gap_mm * (len(group.shapes_mm) - 1)
        width = max(shapes, *(lettering.width_mm(words, style.type_mm) for words in group.words))
        centres.append(tuple(_centres(group, x + (width - shapes) / 2, style)))
        middles.append(x + width / 2)
        x += width + style.gap_mm
    width = max(x - style.gap_mm, lettering.width_mm(_in_full(wire), _WORDS, bold=True))
    return _Column(wire=wire, width_mm=width, centres_mm=tuple(centres), middles_mm=tuple(middles))


def _centres(group: _Group, x: float, style: _Style) -> Iterator[float]:
    for outer, _ in group.shapes_mm:
        yield x + outer / 2
        x += outer + style.gap_mm


class _Block(NamedTuple):
    """Rows of cells under their wires, in one or more strips side by side: what stays together on a page."""

    card: _Card
    style: _Style
    columns: tuple[_Column, ...]
    rows: tuple[tuple[float, ...], ...]  # insides in mm, one for each strip; the last row may be short
    strips: int
    intro: tuple[str, ...]  # its first line is a heading
    width_mm: float

    @property
    def height_mm(self) -> float:
        """Of the intro, the line of wires and all rows."""
        return self.head_mm + sum(self.row_mm(row) for row in self.rows) - self.style.row_gap_mm

    @property
    def head_mm(self) -> float:
        """Of the intro and the line of wires."""
        return _intro_mm(self.intro) + _WIRES_MM + self.style.row_gap_mm / 4

    def row_mm(self, row: tuple[float, ...]) -> float:
        """Height of a row: its largest shape, the words and the room below."""
        lines = 1 if self.style.one_line else 2
        return self._shape_mm(row) + 1.0 + lines * self._line_mm + self.style.row_gap_mm

    def _shape_mm(self, row: tuple[float, ...]) -> float:
        thickest = max(column.wire.diameter_mm for column in self.columns)
        return max(row) + max(2 * thickest, self.card.tolerance_mm or 0)

    @property
    def _line_mm(self) -> float:
        return lettering.LINE * self.style.type_mm

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
        _draw_intro(draft, y, self.intro)
        y -= _intro_mm(self.intro) + _WIRES_MM
        places = self._places()
        for strip in range(min(self.strips, len(self.rows[0]))):
            for x, column in places:
                at = strip * self.width_mm / self.strips + x
                draft.text(at, y + 1.9, _in_full(column.wire), _WORDS, bold=True)
        _rule(draft, self.width_mm, y + 0.6)
        y -= self.style.row_gap_mm / 4
        for row in self.rows:
            for strip, inside in enumerate(row):
                self._draw_cells(draft, strip * self.width_mm / self.strips, y, self._shape_mm(row), inside, places)
            y -= self.row_mm(row)
        return draft.drawing(self.width_mm, self.height_mm, "a row of the ring card")

    def _places(self) -> list[tuple[float, _Column]]:
        """The columns with their left sides in a strip, spread over its width but not torn apart."""
        spare = self.width_mm / self.strips - _NAMES_MM - sum(column.width_mm for column in self.columns)
        x, gap, places = _NAMES_MM, min(spare / len(self.columns), 14.0), []
        for column in self.columns:
            places.append((x, column))
            x += column.width_mm + gap
        return places

    def _draw_cells(
        self, draft: Draft, left: float, top: float, shape: float, inside_mm: float, places: list[tuple[float, _Column]]
    ) -> None:
        """One inside of one strip: its name and a cell for every wire."""
        middle, words = top - shape / 2, top - shape - 1.0 - lettering.ASCENT * self.style.type_mm
        draft.text(left, middle - 0.9, f"ID {inside_mm:.2f} mm", _WORDS, bold=True)
        for x, column in places:
            ring = Ring(wire_mm=column.wire.diameter_mm, inside_mm=inside_mm)
            groups = _groups(ring, self.card.tolerance_mm, self.style)
            for group, centres, mid in zip(groups, column.centres_mm, column.middles_mm, strict=True):
                _draw_shapes(draft, group, left + x, middle, centres)
                for line, string in enumerate(group.words):
                    y = words - line * self._line_mm
                    draft.text(left + x + mid, y, string, self.style.type_mm, anchor="middle")


def _draw_shapes(draft: Draft, group: _Group, x: float, y: float, centres: tuple[float, ...]) -> None:
    for (outer, inner), centre in zip(group.shapes_mm, centres, strict=True):
        if inner:
            draft.annulus(x + centre, y, outer / 2, inner / 2)
        else:
            draft.disc(x + centre, y, outer / 2)


def _on_one_page(card: _Card, field: Field, room_mm: float) -> list[_Block]:
    """The cells in the first setting that fits in the room: roomy before compact, few strips before many."""
    for style in (_ROOMY, _COMPACT):
        panels = _panels(card, style, field)
        if any(_NAMES_MM + panel[0].width_mm > field.width_mm for panel in panels):
            continue
        for strips in range(1, _most_strips(panels, style, field) + 1):
            blocks = _blocks(card, style, panels, strips, field)
            if sum(block.height_mm + GAP_MM for block in blocks) - GAP_MM <= room_mm:
                return blocks
    return []


def _paged(card: _Card, field: Field) -> Iterator[_Block]:
    """The cells, compact, in blocks that fill the pages from the top, every block with its wires above it."""
    panels, room = _panels(card, _COMPACT, field), field.height_mm
    for block in _blocks(card, _COMPACT, panels, _most_strips(panels, _COMPACT, field), field):
        rest = block
        while rest.rows:
            part = rest.within(room)
            if part.rows:
                yield part
                rest = rest._replace(rows=rest.rows[len(part.rows) :], intro=())
                room -= part.height_mm + GAP_MM
            else:
                room = field.height_mm  # a new page: it takes a row, as the larger rings stand elsewhere


def _blocks(card: _Card, style: _Style, panels: list[tuple[_Column, ...]], strips: int, field: Field) -> list[_Block]:
    """A block for each panel of wires, as if pages had no end; the first has the intro."""
    rows = tuple(card.insides_mm[i : i + strips] for i in range(0, len(card.insides_mm), strips))
    intros = (_table_intro(card, field), *[()] * (len(panels) - 1))
    return [
        _Block(card=card, style=style, columns=columns, rows=rows, strips=strips, intro=intro, width_mm=field.width_mm)
        for columns, intro in zip(panels, intros, strict=True)
    ]


def _most_strips(panels: list[tuple[_Column, ...]], style: _Style, field: Field) -> int:
    """How often the wires of a card fit side by side; once where they need more than one panel."""
    strip = _NAMES_MM + sum(column.width_mm + 2 * style.gap_mm for column in panels[0])
    return max(1, math.floor(field.width_mm / strip)) if len(panels) == 1 else 1


def _panels(card: _Card, style: _Style, field: Field) -> list[tuple[_Column, ...]]:
    """The wires' columns, as many side by side as the field takes."""
    panels: list[list[_Column]] = [[]]
    for wire in card.wires:
        column = _column(card, wire, style)
        beside = sum(other.width_mm + 2 * style.gap_mm for other in panels[-1])
        if panels[-1] and _NAMES_MM + beside + column.width_mm > field.width_mm:
            panels.append([])
        panels[-1].append(column)
    return [tuple(panel) for panel in panels]


# --- rings larger than the paper ----------------------------------------------------------------------------


def _is_too_large(card: _Card, inside_mm: float, field: Field) -> bool:
    """Whether a ring of this inside, with its discs and all that stands above, needs more than the field."""
    intro = _table_intro(card, field)
    alone = [_alone(card, wire, inside_mm) for wire in card.wires]
    return any(
        block.width_mm > field.width_mm or block.height_mm + _intro_mm(intro) > field.height_mm - 1e-6
        for block in alone
    )


def _alone(card: _Card, wire: Wire, inside_mm: float) -> _Block:
    """One ring with its discs as a block of its own, as wide as it must be."""
    one = replace(card, wires=(wire,), insides_mm=(inside_mm,))
    column = _column(one, wire, _COMPACT)
    return _Block(
        card=one,
        style=_COMPACT,
        columns=(column,),
        rows=((inside_mm,),),
        strips=1,
        intro=(),
        width_mm=_NAMES_MM + column.width_mm,
    )


def _draw_large(card: _Card, insides_mm: Sequence[float], field: Field) -> Iterator[Drawing]:
    """How to look at them, then ring by ring: the sheet refuses each that does not fit, or splits it into tiles."""
    intro = _table_intro(card, field)
    draft, height = Draft(), _intro_mm(intro)
    _draw_intro(draft, height, intro)
    yield draft.drawing(field.width_mm, height, "the words of the ring card")
    for inside in insides_mm:
        for wire in card.wires:
            outside = inside + 2 * wire.diameter_mm
            yield replace(_alone(card, wire, inside).drawing(), name=f"a ring of OD {outside:.1f} mm with its discs")


# --- the wedge ----------------------------------------------------------------------------------------------

_ROW_MM = 3.65
_INSIDE = 2.2  # em size
_BESIDE_MM = 3.5  # room for half a numeral at each end of the wedge


def _wedge_drawings(card: _Card, field: Field) -> list[Drawing]:
    """The wedge with a row for each wire; more than one when the rows of one do not fit."""
    wedge = wedge_for(card.outsides_mm, field.width_mm - _NAMES_MM - 2 * _BESIDE_MM)
    intro = _wedge_intro(wedge, field)
    bare = _intro_mm(intro) + wedge.above_mm + wedge.below_mm + 1.5
    most = max(1, math.floor((field.height_mm - bare) / _ROW_MM))
    groups = [card.wires[i : i + most] for i in range(0, len(card.wires), most)]
    return [_wedge_drawing(card, wires, wedge, intro, bare, field) for wires in groups]


def wedge_for(outsides_mm: Sequence[float], length_mm: float) -> Wedge:
    """A wedge for outside diameters in ascending order, with about a millimetre to spare at both ends."""
    low = 5 * math.floor((10 * outsides_mm[0] - 8) / 5)
    high = 5 * math.ceil((10 * outsides_mm[-1] + 8) / 5)
    return Wedge(low_tenths=max(low, 2), high_tenths=high, length_mm=length_mm)


def _wedge_drawing(
    card: _Card, wires: tuple[Wire, ...], wedge: Wedge, intro: tuple[str, ...], bare_mm: float, field: Field
) -> Drawing:
    height = bare_mm + _ROW_MM * len(wires)
    draft, x = Draft(), _NAMES_MM + _BESIDE_MM
    _draw_intro(draft, height, intro)
    axis = height - _intro_mm(intro) - wedge.above_mm
    draft.text(0, axis - 0.9, "OD mm", _WORDS, bold=True)
    draw_wedge(draft, wedge, x, axis)
    y = axis - wedge.below_mm - 1.5
    for wire in wires:
        _draw_scale(draft, wire, sorted(card.insides_mm), wedge, (x, y))
        y -= _ROW_MM
    return draft.drawing(field.width_mm, height, "the wedge of the ring card")


def _draw_scale(draft: Draft, wire: Wire, insides_mm: list[float], wedge: Wedge, at: tuple[float, float]) -> None:
    """A line with a tick where each ring of the wire sits in the wedge; its inside is written where there is room."""
    x, y = at
    draft.text(0, y - 3.0, f"ID, {_in_short(wire)}", 2.3)
    draft.line(x, y, x + wedge.length_mm, y, Role.AID)
    ticks = [(x + wedge.touch(inside + 2 * wire.diameter_mm)[0], show_number(inside)) for inside in insides_mm]
    for tick, _ in ticks:
        draft.line(tick, y, tick, y - 1.1)
    for tick, string in _with_room(ticks):
        draft.text(tick, y - 3.0, string, _INSIDE, anchor="middle")


def _with_room(ticks: list[tuple[float, str]]) -> list[tuple[float, str]]:
    """Every tick, or every second, third, ... one: as many as can be written side by side."""
    for step in range(1, len(ticks)):
        chosen = ticks[::step]
        ends = [lettering.width_mm(string, _INSIDE) / 2 for _, string in chosen]
        room = (b[0] - a[0] - 0.8 for a, b in pairwise(chosen))
        if all(left + right <= gap for left, right, gap in zip(ends, ends[1:], room, strict=False)):
            return chosen
    return ticks[:1]


# --- what came out ------------------------------------------------------------------------------------------

_COLUMNS = {
    "date": 0.14,
    "wire": 0.16,
    "mandrel": 0.16,
    "cut": 0.14,
    "ID": 0.1,
    "OD": 0.1,
    "remarks": 0.2,
}  # of the width
_LINE_MM, _FEWEST, _MOST = 8.0, 3, 8


def _form(room_mm: float, field: Field) -> tuple[Drawing, ...]:
    """Lines to write the batches on, where a card leaves room for some."""
    head = _intro_mm(("",)) + 3.6
    lines = min(math.floor((room_mm - head) / _LINE_MM), _MOST)
    if lines < _FEWEST:
        return ()
    height = head + lines * _LINE_MM
    draft, x = Draft(), 0.0
    _draw_intro(draft, height, ("What came out, for the next batch",))
    for name, share in _COLUMNS.items():
        draft.text(x + (1.2 if x else 0), height - head + 1.2, name, _WORDS, bold=True)
        if x:
            draft.line(x, 2 * _HAIR_MM, x, height - head, Role.AID)
        x += share * field.width_mm
    for line in range(lines + 1):
        y = max(height - head - line * _LINE_MM, _HAIR_MM)
        _rule(draft, field.width_mm, y)
    return (draft.drawing(field.width_mm, height, "the lines of the ring card"),)


# --- the words ----------------------------------------------------------------------------------------------


def _table_intro(card: _Card, field: Field) -> tuple[str, ...]:
    words = f"{_LOOK} {_DISC}"
    if card.tolerance_mm is not None:
        within = f"±{card.tolerance_mm:.3g} mm"
        words += f" Within {within} it shows white all round on the small disc, and none on the large."
    return "Rings at true size", *lettering.wrap(words, _WORDS, field.width_mm)


def _wedge_intro(wedge: Wedge, field: Field) -> tuple[str, ...]:
    words = (
        "Slide the ring flat towards the narrow end until its outside just touches both black edges: no white between,"
        " no black hidden. Where it touches, read OD above, and below it ID for each wire."
        f" {wedge.travel / 10:.1f} mm of travel is 0.1 mm of OD."
    )
    return "Wedge for the outside", *lettering.wrap(words, _WORDS, field.width_mm)


def _intro_mm(intro: tuple[str, ...]) -> float:
    return 4.2 + lettering.LINE * _WORDS * (len(intro) - 1) + 0.9 if intro else 0.0


def _draw_intro(draft: Draft, top: float, intro: tuple[str, ...]) -> None:
    for line, string in enumerate(intro):
        if line:
            draft.text(0, top - 4.2 - lettering.LINE * _WORDS * line + 0.8, string, _WORDS)
        else:
            draft.text(0, top - lettering.ASCENT * _HEADING, string, _HEADING, bold=True)


def _rule(draft: Draft, width_mm: float, y: float) -> None:
    """A quiet line across a frame, its ends within it."""
    draft.line(_HAIR_MM, y, width_mm - _HAIR_MM, y, Role.AID)


def _facts(card: _Card) -> Iterator[tuple[str, str]]:
    wires, insides = card.wires, card.insides_mm
    if len(wires) <= 3:
        yield ("wire", "; ".join(_in_full(wire) for wire in wires))
    else:
        thin, *_, thick = sorted(wires, key=lambda wire: wire.diameter_mm)
        yield (f"{len(wires)} wires", f"{_in_full(thin)} to {_in_full(thick)}")
    if len(insides) <= 6:
        yield ("inside", f"{', '.join(f'{inside:.2f}' for inside in insides)} mm")
    else:
        yield (f"{len(insides)} insides", f"{min(insides):.2f} to {max(insides):.2f} mm")
    if card.tolerance_mm is not None:
        yield ("tolerance", f"±{card.tolerance_mm:.3g} mm")


def _notes(card: _Card) -> Iterator[str]:
    wire, inside = min(card.wires, key=lambda wire: wire.diameter_mm), min(card.insides_mm)
    ring = Ring(wire_mm=wire.diameter_mm, inside_mm=inside)
    yield (
        f"Paper reads to ±{PAPER_READS_MM:g} mm at best (common practice, no source): it sorts rings and does not"
        f" measure them. On the smallest ring here ({_in_short(wire)}, ID {inside:.2f} mm, AR {ring.aspect_ratio:.2f})"
        f" {PAPER_READS_MM:g} mm more of ID is {PAPER_READS_MM / wire.diameter_mm:.2f} more of AR, or"
        f" {100 * PAPER_READS_MM / inside:.1f} %. When AR must be right within 2 %, use a caliper."
    )
    if card.tolerance_mm is not None and card.tolerance_mm < PAPER_READS_MM:
        yield f"±{card.tolerance_mm:g} mm is finer than paper reads: hold that tolerance with a caliper."


def _gauges(card: _Card) -> Iterator[Gauge]:
    """What on the card has a size that counts."""
    for inside in card.insides_mm:
        yield Gauge("disc", inside, card.tolerance_mm or 0.0)
    for outside in card.outsides_mm:
        yield Gauge("ring", outside)


def _in_full(wire: Wire) -> str:
    """'16 AWG, 1.291 mm'; millimetres alone when the wire was given so."""
    mm = f"{wire.diameter_mm:.3f} mm"
    return f"{wire.gauge}, {mm}" if wire.gauge else mm


def _in_short(wire: Wire) -> str:
    """'16 AWG', or millimetres."""
    return str(wire.gauge) if wire.gauge else f"{wire.diameter_mm:.3f} mm"


def _refuse_repeats(what: str, sizes_mm: Sequence[float]) -> None:
    repeated = [size for place, size in enumerate(sizes_mm) if size in sizes_mm[:place]]
    if repeated:
        raise OutOfRange(f"the {what} {repeated[0]:.4g} mm is given twice", "give each size once")
