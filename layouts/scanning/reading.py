"""From a picture of a sheet to what its printer does: markers found, fitted, scaled by what lies on the sheet."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from statistics import fmean, median

import numpy as np

from layouts.affine import IDENTITY, Affine
from layouts.errors import ScanRefused, UnknownName
from layouts.scanning.card import find_card
from layouts.scanning.edges import NotSeen
from layouts.scanning.fit import Placement, fitted
from layouts.scanning.ink import Ink, ink_of
from layouts.scanning.markers import Array, Blob, find_blobs
from layouts.scanning.matching import matched
from layouts.scanning.picture import Picture
from layouts.scanning.probing import Probe
from layouts.scanning.rule import find_rule
from layouts.scanning.target import Target
from layouts.scanning.yardstick import Yardstick

_FEW_SHADES = 8
LYING = ("card", "rule", "none")


@dataclass(frozen=True, slots=True, kw_only=True)
class Scan:
    """What a picture shows. Factors are printed over true, along the sheet's x and y as it was drawn."""

    picture: Picture
    target: Target
    markers: tuple[Blob, ...]
    seen: Placement  # in mm of the picture, were the scanner true
    yardstick: Yardstick | None

    @property
    def fit(self) -> Placement:
        """In mm on the paper, as far as the yardstick makes them true."""
        return self.seen.through(self.true)

    @property
    def pictures(self) -> tuple[Scan, ...]:
        """This one, as two that were turned in between have two."""
        return (self,)

    @property
    def scanner(self) -> tuple[float, float] | None:
        """What is known of the scanner itself: nothing by one picture."""
        return None

    @property
    def true(self) -> Affine:
        """From the picture's mm to true ones, as far as is known."""
        return self.yardstick.true if self.yardstick else IDENTITY

    @property
    def is_relative(self) -> bool:
        """Whether the size is only as good as the scanner's own scale: across against along is sure, no more."""
        return self.yardstick is None

    @property
    def ring_mm(self) -> tuple[float, float]:
        """The ring as a bar and a gap of the same true width, mm on the paper: its band of ink, and its white middle.

        The band is (R - h) wide and the middle 2 h; both are as wide where R = 3 h. R is the mean of all markers.
        """
        scale = math.sqrt(self.true.determinant)
        outer, hole = scale * fmean(blob.radius for blob in self.markers), scale * self.markers[0].hole
        return (outer - hole) * 2 * self.target.hole_mm / (self.target.radius_mm - self.target.hole_mm), 2 * hole

    @property
    def is_two_toned(self) -> bool:
        """Whether the picture is of black and white dots alone, which say nothing of an edge of ink."""
        return self.picture.image.getcolors(_FEW_SHADES) is not None

    @property
    def spread_mm(self) -> float:
        """What each edge of the ink grew by, were the scanner's tone curve straight."""
        return (self.ring_mm[0] - self.ring_mm[1]) / 4

    def read_ink(self) -> Ink | str:
        """The ink by the sheet's bars, the scanner's tone curve with it; or why it cannot be read."""
        if self.is_two_toned:
            return "the picture has only black and white dots: scan in greyscale"
        scale = math.sqrt(self.fit.matrix.determinant)
        return ink_of(_probe(self.picture, self.markers, self.seen), self.target.stripes, scale, self.spread_mm)

    @property
    def diagonals_mm(self) -> tuple[float, float]:
        """Of the rectangle of the markers, as printed: rising from the lower left, falling from the upper left."""
        return diagonals_mm(self.fit, self.target)

    @property
    def edge_mm(self) -> float:
        """How soft the edges are, from a quarter to three quarters."""
        return median(blob.edge for blob in self.markers)

    @property
    def is_upside_down(self) -> bool:
        """Whether the sheet lay with its head down, within 45 degrees."""
        return abs(self.fit.rotation_deg) > 135


def diagonals_mm(fit: Placement, target: Target) -> tuple[float, float]:
    """Of the rectangle of the markers as a fit has it: rising from the lower left, falling from the upper left."""
    (across, along), m = target.span_mm, fit.matrix
    rising, falling = (
        math.hypot(m.a * across + sign * m.c * along, m.b * across + sign * m.d * along) for sign in (1, -1)
    )
    return rising, falling


def read_scan(picture: Picture, target: Target, lying: str = "", *, is_lone: bool = True) -> Scan:
    """Everything that a picture of the sheet shows. Refuses (`ScanRefused`) one that is not clear, with the reason.

    `lying` says what lies on the sheet to set the scale: card, rule or none; when it is empty, it is found out. The
    scale of a lone picture must agree with the resolution that it is said to have; of two, each is the other's witness.
    """
    if lying and lying not in LYING:
        raise UnknownName("thing to set the scale", lying, LYING)
    markers = matched(picture, target, find_blobs(picture, target))
    seen = fitted(target.discs, [(blob.x, blob.y) for blob in markers])
    yardstick = _yardstick(_probe(picture, markers, seen), target, lying)
    if yardstick and is_lone:
        yardstick.refuse_unlike_the_file(picture.resolution.given)
    return Scan(picture=picture, target=target, markers=markers, seen=seen, yardstick=yardstick)


def _probe(picture: Picture, markers: tuple[Blob, ...], seen: Placement) -> Probe:
    return Probe(
        picture=picture,
        matrix=seen.matrix,
        paper=fmean(blob.paper for blob in markers),
        ink=fmean(blob.ink for blob in markers),
        edge_mm=median(blob.edge for blob in markers),
    )


_FINDERS: dict[str, Callable[[Probe, Target], Yardstick]] = {"card": find_card, "rule": find_rule}


def _yardstick(probe: Probe, target: Target, lying: str) -> Yardstick | None:
    """What sets the scale; None when nothing lies there."""
    if lying == "none" or not (lying or _something_lies(probe, target)):
        return None
    if lying:
        return _FINDERS[lying](probe, target)
    # A card whose edges are seen and doubted is a card: the doubt is the answer, and no rule is looked for.
    try:
        return find_card(probe, target)
    except NotSeen as no_card:
        try:
            return find_rule(probe, target)
        except ScanRefused as no_rule:
            raise ScanRefused(
                f"something hides the place for a card, but {no_card.problem}, and {no_rule.problem}",
                "lay a card 2 to 6 mm off its outline or a little turned, or a rule on the dashes, or nothing",
            ) from None


_SHOWN = 0.15  # of the way from paper to ink: a printed line that is there
_WHOLE_OUTLINE, _WHOLE_DASHES = 0.9, 0.5


def _something_lies(probe: Probe, target: Target) -> bool:
    """Whether the outline or the dashes are hidden, which are printed on the place for a card."""
    if target.card is None or target.rule is None:
        return False
    left, bottom, right, top = target.card
    inset = np.arange(5.0, 95.0) / 100
    xs, ys = left + (right - left) * inset, bottom + (top - bottom) * inset
    sides = [
        *(_line_shown(probe, xs, np.full_like(xs, y), 0.0, 1.0) for y in (bottom, top)),
        *(_line_shown(probe, np.full_like(ys, x), ys, 1.0, 0.0) for x in (left, right)),
    ]
    line = target.rule
    dashes = np.linspace(line.x1, line.x2, 300)
    shown = _line_shown(probe, dashes, np.full_like(dashes, line.y1), 0.0, 1.0)
    return fmean(sides) < _WHOLE_OUTLINE or shown < _WHOLE_DASHES


def _line_shown(probe: Probe, x: Array, y: Array, aside_x: float, aside_y: float) -> float:
    """The share of places on a line that are darker than what is 0.6 mm to both sides of it."""
    on, one, other = (probe.shades(x + aside_x * off, y + aside_y * off) for off in (0.0, 0.6, -0.6))
    return float(np.mean(on - np.maximum(one, other) > _SHOWN))
