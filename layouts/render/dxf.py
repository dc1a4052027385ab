"""A sheet to cut as one DXF file of release 12, which every program that cuts can read. Millimetres.

Circles are circles and arcs are arcs, as they are cut; outlines without arcs are closed polylines. Lines stand on
layers by what is done, and in the file in the order in which they are done. Release 12 names no unit: the comment does,
and so does a variable of later releases, which older programs pass over.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from layouts.cutting.board import CutSheet, Layer, Stroke, Trail
from layouts.drawing.marks import Point
from layouts.drawing.outline import Piece, Round

_COLOURS = {Layer.MARK: 7, Layer.ENGRAVE: 5, Layer.CUT: 1}  # black or white, blue, red
_PLACES, _WORDS_PLACES = 6, 3  # a nanometre, which no reading can lose; of letters a micrometre
_LONGEST = 200  # characters of a comment line: readers stop at 255


def write_dxf(sheet: CutSheet) -> bytes:
    """The file, in ASCII: other letters of a comment are written as their code, as the format has it."""
    head = _written((*_comments(sheet), *_header(sheet), *_tables(), (0, "SECTION"), (2, "ENTITIES")))
    entities = "".join(map(_entity, sheet.strokes))
    return f"{head}{entities}{_written(((0, 'ENDSEC'), (0, 'EOF')))}".encode("ascii")


Group = tuple[int, str | int]


def _written(groups: Iterable[Group]) -> str:
    return "".join(f"{code}\n{value}\n" for code, value in groups)


def _comments(sheet: CutSheet) -> Iterator[Group]:
    yield 999, "Made by Coilwright. All sizes are in millimetres: one drawing unit is 1 mm."
    for words in (sheet.title, *sheet.said):
        plain = "".join(c if " " <= c < "\x7f" else f"\\U+{ord(c):04X}" for c in words)
        while plain:
            cut = len(plain) if len(plain) <= _LONGEST else plain.rfind(" ", 0, _LONGEST) + 1 or _LONGEST
            yield 999, plain[:cut].rstrip()
            plain = plain[cut:]


def _header(sheet: CutSheet) -> Iterator[Group]:
    right, top = sheet.board.width_mm, sheet.board.height_mm
    yield from ((0, "SECTION"), (2, "HEADER"), (9, "$ACADVER"), (1, "AC1009"), (9, "$INSUNITS"), (70, 4))
    for name, point in (("$EXTMIN", (0.0, 0.0)), ("$EXTMAX", (right, top))):
        yield from ((9, name), *_at(point), (30, "0.0"))
    for name, point in (("$LIMMIN", (0.0, 0.0)), ("$LIMMAX", (right, top))):
        yield from ((9, name), *_at(point))
    yield 0, "ENDSEC"


def _tables() -> Iterator[Group]:
    yield from ((0, "SECTION"), (2, "TABLES"), (0, "TABLE"), (2, "LTYPE"), (70, 1), (0, "LTYPE"), (2, "CONTINUOUS"))
    yield from ((70, 0), (3, "Solid line"), (72, 65), (73, 0), (40, "0.0"), (0, "ENDTAB"))
    yield from ((0, "TABLE"), (2, "LAYER"), (70, len(Layer) + 1))
    for name, colour in (("0", 7), *((layer.value, _COLOURS[layer]) for layer in Layer)):
        yield from ((0, "LAYER"), (2, name), (70, 0), (62, colour), (6, "CONTINUOUS"))
    yield from ((0, "ENDTAB"), (0, "ENDSEC"))


def _entity(stroke: Stroke) -> str:
    shape, layer = stroke.shape, stroke.layer.value
    if isinstance(shape, Round):
        return _written(((0, "CIRCLE"), (8, layer), *_at((shape.x, shape.y)), (30, "0.0"), (40, _n(shape.r))))
    trail = stroke.trail
    if trail is None:
        pieces = shape if isinstance(shape, tuple) and not isinstance(shape, Trail) else ()
        return "".join(_written(_piece(piece, layer)) for piece in pieces)
    begun = (0, "POLYLINE"), (8, layer), (66, 1), (70, int(trail.closed)), (10, "0.0"), (20, "0.0"), (30, "0.0")
    # Letters have most of the points of a sheet: these are written whole, not group by group.
    places = _WORDS_PLACES if stroke.layer is Layer.MARK else _PLACES
    points = "".join(f"0\nVERTEX\n8\n{layer}\n10\n{x:.{places}f}\n20\n{y:.{places}f}\n" for x, y in trail.points)
    return f"{_written(begun)}{points}{_written(((0, 'SEQEND'), (8, layer)))}"


def _piece(piece: Piece, layer: str) -> Iterator[Group]:
    """A line, or an arc: always counter-clockwise, as the format has it."""
    if not piece.is_arc:
        yield from ((0, "LINE"), (8, layer), *_at(piece.start), (30, "0.0"))
        yield from ((11, _n(piece.end[0])), (21, _n(piece.end[1])), (31, "0.0"))
        return
    start = piece.start_deg if piece.sweep_deg > 0 else piece.start_deg + piece.sweep_deg
    yield from ((0, "ARC"), (8, layer), *_at(piece.centre), (30, "0.0"), (40, _n(piece.radius)))
    yield from ((50, _n(start % 360)), (51, _n((start + abs(piece.sweep_deg)) % 360)))


def _at(point: Point) -> tuple[Group, Group]:
    return (10, _n(point[0])), (20, _n(point[1]))


def _n(number: float) -> str:
    """A number to its last place that is not zero, and one place at least; never a minus before zero."""
    text = f"{number:.{_PLACES}f}".rstrip("0")
    text = f"{text}0" if text.endswith(".") else text
    return text.removeprefix("-") if text == "-0.0" else text
