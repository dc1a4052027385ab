"""The markers fitted to their true places: what the sheet went through, and what is left unexplained."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from layouts.affine import Affine
from layouts.errors import ScanRefused
from layouts.scanning.markers import Array

MOST_ANGLE_MM = 0.15  # how far perspective may move a marker
MOST_RESIDUAL_MM = 0.15  # root mean square
_POINT = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Placement:
    """From mm on the sheet as drawn to mm in the picture, both x to the right and y up; and what is left."""

    matrix: Affine
    residuals_mm: tuple[_POINT, ...]

    @property
    def across(self) -> float:
        """Seen over true along the sheet's x."""
        return math.hypot(self.matrix.a, self.matrix.b)

    @property
    def along(self) -> float:
        """Seen over true along the sheet's y."""
        return math.hypot(self.matrix.c, self.matrix.d)

    @property
    def skew_deg(self) -> float:
        """By how much the upright lines lean to the right against those across."""
        return lean_deg((self.matrix.a, self.matrix.b), (self.matrix.c, self.matrix.d))

    @property
    def rotation_deg(self) -> float:
        """How the lines across are turned in the picture, counter-clockwise, -180 to 180."""
        return math.degrees(math.atan2(self.matrix.b, self.matrix.a))

    @property
    def rms_mm(self) -> float:
        """Root mean square of the residuals."""
        return math.sqrt(sum(x * x + y * y for x, y in self.residuals_mm) / len(self.residuals_mm))

    @property
    def most_mm(self) -> float:
        """The largest residual."""
        return max(math.hypot(x, y) for x, y in self.residuals_mm)

    def through(self, true: Affine) -> Placement:
        """The same with the picture's mm made true."""
        residuals = tuple((true.a * x + true.c * y, true.b * x + true.d * y) for x, y in self.residuals_mm)
        return replace(self, matrix=true.after(self.matrix), residuals_mm=residuals)


def lean_deg(level: _POINT, upright: _POINT) -> float:
    """By how much the second of two ways leans to the right of square to the first."""
    (wx, wy), (hx, hy) = level, upright
    return math.degrees(math.asin((wx * hx + wy * hy) / (math.hypot(wx, wy) * math.hypot(hx, hy))))


def fitted(true: Sequence[_POINT], seen: Sequence[_POINT]) -> Placement:
    """The best affine transform. Refuses (`ScanRefused`) places that a flat sheet, seen squarely, cannot have."""
    places, found = np.array(true), np.array(seen)
    terms = np.column_stack([places, np.ones(len(places))])
    (solved_x, solved_y) = np.linalg.lstsq(terms, found, rcond=None)[0].T
    flat = terms @ np.column_stack([solved_x, solved_y])
    fit = Placement(
        matrix=Affine(a=solved_x[0], c=solved_x[1], e=solved_x[2], b=solved_y[0], d=solved_y[1], f=solved_y[2]),
        residuals_mm=tuple((float(x), float(y)) for x, y in found - flat),
    )
    # Perspective: the best projective transform moves the markers from where the best affine one has them.
    moved = np.hypot(*(_projected(places, found) - flat).T)
    left, explained = np.hypot(*(found - flat).T).max(), moved.max()
    # A crumpled sheet has some perspective too: it is the angle's fault only where that explains most of it.
    if explained > MOST_ANGLE_MM and explained > 0.5 * left:
        raise ScanRefused(
            f"the sheet is seen at an angle: perspective moves its markers by {explained:.1f} mm",
            "use a flatbed scanner, or hold the camera square above the middle, from farther away",
        )
    if fit.rms_mm > MOST_RESIDUAL_MM:
        raise ScanRefused(
            f"the markers are {fit.rms_mm:.2f} mm from where a flat sheet has them (at most {MOST_RESIDUAL_MM:g})",
            "lay the sheet flat on a flatbed scanner and scan again",
        )
    return fit


def _projected(places: Array, found: Array) -> Array:
    """Where the best projective transform puts the places: x' = (h0 x + h1 y + h2) / (h6 x + h7 y + 1)."""
    middle, size = places.mean(axis=0), np.abs(places - places.mean(axis=0)).max()
    x, y = ((places - middle) / size).T
    one, none = np.ones_like(x), np.zeros_like(x)
    u, v = found.T
    upper = np.column_stack([x, y, one, none, none, none, -u * x, -u * y])
    lower = np.column_stack([none, none, none, x, y, one, -v * x, -v * y])
    h = np.linalg.lstsq(np.vstack([upper, lower]), np.concatenate([u, v]), rcond=None)[0]
    depth = h[6] * x + h[7] * y + 1
    flat = np.column_stack([h[0] * x + h[1] * y + h[2], h[3] * x + h[4] * y + h[5]])
    return np.asarray(flat / depth[:, None])
