"""Where the ink of a page lies: words by the outlines of their letters, strokes with their width, filled shapes.

The measure behind "no two words overlap" and "no stroke runs through a word".
"""

from __future__ import annotations

import cmath
import itertools
import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache

import numpy as np
from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont
from numpy.typing import NDArray

from layouts.drawing.lettering import font_path
from layouts.drawing.marks import Annulus, Arc, Circle, Line, Mark, Polyline, Text
from layouts.drawing.pens import PENS, Role

Points = NDArray[np.complex128]
Sides = NDArray[np.float64]
Box = tuple[float, float, float, float]  # left, bottom, right, top


@cache
def font(bold: bool) -> TTFont:
    """The font file as fontTools reads it."""
    return TTFont(font_path(bold=bold))


@cache
def _letter(character: str, bold: bool) -> tuple[float, Box | None]:
    """Advance and the outline's box, of the em; no box for a space."""
    em = font(bold)["head"].unitsPerEm
    glyphs = font(bold).getGlyphSet()
    name = font(bold).getBestCmap()[ord(character)]
    pen = BoundsPen(glyphs)
    glyphs[name].draw(pen)
    box = None if pen.bounds is None else tuple(side / em for side in pen.bounds)
    return glyphs[name].width / em, box  # type: ignore[return-value]


@dataclass(frozen=True, slots=True, kw_only=True)
class WordBox:
    """The tight box of a string: from `start` on its baseline, along `turn`, `box` in its own frame."""

    string: str
    start: complex
    turn: complex
    box: Box

    @property
    def corners(self) -> Points:
        """The four corners on the page."""
        return np.array(self._corners)

    @property
    def _corners(self) -> list[complex]:
        left, bottom, right, top = self.box
        own = complex(left, bottom), complex(right, bottom), complex(right, top), complex(left, top)
        return [self.start + corner * self.turn for corner in own]

    @property
    def extent(self) -> Box:
        """The upright box around it on the page."""
        xs, ys = zip(*((corner.real, corner.imag) for corner in self._corners), strict=True)
        return min(xs), min(ys), max(xs), max(ys)

    def own(self, points: Points) -> Points:
        """Points of the page in the frame of the words."""
        return np.asarray((points - self.start) / self.turn)


@cache
def _string(string: str, bold: bool) -> tuple[float, Box | None]:
    """Advance and the ink's box, of the em; no box where there is none."""
    at, boxes = 0.0, []
    for character in string:
        advance, box = _letter(character, bold)
        if box is not None:
            boxes.append((at + box[0], box[1], at + box[2], box[3]))
        at += advance
    if not boxes:
        return at, None
    lefts, bottoms, rights, tops = zip(*boxes, strict=True)
    return at, (min(lefts), min(bottoms), max(rights), max(tops))


def word_box(mark: Text) -> WordBox | None:
    """The tight box of a text's ink; None where it has none."""
    advance, ink = _string(mark.string, mark.bold)
    if ink is None:
        return None
    left, bottom, right, top = ink
    turn = cmath.exp(1j * math.radians(mark.angle_deg))
    back = {"start": 0.0, "middle": 0.5, "end": 1.0}[mark.anchor] * advance * mark.size_mm
    m = mark.size_mm
    box = (left * m - back, bottom * m, right * m - back, top * m)
    return WordBox(string=mark.string, start=complex(mark.x, mark.y), turn=turn, box=box)


def word_boxes(marks: Iterable[Mark]) -> list[WordBox]:
    """The tight boxes of all words."""
    boxes = (word_box(mark) for mark in marks if type(mark) is Text)
    return [box for box in boxes if box is not None]


def overlapping_words(words: list[WordBox], gap: float = 0.0) -> list[tuple[str, str]]:
    """Pairs of words whose boxes come nearer than `gap` mm."""
    if len(words) < 2:
        return []
    corners = np.array([word.corners for word in words])
    low = np.array([corners.real.min(1), corners.imag.min(1)]) - gap / 2
    high = np.array([corners.real.max(1), corners.imag.max(1)]) + gap / 2
    near = np.all((low[:, :, None] < high[:, None, :]) & (low[:, None, :] < high[:, :, None]), axis=0)
    pairs = [(i, j) for i, j in zip(*np.nonzero(np.triu(near, 1)), strict=True)]
    return [(words[i].string, words[j].string) for i, j in pairs if not _apart(words[i], words[j], gap)]


def _apart(one: WordBox, other: WordBox, gap: float) -> bool:
    """Whether a line along a side of either box parts them by `gap` (separating axes)."""
    for this, that in ((one, other), (other, one)):
        points = this.own(that.corners)
        left, bottom, right, top = this.box
        if min(points.real) >= right + gap or max(points.real) <= left - gap:
            return True
        if min(points.imag) >= top + gap or max(points.imag) <= bottom - gap:
            return True
    return False


@dataclass(frozen=True, slots=True, kw_only=True)
class Strokes:
    """Straight pieces with half their width, mm, and the mark that each is of."""

    starts: Points
    ends: Points
    halves: NDArray[np.float64]
    marks: list[Mark]

    def boxes(self, gap: float) -> tuple[Sides, Sides, Sides, Sides]:
        """The left, bottom, right and top of every one's own box, its width and `gap` around it."""
        grow = self.halves + gap
        (x1, y1), (x2, y2) = (self.starts.real, self.starts.imag), (self.ends.real, self.ends.imag)
        lower = np.minimum(x1, x2) - grow, np.minimum(y1, y2) - grow
        return *lower, np.maximum(x1, x2) + grow, np.maximum(y1, y2) + grow

    def some(self, numbers: NDArray[np.intp]) -> Strokes:
        """Those of the numbers."""
        return Strokes(
            starts=self.starts[numbers],
            ends=self.ends[numbers],
            halves=self.halves[numbers],
            marks=[self.marks[number] for number in numbers],
        )


def strokes(marks: Iterable[Mark]) -> Strokes:
    """Every stroke, and the edge of every dark filled shape; curves in chords of 3 degrees."""
    starts, ends, halves, owners = [], [], [], []
    for mark in marks:
        if type(mark) is Text or (_filled(mark) and mark.role is Role.TINT):
            continue
        half = 0.0 if _filled(mark) else PENS[mark.role].width_mm / 2
        for points in _outlines(mark):
            starts.append(points[:-1])
            ends.append(points[1:])
            halves.append(np.full(len(points) - 1, half))
            owners += [mark] * (len(points) - 1)
    if not owners:
        return Strokes(starts=np.zeros(0, complex), ends=np.zeros(0, complex), halves=np.zeros(0), marks=[])
    return Strokes(
        starts=np.concatenate(starts), ends=np.concatenate(ends), halves=np.concatenate(halves), marks=owners
    )


def _filled(mark: Mark) -> bool:
    return type(mark) is Annulus or getattr(mark, "filled", False)


def _outlines(mark: Mark) -> Iterator[Points]:
    if isinstance(mark, Line):
        yield np.array([complex(mark.x1, mark.y1), complex(mark.x2, mark.y2)])
    elif isinstance(mark, Polyline):
        points = [complex(x, y) for x, y in mark.points]
        yield np.array([*points, points[0]] if mark.closed else points)
    elif isinstance(mark, Arc):
        yield _chords(mark.x, mark.y, mark.r, mark.start_deg, mark.sweep_deg)
    elif isinstance(mark, Circle):
        yield _chords(mark.x, mark.y, mark.r, 0, 360)
    elif isinstance(mark, Annulus):
        for r in (mark.r_outer, mark.r_inner):
            yield _chords(mark.x, mark.y, r, 0, 360)


def _chords(x: float, y: float, r: float, start: float, sweep: float) -> Points:
    count = max(2, math.ceil(abs(sweep) / 3))
    turns = np.exp(1j * np.radians(start + sweep * np.arange(count + 1) / count))
    return np.asarray(complex(x, y) + r * turns)


def crossed_words(words: list[WordBox], lines: Strokes, gap: float = 0.0) -> list[tuple[str, Mark]]:
    """Words that a stroke or a dark edge comes nearer to than `gap` mm, each with the first such mark."""
    found = []
    lefts, bottoms, rights, tops = lines.boxes(gap)
    for word in words:
        left, bottom, right, top = word.extent
        near = np.nonzero((rights >= left) & (lefts <= right) & (tops >= bottom) & (bottoms <= top))[0]
        if not len(near):
            continue
        close = lines.some(near)
        hits = _clipped(word, close, gap)
        if hits.any():
            found.append((word.string, close.marks[int(np.argmax(hits))]))
    return found


def _clipped(word: WordBox, lines: Strokes, gap: float) -> NDArray[np.bool_]:
    """Which strokes enter the box of a word (Liang and Barsky's clipping, all at once)."""
    start, end = word.own(lines.starts), word.own(lines.ends)
    left, bottom, right, top = word.box
    grow = lines.halves + gap - 1e-6
    first, last = np.zeros(len(grow)), np.ones(len(grow))
    outside = np.zeros(len(grow), bool)
    for at, step, low, high in (
        (start.real, (end - start).real, left - grow, right + grow),
        (start.imag, (end - start).imag, bottom - grow, top + grow),
    ):
        still = np.abs(step) < 1e-12
        outside |= still & ((at < low) | (at > high))
        safe = np.where(still, 1.0, step)
        one, two = (low - at) / safe, (high - at) / safe
        first = np.where(still, first, np.maximum(first, np.minimum(one, two)))
        last = np.where(still, last, np.minimum(last, np.maximum(one, two)))
    return np.asarray(~outside & (first <= last))


def buried_words(words: list[WordBox], marks: Iterable[Mark]) -> list[tuple[str, Mark]]:
    """Words whose middle lies in a dark filled shape."""
    dark = [mark for mark in marks if _filled(mark) and mark.role is not Role.TINT]
    middles = np.array([complex(np.mean(word.corners)) for word in words])
    found = []
    for mark in dark:
        inside = np.zeros(len(middles), bool)
        for points in _outlines(mark):
            inside ^= _inside(middles, points)
        found += [(words[i].string, mark) for i in np.nonzero(inside)[0]]
    return found


def _inside(middles: Points, outline: Points) -> NDArray[np.bool_]:
    inside = np.zeros(len(middles), bool)
    across, along = outline.real, outline.imag
    near = (middles.real >= across.min()) & (middles.real <= across.max())
    if not np.any(near & (middles.imag >= along.min()) & (middles.imag <= along.max())):
        return inside
    for a, b in itertools.pairwise(outline):
        if a.imag != b.imag:
            crosses = (a.imag > middles.imag) != (b.imag > middles.imag)
            inside ^= crosses & (middles.real < a.real + (middles.imag - a.imag) * (b - a).real / (b - a).imag)
    return inside
