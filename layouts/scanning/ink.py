"""How far the ink grew, from bars and gaps of known width: their whole profile fitted, with the scanner's tone curve.

A scanner blurs light and then bends it by its tone curve, so that where half the shade is, half the light is not. Edges
alone hardly tell a curve from a growth; a bar so fine that its two edges run into each other does. Fitted together are
the growth of every edge, the blur, the curve (a power, and a bend to an S), the shades of paper and ink, and what light
the ink gives back, flare in it. Every dot is taken where it lies across the bars: nothing is read between dots, which
would blur after the curve and pass for another one.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from layouts.scanning.markers import Array
from layouts.scanning.probing import QUARTERS, Probe
from layouts.scanning.target import Stripes

_LEFT = 0.008  # of the way from paper to ink, root mean square: more is left of profiles that do not fit
_SCATTER = 0.12  # the same of single dots about their mean: a dithered picture has more
_INNER = 0.15  # of the bars' length, left out at both ends
_BINS = 3  # to a dot
_CURVES = (0.45, 1.0, 2.2)  # to begin from
_LEAST_CURVE, _MOST_CURVE = 0.25, 4.0
_FINEST_MM = 0.2  # without a bar so fine, a curve passes for a growth
_RUNS_TOGETHER = 0.3  # the least blur of a bar, or a gap, whose edges run into each other: of its width
_OPEN_MM = 0.06  # the least gap that is still one
_WHITE, _BLACK = 254.5, 0.5  # shades of a picture whose paper or ink is cut off
_LEAST_EDGE_MM, _SHARP_EDGE_MM = 0.01, 0.04  # simulated: gamma 0.45 to 2.2, flare, S curves
_OTHER_LENS = 1.7  # times what the fit leaves open: how far lenses that blur otherwise moved it, simulated
_BELL = np.linspace(-6.0, 6.0, 2401)
_AREA = np.array(
    [u * 0.5 * (1 + math.erf(u / math.sqrt(2))) + math.exp(-u * u / 2) / math.sqrt(math.tau) for u in _BELL]
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ink:
    """What each edge of the ink grew by, mm on the paper; how far that may be off; the tone curve taken out.

    Shades go by the power `curve` of the light. Without one, the picture is too sharp to show it: it was taken to be
    straight.
    """

    spread_mm: float
    edge_mm: float  # a half width
    curve: float | None = None


class _Profile(NamedTuple):
    """Places across the bars, mm of the sheet; the mean shade there; its weight, by its dots; where ink is drawn."""

    at: Array
    shades: Array
    weights: Array
    ink: tuple[tuple[float, float], ...]


def ink_of(probe: Probe, stripes: Sequence[Stripes], scale: float, straight_mm: float) -> Ink | str:
    """The ink, from every bar and gap of the sheet; or why it cannot be read.

    scale: mm on the paper in one of the sheet as drawn. straight_mm: the growth, were the tone curve straight.
    """
    if min((high - low for each in stripes for low, high in each.ink), default=1.0) > _FINEST_MM:
        return "the sheet is too small for fine bars, which alone tell it from the scanner's tone curve"
    if probe.paper > _WHITE or probe.ink < _BLACK:
        return "the picture's white or black is cut off: scan again without automatic contrast"
    profiles, scatter = zip(*(_profile(probe, each) for each in stripes), strict=True)
    if max(scatter) > _SCATTER:
        return "the picture's dots scatter, as those of a dithered one do: scan in greyscale"
    return _fitted(profiles, probe, scale, straight_mm)


def _profile(probe: Probe, stripes: Stripes) -> tuple[_Profile, float]:
    """The mean of the dots in each third of a dot across the bars; and how far single dots scatter about it."""
    left, bottom, right, top = stripes.box
    trim = _INNER * ((top - bottom) if stripes.upright else (right - left))
    inner = (left, bottom + trim, right, top - trim) if stripes.upright else (left + trim, bottom, right - trim, top)
    x, y, shades = probe.dots(inner)
    at = x if stripes.upright else y
    number = np.floor((at - at.min()) / (probe.dot_mm / _BINS)).astype(np.intp)
    count = np.bincount(number).astype(np.float64)
    full = count > 0
    count = count[full]
    places, means, squares = (np.bincount(number, each)[full] / count for each in (at, shades, shades * shades))
    scatter = math.sqrt(max(float(np.average(squares - means**2, weights=count)), 0.0))
    return _Profile(at=places, shades=means, weights=np.sqrt(count / count.mean()), ink=stripes.ink), scatter


# What is fitted: growth, mm; logs of the blur and of what a dot gathers light over, in dots; log of the power; log of
# the odds of the light that ink gives back; the bend; what is added to the paper's shade and to the way to the ink's;
# and a shift of each profile, mm. Beside each, how far it may be from its start: fine bars tell the curve of a sharp
# picture so faintly that without it an odd curve would pass.
_SHARED = 8
_START = (0.02, 0.0, 0.2, 0.0, -2.5, 0.0, 0.0, 0.0)
_WIDTHS = (0.1, 0.5, 0.3, 0.7, 1.0, 0.4, 0.05, 0.05)
_SHIFT_MM = 0.1
_FAULT = 0.02  # of the way from paper to ink: what a profile may be off by, as the model is not the scanner
_FEEL = (1e-4, 1e-3, 1e-3, 1e-3, 1e-3, 1e-3)  # to feel slopes by, of those in which the model is not linear
_COVERS = 3  # the first of them: what the ink covers hangs on no other
_MOST_STEPS, _LONGEST_STEP = 40, 0.4


def _covered(profiles: Sequence[_Profile], dot: float, at: Array) -> Array:
    """How far the light of each place of all profiles is covered by ink: by the growth, the blur and the shifts."""
    spread, blur, width = at[0], *(dot * np.exp(at[1:3]))
    # An edge under a bell and a dot that gathers light over its width: the difference of the areas at both its ends.
    nodes = np.linspace(-6 * blur - width / 2, 6 * blur + width / 2, 601)
    ends = [(nodes + end * width) / blur for end in (0.5, -0.5)]
    areas = [np.interp(end, _BELL, _AREA) + np.maximum(end - _BELL[-1], 0) for end in ends]
    rise = (areas[0] - areas[1]) * blur / width
    parts = []
    for number, profile in enumerate(profiles):
        places = profile.at - at[_SHARED + number]
        edges = np.add(profile.ink, (-spread, spread))
        rises = np.interp(places - edges[:, :, None], nodes, rise, 0, 1)
        parts.append((rises[:, 0] - rises[:, 1]).sum(axis=0))
    return np.concatenate(parts)


def _shades(covered: Array, at: Array) -> Array:
    """The shades where so much is covered, from 0 for paper to 1 for ink: by the curve and the light of the ink."""
    curve, dark = math.exp(at[3]), 1 / (1 + math.exp(-at[4]))
    light = np.maximum(1 - covered * (1 - dark), 1e-4)
    shades = (1 - light**curve) / (1 - dark**curve)
    bent = shades - at[5] * shades * (1 - shades) * (1 - 2 * shades)
    return np.asarray(at[6] + (1 + at[7]) * bent)


def _slopes(profiles: Sequence[_Profile], dot: float, at: Array, covered: Array) -> Array:
    """What every shade gains, a row each, by each of what is fitted, a column each."""
    here, every = _shades(covered, at), np.eye(len(at))
    felt = [at + every[n] * by for n, by in enumerate(_FEEL)]
    covers = [_covered(profiles, dot, each) for each in felt[:_COVERS]] + [covered] * (len(felt) - _COVERS)
    columns = [(_shades(there, each) - here) / by for there, each, by in zip(covers, felt, _FEEL, strict=True)]
    # A shift of all profiles gives each its own column: a shift of one moves no other.
    shifts = 1e-4 * every[_SHARED:].sum(axis=0)
    shifted = (_shades(_covered(profiles, dot, at + shifts), at) - here) / 1e-4
    own = np.repeat(np.eye(len(profiles)), [len(profile.at) for profile in profiles], axis=0)
    return np.column_stack([*columns, np.ones_like(here), (here - at[6]) / (1 + at[7]), shifted[:, None] * own])


def _fitted(profiles: Sequence[_Profile], probe: Probe, scale: float, straight_mm: float) -> Ink | str:
    """By steps of Gauss and Newton, damped, from each curve; the best of them, unless it is of no use."""
    dot = probe.dot_mm / scale
    seen, weights = (np.concatenate(each) for each in zip(*(each[1:3] for each in profiles), strict=True))
    every = np.eye(_SHARED + len(profiles))
    start = np.array([*_START, *[0.0] * len(profiles)]) + every[1] * math.log(probe.soft_mm / dot)
    stiff = (_FAULT / np.array([*_WIDTHS, *[_SHIFT_MM] * len(profiles)])) ** 2

    def cost(at: Array, left: Array) -> float:
        return float(left @ left + stiff @ (start - at) ** 2)

    def descended(at: Array) -> tuple[float, float, Array, Array]:
        """What it costs, of which so much is left of the profiles, where, and the normal equations there."""
        damp, covered = 1e-3, _covered(profiles, dot, at)
        left = weights * (seen - _shades(covered, at))
        for _ in range(_MOST_STEPS):
            slopes = weights[:, None] * _slopes(profiles, dot, at, covered)
            normal, pull = slopes.T @ slopes + np.diag(stiff), slopes.T @ left + stiff * (start - at)
            before = after = cost(at, left)
            while not after < before and damp < 1e5:
                move = np.linalg.solve(normal + damp * np.diag(np.diag(normal)), pull)
                trial = at + move * min(1.0, _LONGEST_STEP / float(np.abs(move).max()))
                there = _covered(profiles, dot, trial)
                left_there = weights * (seen - _shades(there, trial))
                after = cost(trial, left_there)
                damp *= 8
            if after < before:
                at, covered, left, damp = trial, there, left_there, damp / 80
            if not after < (1 - 1e-7) * before:
                break
        return cost(at, left), math.sqrt(float(left @ left) / len(seen)), at, normal

    descents = (descended(start + every[3] * math.log(curve)) for curve in _CURVES)
    _, left_over, at, normal = min(descents, key=lambda found: found[0])
    return _judged(profiles, probe, scale, straight_mm, left_over, at, normal)


def _judged(
    profiles: Sequence[_Profile],
    probe: Probe,
    scale: float,
    straight_mm: float,
    left_over: float,
    at: Array,
    normal: Array,
) -> Ink | str:
    """The growth that was fitted, as sure as the fit leaves it; read straight where the picture shows no curve."""
    curve = math.exp(at[3])
    if left_over > _LEFT or not _LEAST_CURVE < curve < _MOST_CURVE:
        return f"no tone curve would show its bars like this: {left_over:.1%} of their shades is left"
    spread, blur, width = float(at[0]), *(probe.dot_mm / scale * np.exp(at[1:3]))
    # A picture that is too sharp fits as a softer one with less growth too: the straight reading and the markers' edges
    # say how sharp it may be.
    growths = (spread, straight_mm / scale)
    finest = max(min(_widths(profiles, growth)) for growth in growths)
    sigma = min(math.hypot(blur, width / math.sqrt(12)), probe.edge_mm / QUARTERS / scale)
    edge_mm = max(_OTHER_LENS * math.sqrt(3) * _FAULT * math.sqrt(np.linalg.inv(normal)[0, 0]) * scale, _LEAST_EDGE_MM)
    if sigma < _RUNS_TOGETHER * finest or edge_mm > _SHARP_EDGE_MM:
        return Ink(spread_mm=straight_mm, edge_mm=_SHARP_EDGE_MM)
    return Ink(spread_mm=spread * scale, edge_mm=float(edge_mm), curve=curve)


def _widths(profiles: Sequence[_Profile], growth: float) -> list[float]:
    """Of every bar and every gap that is still one, mm of the sheet, with so much more ink at each edge."""
    bars = [high - low + 2 * growth for each in profiles for low, high in each.ink]
    gaps = [on[0] - off[1] - 2 * growth for each in profiles for off, on in zip(each.ink, each.ink[1:], strict=False)]
    return [wide for wide in bars + gaps if wide > _OPEN_MM]
