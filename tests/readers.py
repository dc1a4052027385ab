"""What readers of PDF and SVG files give, sharing no code with the renderers: what is drawn, in millimetres.

Every reader gives the same form. Points are complex numbers, x to the right and y up, from the page's lower left
corner. Curves come as points that lie exactly on what the file describes, so a circle can be measured from them.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

MM_PER_POINT = 127 / 360  # an inch is 127/5 mm (exact) and 72 points (ISO 32000)
STEPS = 16  # points that a curve is read at, after its first

Points = NDArray[np.complex128]
Matrix = tuple[float, float, float, float, float, float]  # a b c d e f: x' = a x + c y + e


@dataclass(frozen=True, slots=True, kw_only=True)
class Subpath:
    """Corners, and the points that curves were read at, in drawing order."""

    points: Points
    closed: bool
    curved: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Path:
    """What one paint operator inks: lengths in mm, shade from 0 (black) to 1 (white)."""

    subpaths: tuple[Subpath, ...]
    filled: bool
    even_odd: bool
    shade: float
    width: float = 0.0
    dash: tuple[float, ...] = ()
    kind: str = ""  # the class of an SVG element


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """One string: where its first letter starts, its em in mm, its angle counter-clockwise, its font's name."""

    string: str
    start: complex
    size: float
    angle_deg: float
    shade: float
    font: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One page as it was read."""

    width: float
    height: float
    paths: tuple[Path, ...]
    words: tuple[Words, ...]


AS_IT_IS: Matrix = (1, 0, 0, 1, 0, 0)


def times(outer: Matrix, inner: Matrix) -> Matrix:
    """The matrix that does `inner`, then `outer`."""
    a, b, c, d, e, f = inner
    p, q, r, s, t, u = outer
    return p * a + r * b, q * a + s * b, p * c + r * d, q * c + s * d, p * e + r * f + t, q * e + s * f + u


def through(matrix: Matrix, points: Points | complex) -> Points:
    """The points after the matrix."""
    if matrix == AS_IT_IS:
        return np.asarray(points)
    turn, mirror, move = _steps(matrix)
    turned = points * turn
    return np.asarray((turned + np.conj(points) * mirror if mirror else turned) + move)


@lru_cache(maxsize=64)
def _steps(matrix: Matrix) -> tuple[complex, complex, complex]:
    """p, q and r of x' + iy' = p z + q conj(z) + r: three steps for an array, where x and y apart would be eight."""
    a, b, c, d, e, f = matrix
    return complex(a + d, b - c) / 2, complex(a - d, b + c) / 2, complex(e, f)


def growth(matrix: Matrix) -> float:
    return math.sqrt(abs(matrix[0] * matrix[3] - matrix[1] * matrix[2]))


_T = np.arange(1, STEPS + 1) / STEPS
_SHARES = np.stack([(1 - _T) ** 3, 3 * (1 - _T) ** 2 * _T, 3 * (1 - _T) * _T**2, _T**3], axis=1).astype(np.complex128)


def cubic(p0: complex, p1: complex, p2: complex, p3: complex) -> Points:
    return np.asarray(_SHARES @ np.array((p0, p1, p2, p3)))


class Outline:
    """Gathers subpaths in the file's own units."""

    def __init__(self) -> None:
        self.done: list[tuple[list[complex], bool, bool]] = []  # points; closed; curved
        self.chunks: list[complex] = []
        self.at = 0j
        self.first = 0j
        self.curved = False

    def move(self, to: complex) -> None:
        self.end()
        self.at = self.first = to
        self.chunks = [to]

    def line(self, to: complex) -> None:
        self.chunks.append(to)
        self.at = to

    def curve(self, points: Points) -> None:
        self.chunks += points.tolist()
        self.curved, self.at = True, self.chunks[-1]

    def end(self, *, closed: bool = False) -> None:
        if points := self.chunks:
            if closed and not self.curved and len(points) > 2 and points[-1] == points[0]:
                points.pop()  # the closing stroke spelt out
            self.done.append((points, closed, self.curved))
        self.chunks, self.curved, self.at = [], False, self.first

    def taken(self, matrix: Matrix) -> tuple[Subpath, ...]:
        """All subpaths after the matrix, which all their points go through at once."""
        self.end()
        done, self.done = self.done, []
        every = through(matrix, np.array([point for points, *_ in done for point in points], dtype=np.complex128))
        ends = itertools.accumulate(len(points) for points, *_ in done)
        return tuple(
            Subpath(points=every[end - len(points) : end], closed=closed, curved=curved)
            for (points, closed, curved), end in zip(done, ends, strict=True)
        )
