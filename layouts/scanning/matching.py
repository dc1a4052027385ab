"""Which spot is which marker: the ring and two corners fix a frame, and the other five must be where it has them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import permutations
from operator import itemgetter

import numpy as np

from layouts.errors import Remedy, ScanRefused
from layouts.scanning.markers import Array, Blob, in_picture
from layouts.scanning.picture import Picture
from layouts.scanning.target import Target

_NEAR_MM = 5.0  # how far a marker may be from where three others say; a photo at an angle is refused later, by name
_SQUARE = math.cos(math.radians(84))
_SMALLEST, _LARGEST = 0.7, 1.35  # a mm of the picture over one of the sheet
_ALIKE = 1.11  # the same across over along: printers go from 0.95 to 1.05
_MOST_EDGE_MM = 0.3  # a quarter to three quarters; standard deviation 0.22 mm


@dataclass(frozen=True, slots=True, kw_only=True)
class _Guess:
    """A frame, and the spot at each place of it (None: none there)."""

    mirrored: bool
    expected: Array
    blobs: tuple[Blob | None, ...]

    @property
    def places(self) -> list[tuple[float, float]]:
        return [(float(x), float(y)) for x, y in self.expected]

    @property
    def count(self) -> int:
        return sum(blob is not None for blob in self.blobs)

    @property
    def off_mm(self) -> float:
        pairs = zip(self.blobs, self.expected, strict=True)
        return float(sum(math.hypot(blob.x - at[0], blob.y - at[1]) for blob, at in pairs if blob))


def matched(picture: Picture, target: Target, blobs: Sequence[Blob]) -> tuple[Blob, ...]:
    """The markers in the order of the target. Refuses (`ScanRefused`) what is not the whole sheet, sharp."""
    guess = max(_guesses(target, blobs), key=lambda each: (each.count, -each.off_mm), default=None)
    if guess is None or guess.count < len(target.discs) - 3:
        _refuse_blur(blobs)
        seen = "" if blobs else ": none is seen"
        raise ScanRefused(
            f"this is not the whole sheet for {target.label}, with its ring and {len(target.discs) - 1} discs{seen}",
            "scan that sheet whole, printed anew if an earlier version printed it",
            (Remedy.CHECK_SHEET_SCANNED,),
        )
    if guess.mirrored:
        raise ScanRefused("the picture is mirrored", "scan the printed side of the sheet, and mirror nothing")
    found = tuple(blob for blob in guess.blobs if blob)
    if missing := [number for number, blob in enumerate(guess.blobs) if blob is None]:
        names = ", ".join(_name(target, number) for number in missing)
        room = 1.2 * target.radius_mm
        if all(in_picture(picture, *guess.places[number], room) for number in missing):
            raise ScanRefused(f"markers are hidden or broken: {names}", "uncover them, or print the sheet again")
        raise ScanRefused(f"the picture is cropped: it lacks markers at {names}", "scan the whole sheet")
    _refuse_blur(found)
    return found


def _guesses(target: Target, blobs: Sequence[Blob]) -> Iterator[_Guess]:
    (x0, y0), (width, height) = target.discs[0], target.span_mm
    shares = [((x - x0) / width, (y - y0) / height) for x, y in target.discs]
    for ring in (blob for blob in blobs if blob.hole):
        for right, top in permutations([blob for blob in blobs if not blob.hole], 2):
            across = np.array([right.x - ring.x, right.y - ring.y])
            along = np.array([top.x - ring.x, top.y - ring.y])
            # A step of 1 mm on the sheet must be nearly as long both ways, and the two nearly square.
            step, rise = across / width, along / height
            one, other = math.hypot(*step), math.hypot(*rise)
            alike = _SMALLEST < one < _LARGEST and 1 / _ALIKE < one / other < _ALIKE
            if alike and abs(float(step @ rise)) < _SQUARE * one * other:
                expected = np.array([[ring.x, ring.y] + u * across + v * along for u, v in shares])
                there: list[Blob | None] = [ring]
                for x, y in expected[1:]:
                    away, near = min(((math.hypot(blob.x - x, blob.y - y), blob) for blob in blobs), key=itemgetter(0))
                    there.append(near if not near.hole and away < _NEAR_MM else None)
                mirrored = bool(across[0] * along[1] - across[1] * along[0] < 0)
                yield _Guess(mirrored=mirrored, expected=expected, blobs=tuple(there))


# --- why not


def _refuse_blur(blobs: Sequence[Blob]) -> None:
    edges = sorted(blob.edge for blob in blobs)
    if edges and edges[len(edges) // 2] > _MOST_EDGE_MM:
        raise ScanRefused(
            f"the picture is blurred: the markers' edges are {edges[len(edges) // 2]:.2f} mm soft",
            "lay the sheet flat on clean glass, or hold the camera still and focus",
        )


def _name(target: Target, number: int) -> str:
    """Where a marker stands on the sheet, in words."""
    (x, y), (wide, high) = target.discs[number], target.span_mm
    low_x, low_y = min(x for x, _ in target.discs), min(y for _, y in target.discs)
    row, column = (y - low_y) / high, (x - low_x) / wide
    if 0.01 < row < 0.99:
        place = f"the {'left' if column < 0.5 else 'right'}, {row:.0%} of the way up"
    elif 0.01 < column < 0.99:
        place = f"the {'bottom' if row < 0.5 else 'top'}, {column:.0%} of the way to the right"
    else:
        place = f"the {'lower' if row < 0.5 else 'upper'} {'left' if column < 0.5 else 'right'}"
    return f"the ring at {place}" if number == 0 else place
