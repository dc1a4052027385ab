"""What sets the scale of a picture: sides of known length that were seen in it, and what they make of its millimetres.

A yardstick knows of itself what it is. It does not know whether it is what it passes for: a card of another size, or a
pattern that looks like a rule, sets a wrong scale evenly. So a second witness is asked before it is believed: the
resolution that the file states, or, with two pictures, the other one.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from layouts.affine import Affine
from layouts.errors import ScanRefused
from layouts.scanning.fit import lean_deg
from layouts.scanning.markers import Array

FILE_AGREES = 0.0065  # how far a scanner's own scale is off at most; common practice, no source: 0.5 to 1 %
MOST_LEAN_DEG = 0.8  # of a card's angles in a picture: what scanners lean, and what cards are off
_TO_LAY = "lay an ID-1 bank card there, flat, or a steel rule on the dashes"


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """A length seen: from end to end in mm of the picture, and what it truly is, mm."""

    seen: tuple[float, float]
    true_mm: float

    @property
    def scale(self) -> float:
        """True over seen."""
        return self.true_mm / math.hypot(*self.seen)


@dataclass(frozen=True, slots=True, kw_only=True)
class Yardstick:
    """Two sides of a card, square to each other, or the length of a rule; the first lies along the sheet's x.

    `corners` are where it was seen, in mm of the sheet as drawn.
    """

    name: str
    sides: tuple[Side, ...]
    corners: tuple[tuple[float, float], ...]
    is_sure: bool = True  # of its kind; else another witness must agree, and sets how far it is believed

    @property
    def true(self) -> Affine:
        """From the picture's mm to true ones: a rule knows one scale, a card both, and how far they lean."""
        if len(self.sides) == 1:
            return Affine(a=self.sides[0].scale, d=self.sides[0].scale)
        (wx, wy), (hx, hy) = (side.seen for side in self.sides)
        terms = np.array(
            [[wx * wx, 2 * wx * wy, wy * wy], [hx * hx, 2 * hx * hy, hy * hy], [wx * hx, wx * hy + wy * hx, wy * hy]]
        )
        p, q, r = np.linalg.solve(terms, [self.sides[0].true_mm ** 2, self.sides[1].true_mm ** 2, 0.0])
        return root_of(np.array([[p, q], [q, r]]))

    @property
    def lean_deg(self) -> float:
        """By how much a card's two sides are off the square in the picture; 0 of a rule."""
        if len(self.sides) == 1:
            return 0.0
        return lean_deg(*(side.seen for side in self.sides))

    def refuse_unlike_the_file(self, given: str) -> None:
        """Refuses (`ScanRefused`) a scale that is further from what the file or the user says than scanners are."""
        off = max((side.scale - 1 for side in self.sides), key=abs)
        if abs(off) > FILE_AGREES:
            kind = f"the {self.name}"
            raise ScanRefused(
                f"{kind} and the resolution do not agree: by {kind} the picture is {off:+.2%} off, and scanners are "
                f"within {FILE_AGREES:.2%} of what {given} says; it may be another card, or only look like it",
                f"{_TO_LAY}; or scan twice, the sheet turned by a quarter, with another yardstick in each picture",
            )


def root_of(metric: Array) -> Affine:
    """The linear map without a turn of x whose lengths are those of a metric: true^2 = v' G v."""
    a = math.sqrt(metric[0, 0])
    c = metric[0, 1] / a
    return Affine(a=a, c=float(c), d=math.sqrt(metric[1, 1] - c * c))
