"""Markers found in a picture: candidates among coarse blocks, then each measured by its grey area and centroid."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from layouts.errors import ScanRefused
from layouts.scanning.picture import Picture
from layouts.scanning.target import Target

Array = NDArray[np.float64]

_BLOCK_MM = 0.42  # about the side of a block of dots in the search
_MOST = 24  # candidates: the markers, and as many smudges and blocks of ink again that look like them
_SCORE = 0.35  # of the contrast: how much darker a marker is than what is around it
_LEAST_CONTRAST = 40.0  # shades between paper and print
_SMALLEST, _LARGEST = 0.7, 1.35  # a marker's radius over the true one
_INSIDE = 0.6  # of the window must be in the picture to look there; beyond, the picture's edge goes on
_WHOLE = 1.1  # of its radius: what must be in the picture of a marker
_WANDERS = 0.5  # of its radius: how far a marker may be from where the coarse search has it
_OVAL = 1.25  # a marker's longer axis over the shorter one, squared


@dataclass(frozen=True, slots=True, kw_only=True)
class Blob:
    """A round dark spot. Lengths in mm, were the scanner true; x to the right and y up from the upper left corner."""

    x: float
    y: float
    radius: float  # of the disc whose area it has, its white middle included
    hole: float  # the same of its white middle; 0 when it has none
    edge: float  # how far its edge takes from a quarter to three quarters of the ink
    paper: float  # shades of the paper at it, and of its ink
    ink: float


def find_blobs(picture: Picture, target: Target) -> list[Blob]:
    """Every spot that could be a marker. Refuses (`ScanRefused`) a picture without contrast."""
    block = max(1, int(_BLOCK_MM / min(picture.resolution.dot_mm)))
    radius = target.radius_mm / (block * picture.resolution.dot_mm[0])
    coarse = np.asarray(picture.image.reduce(block), dtype=np.float64)
    low, high = np.percentile(coarse, (0.5, 95))
    if high - low < _LEAST_CONTRAST:
        raise ScanRefused("no print is seen in the picture", "scan the printed side, at the usual contrast")
    score = _score(coarse, radius) / (high - low)
    reach = int(1.2 * radius) + 1
    found: list[Blob] = []
    for _ in range(_MOST):
        row, column = divmod(int(np.argmax(score)), score.shape[1])
        if score[row, column] < _SCORE:
            break
        score[max(row - reach, 0) : row + reach + 1, max(column - reach, 0) : column + reach + 1] = 0
        blob = _measured(picture, target, (column + 0.5) * block, (row + 0.5) * block)
        if blob and all(math.hypot(blob.x - old.x, blob.y - old.y) > target.radius_mm for old in found):
            found.append(blob)
    return found


def _score(coarse: Array, radius: float) -> Array:
    """The mean of a square ring about each block less that of the square in it that a disc covers."""
    inner, gap, outer = (max(1, int(share * radius)) for share in (0.66, 1.3, 1.55))
    padded = np.pad(coarse, outer + 1, mode="edge")
    sums = padded.cumsum(axis=0).cumsum(axis=1)
    rows, columns = coarse.shape

    def total(half: int) -> Array:
        first, last = outer + 1 - half - 1, outer + 1 + half
        return np.asarray(
            sums[last : last + rows, last : last + columns]
            - sums[first : first + rows, last : last + columns]
            - sums[last : last + rows, first : first + columns]
            + sums[first : first + rows, first : first + columns]
        )

    around = (total(outer) - total(gap)) / ((2 * outer + 1) ** 2 - (2 * gap + 1) ** 2)
    return np.asarray(around - total(inner) / (2 * inner + 1) ** 2)


# --- one marker, at full resolution


def _measured(picture: Picture, target: Target, x: float, y: float) -> Blob | None:
    """The spot about a dot, or None when it is not a marker or is cut by the picture's edge."""
    across, along = picture.resolution.dot_mm
    half_mm = 1.65 * target.radius_mm  # of a window about the dot, with paper around the marker
    start = middle = (x * across, -y * along)
    if not in_picture(picture, *start, _INSIDE * half_mm):
        return None
    left, top = int(x - half_mm / across), int(y - half_mm / along)
    right, bottom = int(x + half_mm / across) + 1, int(y + half_mm / along) + 1
    wide, high = picture.image.size
    part = picture.image.crop((max(left, 0), max(top, 0), min(right, wide), min(bottom, high)))
    beyond = (max(-top, 0), max(bottom - high, 0)), (max(-left, 0), max(right - wide, 0))
    shades = np.pad(np.asarray(part, dtype=np.float64), beyond, mode="edge")
    xs = np.asarray((np.arange(left, right) + 0.5) * across, dtype=np.float64)[None, :]
    ys = np.asarray(-(np.arange(top, bottom) + 0.5) * along, dtype=np.float64)[:, None]
    for step in (
        3,
        1,
    ):  # by every third dot, most that is not a marker shows; then about the middle
        part_xs, part_ys = xs[:, ::step], ys[::step]
        x_off, y_off = part_xs - middle[0], part_ys - middle[1]
        spot = _spot(shades[::step, ::step], x_off, y_off, target)
        if spot is None:
            return None
        inside = spot.ink * (x_off * x_off + y_off * y_off < (1.25 * target.radius_mm) ** 2)
        total = max(float(inside.sum()), 1.0)
        middle = float(inside.sum(axis=0) @ part_xs[0] / total), float(inside.sum(axis=1) @ part_ys[:, 0] / total)
        if not math.dist(start, middle) < _WANDERS * target.radius_mm:
            return None
    spot = _spot(shades, xs - middle[0], ys - middle[1], target)
    return _blob(spot, xs - middle[0], ys - middle[1], middle, picture, target) if spot else None


class _Spot(NamedTuple):
    """The share of ink in each dot, from 0 for paper to 1 in the thick of it, and the shades of paper and ink."""

    ink: Array
    paper: float
    black: float


def _spot(shades: Array, x: Array, y: Array, target: Target) -> _Spot | None:
    """The share of ink about a place, noise left in it; None where the contrast is too low.

    The paper's shade is a plane through what lies around the marker, so light that falls off does no harm.
    """
    squares = (x * x + y * y) / target.radius_mm**2  # of how far away each dot is
    around = (squares > 1.3**2) & (squares < 1.6**2)
    middle = (target.hole_mm / target.radius_mm + 1) / 2
    black = float(np.median(shades[(squares > (middle - 0.13) ** 2) & (squares < (middle + 0.13) ** 2)]))
    rough = float(np.median(shades[around]))
    if rough - black < _LEAST_CONTRAST / 2:
        return None
    around &= shades > rough - 0.25 * (rough - black)
    rows, columns = np.nonzero(around)
    terms = np.stack([np.ones(len(rows)), x[0, columns], y[rows, 0]])
    level, slope_x, slope_y = np.linalg.solve(terms @ terms.T, terms @ shades[rows, columns])
    paper = level + slope_x * x + slope_y * y
    return _Spot(np.asarray((paper - shades) / (paper - black)), float(level), black)


def _blob(
    spot: _Spot, x: Array, y: Array, middle: tuple[float, float], picture: Picture, target: Target
) -> Blob | None:
    """The measures of a spot about its middle, or None when it is not as large or as round as a marker."""
    ink, squares = spot.ink, x * x + y * y
    dot = picture.resolution.dot_mm[0] * picture.resolution.dot_mm[1]
    within = squares < (1.25 * target.radius_mm) ** 2
    white = (1 - ink[squares < (1.55 * target.hole_mm) ** 2]).sum() * dot
    has_hole = white > 0.3 * math.pi * target.hole_mm**2
    inked = ink * within
    area = inked.sum() * dot + (white if has_hole else 0.0)
    radius = math.sqrt(max(area, 0.0) / math.pi)
    if not in_picture(picture, *middle, _WHOLE * radius):
        return None
    if not _SMALLEST < radius / target.radius_mm < _LARGEST:
        return None
    xx, yy = float(inked.sum(axis=0) @ (x[0] * x[0])), float(inked.sum(axis=1) @ (y[:, 0] * y[:, 0]))
    xy = float(y[:, 0] @ inked @ x[0])
    half, root = (xx + yy) / 2, math.hypot((xx - yy) / 2, xy)  # half of the two axes' moments, and of their difference
    if half - root <= 0 or (half + root) / (half - root) > _OVAL:
        return None
    edge = (np.abs(ink - 0.5) < 0.25)[(squares > (0.66 * target.radius_mm) ** 2) & within].sum() * dot
    hole = math.sqrt(white / math.pi) if has_hole else 0.0
    edge_mm = float(edge) / (math.tau * radius)
    return Blob(x=middle[0], y=middle[1], radius=radius, hole=hole, edge=edge_mm, paper=spot.paper, ink=spot.black)


def in_picture(picture: Picture, x: float, y: float, margin_mm: float) -> bool:
    """Whether a place in mm, with room around it, is in the picture."""
    wide, high = picture.image.size
    across, along = picture.resolution.dot_mm
    return margin_mm < x < wide * across - margin_mm and margin_mm < -y < high * along - margin_mm
