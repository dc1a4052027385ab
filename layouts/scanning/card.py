"""A bank card that lies on its outline: its four edges, and from them the scanner's own scale each way.

Each edge is felt for along many short lines that come from the paper outside. What is printed there is known and left
out; where it hides the edge, that line does not count. The edge is where a line has half of its way from the paper's
shade to the card's; a straight line through all of them, wild ones left out, is the side of the card.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from layouts.errors import Remedy, ScanRefused
from layouts.scanning import bank_card
from layouts.scanning.markers import Array
from layouts.scanning.probing import Mask, Probe, covered
from layouts.scanning.target import Target

_REACH_MM = 8.0  # how far from its outline an edge may lie
_CORNER_MM = 12.0  # left out at the ends of a side
_OUTSIDE_MM = 2.0  # at the start of each line there is paper
_STEP_MM = 0.15  # from line to line
_FINE = 0.4  # of a dot, along a line: an edge takes a dot or more
_HIDES_MM = 0.25  # around printed ink
_SEEN = 0.12  # of the way from paper to ink: a shade that is no paper
_LEAST_SHARE = 0.25  # of the lines must agree on the edge
_MOST_BENT_MM = 0.05
_SQUARE_DEG = 0.5
_ALIKE = 0.02  # the scanner's two scales

_SIDES = (("left", 0, -1), ("right", 0, 1), ("lower", 1, -1), ("upper", 1, 1))


@dataclass(frozen=True, slots=True, kw_only=True)
class Yardstick:
    """What sets the scale: true over seen, each way of the picture; where it was seen, in mm of the sheet as drawn."""

    name: str
    across: float
    along: float
    corners: tuple[tuple[float, float], ...]
    lengths_mm: tuple[float, float]  # its own, along the sheet's x and y: what the scale rests on


def find_card(probe: Probe, target: Target) -> Yardstick:
    """The card on the outline. Refuses (`ScanRefused`) when a side is not clear, or it is no card."""
    if target.card is None:
        raise ScanRefused("the sheet has no place for a card", "scan the printer-check sheet")
    left, right, lower, upper = (_side(probe, target, *side) for side in _SIDES)
    corners = tuple(_meet(*pair) for pair in ((left, lower), (right, lower), (right, upper), (left, upper)))
    seen = np.array([probe.matrix.apply(*corner) for corner in corners])
    wide, high = (seen[1] - seen[0] + seen[2] - seen[3]) / 2, (seen[3] - seen[0] + seen[2] - seen[1]) / 2
    _refuse_crooked(seen)
    return _scales(wide, high, _lying(target), corners)


def _lying(target: Target) -> tuple[float, float]:
    left, bottom, right, top = target.card or (0, 0, 1, 0)
    size = bank_card.WIDTH_MM, bank_card.HEIGHT_MM
    return size if right - left > top - bottom else (size[1], size[0])


def _scales(
    wide: Array, high: Array, true_mm: tuple[float, float], corners: tuple[tuple[float, float], ...]
) -> Yardstick:
    """Both scales from the two sides: (kx x)^2 + (ky y)^2 = true^2 for each."""
    squares = np.linalg.solve(np.array([wide**2, high**2]), np.array(true_mm) ** 2)
    if squares.min() <= 0 or abs(math.sqrt(squares[0] / squares[1]) - 1) > _ALIKE:
        size = " x ".join(f"{math.hypot(*side):.2f}" for side in (wide, high))
        raise ScanRefused(
            f"what lies on the card's place is {size} mm by the picture, and no bank card has that shape",
            "lay a bank card there, flat",
            (Remedy.NOTHING_ON_SHEET,),
        )
    across, along = np.sqrt(squares)
    return Yardstick(name="card", across=float(across), along=float(along), corners=corners, lengths_mm=true_mm)


def _refuse_crooked(seen: Array) -> None:
    """A card is square, within what its limits and a scanner allow."""
    turns = [seen[(n + 1) % 4] - seen[n] for n in range(4)]
    for one, other in zip(turns, (*turns[1:], turns[0]), strict=True):
        sine = float(one @ other) / (math.hypot(*one) * math.hypot(*other))
        if abs(sine) > math.sin(math.radians(_SQUARE_DEG)):
            raise ScanRefused("what lies on the card's place is not square", "lay a bank card there, flat")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Line:
    """A side: where it is at a place along it, offset + slope * t; `axis` 0 for an upright one."""

    axis: int
    offset: float
    slope: float


def _meet(upright: _Line, level: _Line) -> tuple[float, float]:
    """x = p + q y and y = r + s x."""
    x = (upright.offset + upright.slope * level.offset) / (1 - upright.slope * level.slope)
    return x, level.offset + level.slope * x


def _side(probe: Probe, target: Target, name: str, axis: int, outward: int) -> _Line:
    """One side of the card, in mm of the sheet as drawn."""
    box = target.card or (0.0, 0.0, 0.0, 0.0)
    at = box[axis] if outward < 0 else box[axis + 2]
    t = np.arange(box[1 - axis] + _CORNER_MM, box[3 - axis] - _CORNER_MM, _STEP_MM)
    step = _FINE * probe.dot_mm
    inward = np.arange(-_REACH_MM, _REACH_MM, step)
    steps, places = np.broadcast_arrays(at - outward * inward[None, :], t[:, None])
    x, y = (steps, places) if axis == 0 else (places, steps)
    found = _edges(probe.shades(x, y), covered(x, y, target.ink, _HIDES_MM), step)
    line = _straight(t, at - outward * (found * step - _REACH_MM))
    if line is None:
        raise ScanRefused(
            f"the {name} edge of the card is not clear",
            "lay the card 2 to 6 mm off its outline or turn it a little, so that no printed line hides its edge",
        )
    return _Line(axis=axis, offset=line[0], slope=line[1])


def _edges(shades: Array, hidden: Mask, step: float) -> Array:
    """For each line, at which step the edge is; nan where there is none or where print may hide it."""
    outside = ~hidden & (np.arange(shades.shape[1]) < _OUTSIDE_MM / step)
    shades = shades - (np.median(shades[outside]) if outside.any() else 0.0)
    strange = (np.abs(shades) > _SEEN) & ~hidden
    first = strange.argmax(axis=1)
    near, far = max(2, round(0.2 / step)), max(4, round(0.8 / step))
    rows = np.arange(len(shades))
    good = strange[rows, first] & (first > near) & (first < shades.shape[1] - far - 1)
    first = np.where(good, first, near + 1)
    around = first[:, None] + np.arange(-near, far)
    good &= ~hidden[rows[:, None], around[:, : 2 * near]].any(axis=1)
    levels = shades[rows[:, None], around]
    inside = levels[:, 3 * near :].mean(axis=1)
    good &= np.abs(inside) > _SEEN
    level = np.where(good, inside / 2, 1.0)
    return np.where(good, first - near + _crossing(levels / level[:, None]), np.nan)


def _crossing(levels: Array) -> Array:
    """The step, between the steps, at which each line first reaches 1."""
    after = np.maximum((levels >= 1).argmax(axis=1), 1)
    rows = np.arange(len(levels))
    low, high = levels[rows, after - 1], levels[rows, after]
    rise = np.where(high > low, high - low, np.inf)
    return np.asarray(after - 1 + np.clip((1 - low) / rise, 0, 1))


def _straight(t: Array, found: Array) -> tuple[float, float] | None:
    """Offset and slope of the line that most places agree on; None when too few do."""
    known = np.isfinite(found)
    t_known, at = t[known], found[known]
    if len(at) < max(20, _LEAST_SHARE * len(t)):
        return None
    keep = _agreeing(t_known, at)
    for _ in range(3):
        slope, offset = np.polyfit(t_known[keep], at[keep], 1)
        off = np.abs(at - offset - slope * t_known)
        keep = off < max(3 * float(np.median(off[keep])), 0.01)
        if keep.sum() < max(20, _LEAST_SHARE * len(t)):
            return None
    if float(np.sqrt(np.mean(off[keep] ** 2))) > _MOST_BENT_MM:
        return None
    return float(offset), float(slope)


def _agreeing(t: Array, at: Array) -> Mask:
    """Places within 0.15 mm of the line through two of them that has the most so near; pairs in a fixed order."""
    order = np.random.default_rng(1).integers(0, len(t), (300, 2))
    one, other = order[np.abs(t[order[:, 0]] - t[order[:, 1]]) > 5].T
    slopes = (at[other] - at[one]) / (t[other] - t[one])
    off = np.abs(at[None, :] - at[one][:, None] - slopes[:, None] * (t[None, :] - t[one][:, None]))
    near = (off < 0.15) & (np.abs(slopes) < 0.2)[:, None]
    return np.asarray(near[near.sum(axis=1).argmax()])
