"""Shades of a picture at places on the sheet, between the dots by straight lines."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from layouts.affine import Affine
from layouts.drawing.marks import Box
from layouts.scanning.markers import Array
from layouts.scanning.picture import Picture

Mask = NDArray[np.bool_]

QUARTERS = 1.349  # of a bell: from a quarter to three quarters, in standard deviations
_BETWEEN = 0.4  # of a dot: what a dot, and the line from dot to dot, spread an edge over


@dataclass(frozen=True, slots=True, kw_only=True)
class Probe:
    """Reads shades at places in mm on the sheet as drawn; `matrix` is that of the fit."""

    picture: Picture
    matrix: Affine
    paper: float  # shades of paper and ink about the middle of the sheet
    ink: float
    edge_mm: float = 0.0  # how far a printed edge takes from a quarter to three quarters of the ink

    @property
    def soft_mm(self) -> float:
        """The standard deviation over which a sharp edge is spread here, the reading between the dots included."""
        return math.hypot(self.edge_mm / QUARTERS, _BETWEEN * self.dot_mm)

    @property
    def dot_mm(self) -> float:
        """The larger side of a dot."""
        return max(self.picture.resolution.dot_mm)

    def shades(self, x: Array, y: Array) -> Array:
        """From 0 for the paper's shade to 1 for the ink's, at every place. Outside of the picture it is paper."""
        m, (across, along) = self.matrix, self.picture.resolution.dot_mm
        column = (m.a * x + m.c * y + m.e) / across - 0.5
        row = -(m.b * x + m.d * y + m.f) / along - 0.5
        left, top = int(np.floor(column.min())) - 1, int(np.floor(row.min())) - 1
        right, bottom = int(column.max()) + 3, int(row.max()) + 3
        wide, high = self.picture.image.size
        left, top, right, bottom = max(left, 0), max(top, 0), min(right, wide), min(bottom, high)
        if right - left < 2 or bottom - top < 2:
            return np.zeros_like(column)
        part = np.asarray(self.picture.image.crop((left, top, right, bottom)), dtype=np.float64)
        inside = (column >= left) & (column < right - 1) & (row >= top) & (row < bottom - 1)
        column, row = np.where(inside, column - left, 0), np.where(inside, row - top, 0)
        first, above = column.astype(np.intp), row.astype(np.intp)
        u, v = column - first, row - above
        line = part.shape[1]
        at = above * line + first
        upper = part.take(at) * (1 - u) + part.take(at + 1) * u
        lower = part.take(at + line) * (1 - u) + part.take(at + line + 1) * u
        found = upper * (1 - v) + lower * v
        return np.where(inside, (self.paper - found) / (self.paper - self.ink), 0.0)

    def dots(self, box: Box) -> tuple[Array, Array, Array]:
        """Every dot whose middle lies in a box of the sheet, mm: its place there, and its shade as `shades` has it."""
        (across, along), back = self.picture.resolution.dot_mm, self.matrix.inverse()
        corners = [self.matrix.apply(x, y) for x in box[::2] for y in box[1::2]]
        columns, rows = [x / across for x, _ in corners], [-y / along for _, y in corners]
        wide, high = self.picture.image.size
        left, top = max(int(min(columns)), 0), max(int(min(rows)), 0)
        right, bottom = min(int(max(columns)) + 1, wide), min(int(max(rows)) + 1, high)
        if right <= left or bottom <= top:
            return np.zeros(0), np.zeros(0), np.zeros(0)
        part = np.asarray(self.picture.image.crop((left, top, right, bottom)), dtype=np.float64)
        u = (np.arange(left, right) + 0.5)[None, :] * across
        v = -(np.arange(top, bottom) + 0.5)[:, None] * along
        x, y = back.a * u + back.c * v + back.e, back.b * u + back.d * v + back.f
        inside = (x > box[0]) & (x < box[2]) & (y > box[1]) & (y < box[3])
        return x[inside], y[inside], (self.paper - part[inside]) / (self.paper - self.ink)


def covered(x: Array, y: Array, boxes: tuple[Box, ...], margin: float) -> Mask:
    """Whether each place lies in one of the boxes, or within a margin of it."""
    found = np.zeros(x.shape, dtype=bool)
    least_x, most_x, least_y, most_y = x.min(), x.max(), y.min(), y.max()
    for box in boxes:
        left, bottom, right, top = box[0] - margin, box[1] - margin, box[2] + margin, box[3] + margin
        if left < most_x and right > least_x and bottom < most_y and top > least_y:
            found |= (x > left) & (x < right) & (y > bottom) & (y < top)
    return found
