"""Reversal: the same sheet scanned twice, turned in between, tells the scanner's own faults from the printer's.

A picture shows S R P: what the printer did to the sheet, how it lay, what the scanner made of it. With M1 and M2 of
the two pictures, M2 inv(M1) = S R inv(S) holds the scanner alone, and inv(M1) M2 = inv(P) R P the printer alone, each
but for its size; and det M1 = det M2, whatever the faults, which proves both pictures. A half turn is as good as none
to a linear map, and neither tells anything. Its size a picture has from a yardstick, as before.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from layouts.affine import Affine
from layouts.errors import ScanRefused
from layouts.scanning.fit import Placement, lean_deg
from layouts.scanning.markers import Array
from layouts.scanning.reading import Scan, diagonals_mm
from layouts.scanning.yardstick import FILE_AGREES, Side, root_of

LEAST_TURN_DEG = 20.0
_SAME_AREA = 0.001
_CARD_ALIKE = 0.0027  # a card's two sides, as its limits allow
_CARD_LEAN_DEG = 0.25
_YARDSTICKS_ALIKE = 0.003
_AGAIN = "scan the same sheet twice, turned by a quarter between the two"


@dataclass(frozen=True, slots=True, kw_only=True)
class Turned:
    """Two pictures of one sheet, and what they tell together: `lens` makes true millimetres of those of a picture."""

    pictures: tuple[Scan, Scan]
    lens: Affine
    turn_deg: float  # of the sheet from the first to the second, 0 to 180
    sides: tuple[Side, ...]  # what sets the size

    @property
    def true(self) -> Affine:
        """From a picture's mm to true ones."""
        return self.lens

    @property
    def fit(self) -> Placement:
        """In mm on the paper: the mean of both pictures, as if the sheet lay straight."""
        fits = [scan.seen.through(self.lens) for scan in self.pictures]
        matrices = [linear(fit.matrix) for fit in fits]
        metric = sum((matrix.T @ matrix for matrix in matrices), np.zeros((2, 2))) / 2
        return Placement(matrix=root_of(metric), residuals_mm=fits[0].residuals_mm)

    @property
    def diagonals_mm(self) -> tuple[float, float]:
        """Of the rectangle of the markers, as printed: rising from the lower left, falling from the upper left."""
        return diagonals_mm(self.fit, self.pictures[0].target)

    @property
    def scanner(self) -> tuple[float, float]:
        """Its first way over its second, as seen; and by how much, in degrees, the second leans to the right."""
        seen = self.lens.inverse()
        ratio = math.hypot(seen.a, seen.b) / math.hypot(seen.c, seen.d)
        return ratio, math.degrees(math.atan2(seen.c, seen.d))


def turned(first: Scan, second: Scan) -> Turned:
    """What two pictures of one sheet tell together. Refuses (`ScanRefused`) a turn that tells nothing, and doubts."""
    one, two = linear(first.seen.matrix), linear(second.seen.matrix)
    areas = float(np.linalg.det(two) / np.linalg.det(one))
    if abs(areas - 1) > 2 * _SAME_AREA:
        raise ScanRefused(
            f"the two pictures do not show one sheet: its area differs by {areas - 1:+.2%}",
            f"{_AGAIN}, with the same resolution",
        )
    scanner = two @ np.linalg.inv(one) / math.sqrt(areas)
    cosine = float(np.trace(scanner)) / 2
    if abs(cosine) > math.cos(math.radians(LEAST_TURN_DEG)):
        how = "not turned" if cosine > 0 else "turned by a half"
        raise ScanRefused(
            f"the sheet was {how} between the two pictures, which leaves the scanner's faults where they are", _AGAIN
        )
    # S R inv(S) = cos + sin S J inv(S), with J a quarter turn; and S S' = -(S J inv(S)) J, its determinant 1.
    quarter = scanner - cosine * np.eye(2)
    shape = -quarter @ np.array([[0.0, -1.0], [1.0, 0.0]])
    shape = shape * np.sign(shape[0, 0])
    lens = root_of(np.linalg.inv(shape / math.sqrt(float(np.linalg.det(shape)))))
    sides = tuple(side for scan in (first, second) if scan.yardstick for side in scan.yardstick.sides)
    _refuse_another_card((first, second), lens)
    size = _size(sides, lens)
    _refuse_unlike((first, second), lens, size)
    return Turned(
        pictures=(first, second),
        lens=Affine(a=size, d=size).after(lens),
        turn_deg=math.degrees(math.acos(cosine)),
        sides=sides,
    )


def linear(matrix: Affine) -> Array:
    """The two by two part of a transform."""
    return np.array([[matrix.a, matrix.c], [matrix.b, matrix.d]])


def _through(side: Side, lens: Affine) -> float:
    return math.hypot(*lens.apply(*side.seen))


def _size(sides: Sequence[Side], lens: Affine) -> float:
    """True over seen, by least squares of all sides; 1 without any."""
    seen = [_through(side, lens) for side in sides]
    return (
        sum(s * side.true_mm for s, side in zip(seen, sides, strict=True)) / sum(s * s for s in seen) if seen else 1.0
    )


def _refuse_another_card(scans: Sequence[Scan], lens: Affine) -> None:
    """A card's two sides and its corners, in a picture whose scanner is known, are as its standard has them."""
    for scan in scans:
        if scan.yardstick is None or len(scan.yardstick.sides) == 1:
            continue
        wide, high = scan.yardstick.sides
        off = (_through(wide, lens) / wide.true_mm) / (_through(high, lens) / high.true_mm) - 1
        lean = lean_deg(lens.apply(*wide.seen), lens.apply(*high.seen))
        if abs(off) > _CARD_ALIKE or abs(lean) > _CARD_LEAN_DEG:
            raise ScanRefused(
                f"what lies on the card's place is not an ID-1 bank card, or a shadow lies along it: its sides are "
                f"{off:+.2%} from those of a card, and {lean:+.2f} degrees from square",
                "lay a bank card there, flat, or a steel rule",
            )


def _refuse_unlike(scans: Sequence[Scan], lens: Affine, size: float) -> None:
    """Two yardsticks are each other's witness if they are of two kinds; else the resolution is."""
    sizes = {
        (number, scan.yardstick.name): _size(scan.yardstick.sides, lens)
        for number, scan in enumerate(scans)
        if scan.yardstick
    }
    apart = max(sizes.values()) / min(sizes.values()) - 1 if sizes else 0.0
    if apart > _YARDSTICKS_ALIKE:
        raise ScanRefused(
            f"the two pictures do not agree on their size: it differs by {apart:.2%}",
            "lay an ID-1 bank card or a steel rule there, flat, in both",
        )
    if len({name for _, name in sizes}) < 2 and abs(size - 1) > FILE_AGREES:
        raise ScanRefused(
            f"what sets the size and the resolution do not agree: the pictures are {size - 1:+.2%} off, and scanners "
            f"are within {FILE_AGREES:.2%}; it may be another card, or only look like it",
            "lay a card in one picture and a rule in the other",
        )
