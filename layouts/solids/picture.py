"""A picture of a solid for people: its edges seen from the front, a little from the side and from above.

Lines that lie behind are left out, exactly: each edge is cut where a triangle nearer to the eye begins to cover it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.pens import Role
from layouts.solids.body import Body, Solid

TURN_DEG, TILT_DEG = 30.0, 35.0  # the solid turned to the left, and seen from above
_SHARP_DEG = 20.0  # an edge between faces that turn by more is drawn
_NEARER_MM = 0.02  # what covers a line lies in front of it by more: its own faces do not
_AT_ONCE = 64  # edges looked at together, side by side: few triangles lie near so few
_SHORT_MM = 0.05

Array = Any


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """From where a solid is seen: turned about the upright, then tilted towards the eye."""

    turn_deg: float = TURN_DEG
    tilt_deg: float = TILT_DEG

    @property
    def axes(self) -> Array:
        """To the right, up, and towards the eye, as rows."""
        turn, tilt = math.radians(self.turn_deg), math.radians(self.tilt_deg)
        right = (math.cos(turn), math.sin(turn), 0.0)
        back = (-math.sin(turn), math.cos(turn), 0.0)
        up = (*(part * math.sin(tilt) for part in back[:2]), math.cos(tilt))
        eye = (*(-part * math.cos(tilt) for part in back[:2]), math.sin(tilt))
        return np.array((right, up, eye))


FROM_ABOVE = View(turn_deg=0.0, tilt_deg=90.0)


def picture(solid: Solid, name: str, scale: float = 1.0, view: View | None = None) -> Drawing:
    """A line drawing of all bodies as they lie on the bed; `scale` is millimetres on paper for each of the solid."""
    draft = Draft()
    for line in visible_lines(solid, view or View()):
        draft.polyline([(float(x) * scale, float(y) * scale) for x, y in line], Role.LABEL)
    return draft.trimmed(name)


def visible_lines(solid: Solid, view: View) -> Iterator[list[tuple[float, float]]]:
    """What is seen of all sharp edges and outlines, joined end to end, mm to the right and up."""
    edges, triangles = [], []
    for body in solid.bodies:
        found, facing = _edges_of(body, view.axes)
        edges.append(found)
        triangles.append(facing)
    every_edge, every_triangle = np.concatenate(edges), np.concatenate(triangles)
    yield from _joined(_uncovered(every_edge, _covered(every_edge, every_triangle)))


def _edges_of(body: Body, axes: Array) -> tuple[Array, Array]:
    """The edges that show, by their two ends, and the triangles that face the eye; seen from there."""
    points = np.asarray(body.points) @ axes.T
    corners = np.asarray(body.triangles)
    a, b, c = (points[corners[:, n]] for n in range(3))
    normals = np.cross(b - a, c - a)
    sizes = np.linalg.norm(normals, axis=1)
    normals /= np.where(sizes > 0, sizes, 1.0)[:, None]
    facing = normals[:, 2] > 1e-6
    sides = np.concatenate((corners[:, (0, 1)], corners[:, (1, 2)], corners[:, (2, 0)]))
    owner = np.tile(np.arange(len(corners)), 3)
    forth = sides[:, 0] < sides[:, 1]
    # Each side is there once each way: sorted alike, the two stand at the same place.
    one, other = (sides[forth], owner[forth]), (sides[~forth][:, ::-1], owner[~forth])
    first, second = (np.lexsort(half[0].T) for half in (one, other))
    ends, left, right = one[0][first], one[1][first], other[1][second]
    turned = np.einsum("ij,ij->i", normals[left], normals[right]) < math.cos(math.radians(_SHARP_DEG))
    outline = facing[left] != facing[right]
    shown = (facing[left] | facing[right]) & (turned | outline)
    return points[ends[shown]], points[corners[facing]]


def _covered(edges: Array, triangles: Array) -> list[list[tuple[float, float]]]:
    """From where to where each edge is covered, in shares of its length."""
    found: list[list[tuple[float, float]]] = [[] for _ in edges]
    lows, highs = edges.min(axis=1), edges.max(axis=1)
    under, over = triangles.min(axis=1), triangles.max(axis=1)
    from_left = np.argsort(lows[:, 0], kind="stable")
    for at in range(0, len(edges), _AT_ONCE):
        some = from_left[at : at + _AT_ONCE]
        close = np.nonzero(_meet(lows[some].min(axis=0), highs[some].max(axis=0), under, over))[0]
        low, high = lows[some][:, None], highs[some][:, None]
        which, cover = np.nonzero(_meet(low, high, under[close], over[close]))
        which, cover = some[which], close[cover]
        start, end = _spans(edges[which], triangles[cover])
        for number in np.nonzero(end > start)[0]:
            found[which[number]].append((float(start[number]), float(end[number])))
    return found


def _meet(low: Array, high: Array, under: Array, over: Array) -> Array:
    """Whether boxes meet as seen, and the second reaches nearer to the eye than the far end of the first."""
    beside = (high[..., 0] > under[:, 0]) & (low[..., 0] < over[:, 0])
    level = (high[..., 1] > under[:, 1]) & (low[..., 1] < over[:, 1])
    return beside & level & (over[:, 2] > low[..., 2] + _NEARER_MM)


def _spans(edges: Array, triangles: Array) -> tuple[Array, Array]:
    """From where to where each edge runs within its triangle as seen, and behind it; in shares of its length."""
    start, end = np.zeros(len(edges)), np.ones(len(edges))
    origin, way = edges[:, 0], edges[:, 1] - edges[:, 0]
    a, b, c = (triangles[:, n] for n in range(3))
    for tail, head in ((a, b), (b, c), (c, a)):  # to the left of each side: they run counter-clockwise
        side = head - tail
        value = side[:, 0] * (origin[:, 1] - tail[:, 1]) - side[:, 1] * (origin[:, 0] - tail[:, 0])
        slope = side[:, 0] * way[:, 1] - side[:, 1] * way[:, 0]
        start, end = _cut(start, end, value, slope)
    normal = np.cross(b - a, c - a)
    upright = normal[:, 2]
    value = np.einsum("ij,ij->i", normal, a - origin) / upright - _NEARER_MM
    slope = -np.einsum("ij,ij->i", normal, way) / upright
    return _cut(start, end, value, slope)


def _cut(start: Array, end: Array, value: Array, slope: Array) -> tuple[Array, Array]:
    """What is left of a span where value + share x slope is over zero."""
    with np.errstate(divide="ignore", invalid="ignore"):
        zero = -value / slope
    start = np.where(slope > 0, np.maximum(start, zero), start)
    end = np.where(slope < 0, np.minimum(end, zero), end)
    gone = (slope == 0) & (value <= 0)
    return np.where(gone, 1.0, start), np.where(gone, 0.0, end)


def _uncovered(edges: Array, covered: Sequence[Sequence[tuple[float, float]]]) -> Array:
    """The parts of edges that are seen, by their two ends."""
    starts, ways = edges[:, 0, :2], edges[:, 1, :2] - edges[:, 0, :2]
    seen: list[tuple[int, float, float]] = []  # an edge, and from where to where of it
    for number, length in enumerate(np.hypot(*ways.T).tolist()):
        at = 0.0
        for low, high in (*sorted(covered[number]), (1.0, 1.0)):
            if (low - at) * length > _SHORT_MM or (at == 0.0 and low == 1.0):
                seen.append((number, at, low))
            at = max(at, high)
    which = [number for number, *_ in seen]
    shares = np.array([shares for _, *shares in seen]).reshape(-1, 2, 1)
    return np.asarray(starts[which][:, None] + shares * ways[which][:, None])


def _joined(parts: Array) -> Iterator[list[tuple[float, float]]]:
    """Lines that meet end to end as one, in the order in which they come."""
    left: dict[tuple[float, float], list[int]] = {}
    lines = [((a, b), (c, d)) for a, b, c, d in np.round(parts, 4).reshape(-1, 4).tolist()]
    for number, ends in enumerate(lines):
        for end in ends:
            left.setdefault(end, []).append(number)
    used = [False] * len(lines)
    for number, (first, last) in enumerate(lines):
        if used[number]:
            continue
        used[number] = True
        line = [first, last]
        for _ in range(2):
            while (following := next((one for one in left[line[-1]] if not used[one]), None)) is not None:
                used[following] = True
                line.append(lines[following][lines[following][0] == line[-1]])
            line.reverse()
        yield [point for n, point in enumerate(line) if n == 0 or point != line[n - 1]] or line
