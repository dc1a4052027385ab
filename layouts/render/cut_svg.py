"""A sheet to cut as SVG: millimetres, a group for each layer, circles as circles and arcs as arcs."""

from __future__ import annotations

import math
from collections.abc import Iterable
from xml.sax.saxutils import escape

from layouts.cutting.board import CutSheet, Layer, Stroke, Trail
from layouts.drawing.marks.mark import on_circle
from layouts.drawing.outline import Piece, Round

_COLOURS = {Layer.MARK: "#000000", Layer.ENGRAVE: "#0000ff", Layer.CUT: "#ff0000"}
_ROOM_MM = 5.0  # round the parts, to look at
_LINE_MM = 0.1  # drawn width: the middle of the line counts


def write_cut_svg(sheet: CutSheet, *, embedded: bool = False) -> bytes:
    """One SVG 1.1 of the sheet. In it y runs down: the sheet is turned over here and nowhere else.

    Embedded in a page of the web, it shows the parts with a little of the sheet round them, and a layer is a class of
    that page's style sheet: "cut-lines", and so on.
    """
    width, height = sheet.board.width_mm, sheet.board.height_mm
    view = 0.0, 0.0, width, height
    if embedded:
        *_, width, height = view = _view(sheet)
    said = "\n".join(("Made by Coilwright. Millimetres: one unit of the drawing is 1 mm.", *sheet.said))
    groups = "".join(_group(sheet, layer, embedded=embedded) for layer in Layer)
    return (
        '<?xml version="1.0" encoding="utf-8"?>\n'
        f'<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="{_n(width)}mm" height="{_n(height)}mm" '
        f'viewBox="{" ".join(map(_n, view))}">\n'
        f"<title>{escape(sheet.title)}</title>\n<desc>{escape(said)}</desc>\n{groups}</svg>\n"
    ).encode()


def _view(sheet: CutSheet) -> tuple[float, float, float, float]:
    """What of the sheet holds lines, and some room: from the left, from the top, wide and high."""
    xs, ys = list[float](), list[float]()
    for stroke in sheet.strokes:
        shape = stroke.shape
        if isinstance(shape, Round):
            left, bottom, right, top = shape.box
            points: Iterable[tuple[float, float]] = ((left, bottom), (right, top))
        else:
            points = shape.points if isinstance(shape, Trail) else (piece.end for piece in shape)
        for x, y in points:
            xs.append(x)
            ys.append(y)
    if not xs:
        return 0.0, 0.0, sheet.board.width_mm, sheet.board.height_mm
    left, top = min(xs) - _ROOM_MM, sheet.board.height_mm - max(ys) - _ROOM_MM
    return left, top, max(xs) + _ROOM_MM - left, max(ys) - min(ys) + 2 * _ROOM_MM


def _group(sheet: CutSheet, layer: Layer, *, embedded: bool) -> str:
    top = sheet.board.height_mm
    if embedded:  # several sheets in one page have no name in common; and one path is drawn faster than a thousand
        strokes = tuple(sheet.on(layer))
        rounds = "".join(_line(stroke, top) for stroke in strokes if isinstance(stroke.shape, Round))
        data = "".join(_data(stroke.shape, top) for stroke in strokes if not isinstance(stroke.shape, Round))
        return f'<g class="{layer.value.casefold()}-lines">{rounds}<path d="{data or "M0 0"}"/></g>\n'
    look = f'id="{layer.value}" fill="none" stroke="{_COLOURS[layer]}" stroke-width="{_LINE_MM}"'
    return f"<g {look}>\n{''.join(_line(stroke, top) for stroke in sheet.on(layer))}</g>\n"


def _line(stroke: Stroke, top: float) -> str:
    shape = stroke.shape
    if isinstance(shape, Round):
        return f'<circle cx="{_n(shape.x)}" cy="{_n(top - shape.y)}" r="{_n(shape.r)}"/>\n'
    return f'<path d="{_data(shape, top)}"/>\n'


def _data(shape: Trail | tuple[Piece, ...], top: float) -> str:
    """The path of any shape but a circle."""
    if isinstance(shape, Trail):
        points = "L".join(f"{x:.3f} {top - y:.3f}" for x, y in shape.points)  # of letters, to a micrometre
        return f"M{points}{'Z' if shape.closed else ''}"
    is_closed = shape[0].start == shape[-1].end
    steps = [f"M{_n(shape[0].start[0])} {_n(top - shape[0].start[1])}"]
    steps += (_step(piece, top) for piece in (shape[:-1] if is_closed and not shape[-1].is_arc else shape))
    return f"{''.join(steps)}{'Z' if is_closed else ''}"


def _step(piece: Piece, top: float) -> str:
    """On to its end. An arc goes in quarters at most: near half a turn a rounding of its ends would move its middle."""
    if not piece.is_arc:
        return f"L{_n(piece.end[0])} {_n(top - piece.end[1])}"
    (x, y), r, count = piece.centre, piece.radius, math.ceil(abs(piece.sweep_deg) / 90 - 1e-9)
    turn = int(piece.sweep_deg < 0)  # y down turns the sense over
    ends = [on_circle(x, y, r, piece.start_deg + piece.sweep_deg * step / count) for step in range(1, count)]
    return "".join(f"A{_n(r)} {_n(r)} 0 0 {turn} {_n(u)} {_n(top - v)}" for u, v in (*ends, piece.end))


def _n(number: float) -> str:
    """To a nanometre: an arc is given by its ends, and a rounding of them moves its middle."""
    text = f"{number:.6f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") or math.isclose(number, 0.0, abs_tol=1e-9) else text
