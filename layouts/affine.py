"""An immutable affine transform of the plane."""

from __future__ import annotations

import math
from dataclasses import dataclass

from layouts.errors import OutOfRange


@dataclass(frozen=True, slots=True, kw_only=True)
class Affine:
    """x' = a x + c y + e, y' = b x + d y + f, in millimetres: the order of a PDF or SVG matrix."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    def __post_init__(self) -> None:
        if not all(map(math.isfinite, self.coefficients)):
            raise OutOfRange("a transform has a coefficient that is not finite", "give six finite numbers")
        if self.determinant == 0:
            raise OutOfRange("a transform flattens the page to a line", "give one that can be undone")

    @property
    def coefficients(self) -> tuple[float, float, float, float, float, float]:
        """(a, b, c, d, e, f)."""
        return self.a, self.b, self.c, self.d, self.e, self.f

    @property
    def determinant(self) -> float:
        """Area factor, a d - b c."""
        return self.a * self.d - self.b * self.c

    @property
    def scale(self) -> float | None:
        """By what it multiplies every length; None where it does not treat all directions alike."""
        first, second = math.hypot(self.a, self.b), math.hypot(self.c, self.d)
        square = abs(self.a * self.c + self.b * self.d) <= 1e-12 * first * second
        return first if square and math.isclose(first, second, rel_tol=1e-12) else None

    @property
    def turn_deg(self) -> float:
        """By what it turns the x axis, counter-clockwise, in degrees."""
        return math.degrees(math.atan2(self.b, self.a))

    def apply(self, x: float, y: float) -> tuple[float, float]:
        """Where the point (x, y) goes."""
        return self.a * x + self.c * y + self.e, self.b * x + self.d * y + self.f

    def after(self, first: Affine) -> Affine:
        """The transform that does `first`, then this one."""
        e, f = self.apply(first.e, first.f)
        return Affine(
            a=self.a * first.a + self.c * first.b,
            b=self.b * first.a + self.d * first.b,
            c=self.a * first.c + self.c * first.d,
            d=self.b * first.c + self.d * first.d,
            e=e,
            f=f,
        )

    def about(self, x: float, y: float) -> Affine:
        """This transform with the point (x, y) as its origin."""
        away = Affine(e=-x, f=-y)
        return Affine(e=x, f=y).after(self).after(away)

    def inverse(self) -> Affine:
        """The transform that undoes this one."""
        det = self.determinant
        a, b, c, d = self.d / det, -self.b / det, -self.c / det, self.a / det
        return Affine(a=a, b=b, c=c, d=d, e=-(a * self.e + c * self.f), f=-(b * self.e + d * self.f))


IDENTITY = Affine()
