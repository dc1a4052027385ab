"""How far a file is from the marks that it was made of, in millimetres; what cannot be the mark raises `Differs`."""

from __future__ import annotations

import math
from collections import OrderedDict
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from readers import Matrix, Path, Points, Sheet, Subpath, through

from layouts.drawing.marks import Annulus, Arc, Circle, Line, Mark, Polyline, Text
from layouts.drawing.pens import PENS
from layouts.pages.page import Page

_MARKS: OrderedDict[int, tuple[Page, tuple[Mark, ...]]] = OrderedDict()  # a page is long to hash: by its identity


def marks(page: Page) -> tuple[Mark, ...]:
    """The marks of a page, put in place once; of the last pages only."""
    if id(page) not in _MARKS:
        _MARKS[id(page)] = page, tuple(page.marks())
        if len(_MARKS) > 60:
            _MARKS.popitem(last=False)
    return _MARKS[id(page)][1]


class Differs(AssertionError):
    """What was drawn is another thing than the mark."""


def in_order(page: Page, read: Sheet) -> Sheet:
    """A page read from an SVG, with the paths of each role in the places of its marks: a role keeps their order."""
    paths: dict[str, list[Path]] = {}
    for path in read.paths:
        paths.setdefault(path.kind, []).append(path)
    ordered = []
    for mark in marks(page):
        if type(mark) is not Text:
            kind = f"{mark.role}-ink" if mark.filled else str(mark.role)
            if not paths.get(kind):
                raise Differs(f"{mark} is not drawn")
            ordered.append(paths[kind].pop(0))
    if any(paths.values()):
        raise Differs(f"{sum(map(len, paths.values()))} shapes that are no marks")
    return replace(read, paths=tuple(ordered))


def page_off_by(page: Page, read: Sheet) -> float:
    """The farthest that any path or word of the page, as it was read, is from its mark; mm, correction undone."""
    shapes = [mark for mark in marks(page) if type(mark) is not Text]
    words = [mark for mark in marks(page) if type(mark) is Text]
    undo = page.correction.inverse().coefficients
    _same_number("shapes", len(shapes), len(read.paths))
    _same_number("words", len(words), len(read.words))
    offs = [mark_off_by(mark, path, undo) for mark, path in zip(shapes, read.paths, strict=True)]
    for mark, said in zip(words, read.words, strict=True):
        if mark.string != said.string:
            raise Differs(f"{mark.string!r} is written {said.string!r}")
        offs.append(abs(complex(*mark.start) - complex(through(undo, said.start))))
    return max(offs)


def mark_off_by(mark: Mark, path: Path, undo: Matrix = (1, 0, 0, 1, 0, 0)) -> float:
    """The farthest that a path is from its mark, mm."""
    filled = type(mark) is Annulus or getattr(mark, "filled", False)
    if path.filled != filled:
        raise Differs(f"{mark} is {'filled' if path.filled else 'stroked'}")
    points = [through(undo, sub.points) for sub in path.subpaths]
    if type(mark) is Annulus:
        return _annulus(mark, path, points)
    if len(path.subpaths) != 1:
        raise Differs(f"{mark} is in {len(path.subpaths)} parts")
    return _one(mark, path.subpaths[0], points[0])


def _one(mark: Mark, sub: Subpath, points: Points) -> float:
    if type(mark) is Line and not sub.curved:  # as most are
        return _corners(((mark.x1, mark.y1), (mark.x2, mark.y2)), points)
    if isinstance(mark, Circle):
        return _round(points, complex(mark.x, mark.y), mark.r, 360.0, closed=sub.closed)
    if isinstance(mark, Arc):
        ends = abs(points[0] - complex(*mark.at(0))), abs(points[-1] - complex(*mark.at(1)))
        return max(_round(points, complex(mark.x, mark.y), mark.r, mark.sweep_deg), *ends)
    if sub.curved:
        raise Differs(f"{mark} is curved")
    assert isinstance(mark, Polyline)
    if sub.closed != mark.closed:
        raise Differs(f"{mark} is {'closed' if sub.closed else 'open'}")
    return _corners(mark.points, points)


def _annulus(mark: Annulus, path: Path, points: list[Points]) -> float:
    if len(points) != 2 or not path.even_odd:
        raise Differs(f"{mark} has {len(points)} edges, and the even-odd rule is {path.even_odd}")
    radii = (mark.r_outer, mark.r_inner)
    return max(_round(edge, complex(mark.x, mark.y), r, 360.0) for edge, r in zip(points, radii, strict=True))


def _corners(wanted: Sequence[tuple[float, float]], points: Points) -> float:
    _same_number("corners", len(wanted), len(points))
    # Most have two corners: numbers of Python's own are through before numpy has made arrays of them.
    return max(abs(found - complex(*at)) for found, at in zip(points.tolist(), wanted, strict=True))


def _round(points: Points, centre: complex, r: float, sweep_deg: float, *, closed: bool = True) -> float:
    """Off the radius at the worst point. All the way round, one way, counts: else `Differs`."""
    spokes = points - centre
    turns = np.angle(spokes[1:] / spokes[:-1])
    turned = math.degrees(float(np.sum(turns)))
    whole = abs(sweep_deg) == 360
    if abs((abs(turned) if whole else turned) - (360 if whole else sweep_deg)) > math.degrees(0.01 / r):
        raise Differs(f"a sweep of {sweep_deg} degrees was drawn {turned}")
    if not closed or np.max(np.abs(turns)) > math.radians(30):
        raise Differs("a circle that is open or was not drawn as one")
    return float(np.max(np.abs(np.abs(spokes) - r)))


def _same_number(what: str, wanted: int, found: int) -> None:
    if wanted != found:
        raise Differs(f"{wanted} {what} wanted, {found} found")


def sheets_apart(one: Sheet, other: Sheet, undo: Matrix = (1, 0, 0, 1, 0, 0)) -> float:
    """The farthest that two readings of the same page are apart, mm; sizes and shapes, without the marks.

    `undo` takes a printer's correction away first: it makes ellipses of circles.
    """
    _same_number("paths", len(one.paths), len(other.paths))
    apart = [abs(one.width - other.width), abs(one.height - other.height)]
    for a, b in zip(one.paths, other.paths, strict=True):
        _same_number("subpaths", len(a.subpaths), len(b.subpaths))
        if a.filled != b.filled:
            raise Differs("one is filled, the other not")
        pairs = zip(a.subpaths, b.subpaths, strict=True)
        apart += [_subpaths_apart(*pair, undo) for pair in pairs]
    return max(apart)


def _subpaths_apart(one: Subpath, other: Subpath, undo: Matrix) -> float:
    if one.curved != other.curved or one.closed != other.closed:
        raise Differs("one is curved or closed, the other not")
    these, those = through(undo, one.points), through(undo, other.points)
    if not one.curved:
        _same_number("corners", len(these), len(those))
        return float(abs(these - those).max())
    if not one.closed:  # the ends and the middle: a circle fitted to a short arc is uncertain
        places = [[0, len(points) // 2, -1] for points in (these, those)]
        return float(abs(these[places[0]] - those[places[1]]).max())
    (c1, r1), (c2, r2) = fitted_circle(these), fitted_circle(those)
    return max(abs(c1 - c2), abs(r1 - r2))


def fitted_circle(points: Points) -> tuple[complex, float]:
    """Centre and radius of the circle nearest to the points (linear least squares)."""
    middle = complex(np.mean(points))
    x, y = np.real(points - middle), np.imag(points - middle)
    rows = np.column_stack([x, y, np.ones_like(x)])
    (a, b, c), *_ = np.linalg.lstsq(rows, x * x + y * y, rcond=None)
    return middle + complex(a / 2, b / 2), math.sqrt(c + a * a / 4 + b * b / 4)


def pen_off_by(mark: Mark, path: Path) -> float:
    """How far line width (mm) or shade (0 to 1) is from the pen of the mark's role, whichever is more."""
    pen = PENS[mark.role]
    if path.filled:
        return abs(path.shade - pen.shade)
    if len(path.dash) != len(pen.dash_mm):
        raise Differs(f"a dash of {path.dash} where {pen.dash_mm} was wanted")
    dashes = (abs(a - b) for a, b in zip(path.dash, pen.dash_mm, strict=True))
    return max(abs(path.width - pen.width_mm), abs(path.shade - pen.shade), *dashes, 0.0)
