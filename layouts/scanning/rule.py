"""A steel rule whose edge lies on the dashed line: the phase of its millimetres sets the scale.

The lines of a rule are a wave of 1 mm. It is looked for in strips beside the dashed line at every slope a hand may lay
a rule at. How its phase turns along the strips and from strip to strip gives the wave's length and direction, finer
than any single line could be read.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from layouts.drawing.marks import Line
from layouts.errors import Remedy, ScanRefused
from layouts.scanning.markers import Array
from layouts.scanning.probing import Probe
from layouts.scanning.target import Target
from layouts.scanning.yardstick import Side, Yardstick

_STEP_MM, _COARSE_MM = 0.2, 0.08  # of the search: from strip to strip, and along them
_ROWS, _SPARE = 40, 11  # strips to both sides of the dashed line; and of those for slopes
_DASHES_MM = 0.35  # around the dashed line itself, whose dashes repeat every 3 mm
_SLOPES = np.tan(np.radians(np.arange(-3.0, 3.01, 0.25)))
_WAVES = np.arange(0.93, 1.0701, 0.002)  # in a mm of the sheet as drawn
_FAINTEST = 0.03  # of the way from paper to ink
_PART_MM = 20.0
_LEAST_STRIPS = 4
_FULL = 0.8  # of the strongest: a strip that the lines of the rule cross all along
_BESIDE_MM = 9.0  # to both sides of the edge: where a rule's lines begin and end
_LONGER = 0.5  # of a line's darkness: what the longer lines have over the others, beyond where those end
_MOST_ROWS = 0.7  # of them all: a rule's lines end, those of a pattern go on
_MOST_OFF = 0.04  # of a millimetre: how far the parts of the rule may be from an even wave


@dataclass(frozen=True, slots=True, kw_only=True)
class _Wave:
    """A strip along which the wave is strongest: offset at the middle and slope to the dashed line, waves in a mm."""

    offset: float
    slope: float
    waves: float


def find_rule(probe: Probe, target: Target) -> Yardstick:
    """The rule on the dashed line. Refuses (`ScanRefused`) when no even millimetres are seen there."""
    if target.rule is None:
        raise ScanRefused("the sheet has no place for a rule", "scan the printer-check sheet")
    wave = _strongest(probe, target.rule)
    along = _along(target.rule, max(probe.dot_mm / 2, 0.02))
    for _ in range(2):  # the second time along the rule as the first found it to lie
        across, up = _gradient(probe, target.rule, along, wave)
        wave = _Wave(offset=wave.offset, slope=up / across, waves=across + up * up / across)
    _refuse_a_pattern(probe, target.rule, along, wave, (across, up))
    length = float(round((along[-1] - along[0]) * wave.waves))
    middle_x, y = (target.rule.x1 + target.rule.x2) / 2, target.rule.y1 + wave.offset
    ends = tuple((middle_x + u, y + wave.slope * u) for u in (along[0], along[-1]))
    # The same wave in a mm of the picture: a gradient goes by the transposed inverse.
    back = probe.matrix.inverse()
    across, up = back.a * across + back.b * up, back.c * across + back.d * up
    seen = length / (across * across + up * up)
    return Yardstick(name="rule", sides=(Side(seen=(across * seen, up * seen), true_mm=length),), corners=ends)


def _along(line: Line, step: float) -> Array:
    """Places along the dashed line, from its middle."""
    half = (line.x2 - line.x1) / 2
    return np.arange(-half, half, step)


def _strips(probe: Probe, line: Line, along: Array, offsets: Array, slope: float) -> Array:
    return _shades(probe, line, *np.broadcast_arrays(along[None, :], offsets[:, None] + slope * along[None, :]))


def _shades(probe: Probe, line: Line, u: Array, v: Array) -> Array:
    """Shades at places along the dashed line and aside of it, from its middle; unknown (nan) where it may be."""
    shades = probe.shades(u + (line.x1 + line.x2) / 2, v + line.y1)
    return np.where(np.abs(v) < _DASHES_MM, np.nan, shades)


def _beside(probe: Probe, line: Line, along: Array, wave: _Wave) -> tuple[Array, Array]:
    """Offsets of the strips about a wave, and what is in them over the mean of the millimetre about each place."""
    offsets = wave.offset + np.arange(-2.5, 2.51, 0.1)
    return offsets, _levelled(_strips(probe, line, along, offsets, wave.slope), along[1] - along[0])


def _levelled(shades: Array, step: float) -> Array:
    """What is left of each shade over the mean of the millimetre about it; 0 where nothing is known."""
    known = np.isfinite(shades)
    filled = np.where(known, shades, 0.0)
    width = round(1 / step)
    means = _running(filled, width) / np.maximum(_running(known.astype(np.float64), width), 1)
    return np.where(known, filled - means, 0.0)


def _running(values: Array, width: int) -> Array:
    """The sum of the `width` values about each."""
    before = width // 2
    sums = np.pad(values, ((0, 0), (before + 1, width - before - 1))).cumsum(axis=1)
    return np.asarray(sums[:, width:] - sums[:, :-width])[:, : values.shape[1]]


def _strongest(probe: Probe, line: Line) -> _Wave:
    """The strip and the wave with the most of it, among every slope and offset. Refuses a faint one."""
    along = _along(line, _COARSE_MM)
    offsets = np.arange(-_ROWS - _SPARE, _ROWS + _SPARE + 1, dtype=np.float64) * _STEP_MM
    level = _strips(probe, line, along, offsets, 0.0)
    turns = np.exp(-2j * np.pi * along[:, None] * _WAVES[None, :]) * np.hanning(len(along))[:, None]
    best, found = 0.0, _Wave(offset=0.0, slope=0.0, waves=1.0)
    for slope in _SLOPES:
        shifted = np.arange(_SPARE, _SPARE + 2 * _ROWS + 1)[:, None] + np.round(slope * along / _STEP_MM).astype(
            np.intp
        )
        strips = _levelled(level[shifted, np.arange(len(along))], _COARSE_MM)
        # 2 as a wave has half its height at each of two frequencies, and 2 as the bell has half the weight of a box.
        # The real and the imaginary parts of the waves lie side by side, so the product is one of real numbers.
        strength = np.abs((strips @ turns.view(np.float64)).view(np.complex128)) * 4 / len(along)
        row, column = divmod(int(strength.argmax()), len(_WAVES))
        if strength[row, column] > best:
            best = float(strength[row, column])
            found = _Wave(offset=(row - _ROWS) * _STEP_MM, slope=float(slope), waves=float(_WAVES[column]))
    if best < _FAINTEST:
        raise ScanRefused(
            "no millimetres of a rule are seen along the dashed line",
            "lay a rule with its millimetres on the dashes",
            (Remedy.NOTHING_ON_SHEET,),
        )
    return found


def _gradient(probe: Probe, line: Line, along: Array, wave: _Wave) -> tuple[float, float]:
    """Waves in a mm of the sheet as drawn, along the dashed line and across it.

    From the phases of parts of 20 mm, each in a bell that is blind to the longer lines at every fifth and tenth.
    """
    offsets, strips = _beside(probe, line, along, wave)
    strips = strips * np.exp(-2j * np.pi * along * wave.waves)
    length = round(_PART_MM / (along[1] - along[0]))
    starts = np.arange(0, len(along) - length + 1, length // 4)
    bell = np.hanning(length)
    parts = np.stack([strips[:, start : start + length] @ bell for start in starts], axis=1)
    centres = np.array([along[start : start + length].mean() for start in starts])
    strength = np.abs(parts).min(axis=1)
    good = strength > _FULL * strength.max()
    if good.sum() < _LEAST_STRIPS:
        good = strength > _FULL**3 * strength.max()
    # A plane through the phases, in turns: along a strip, and from strip to strip.
    turns = np.unwrap(np.angle(parts[good]) / (2 * np.pi), axis=1, period=1.0)
    turns -= np.round(turns[:, :1] - turns[len(turns) // 2, 0])
    u, v = np.broadcast_arrays(centres[None, :], offsets[good][:, None])
    terms = np.column_stack([np.ones(u.size), u.ravel(), v.ravel()])
    level, slope_u, slope_v = np.linalg.lstsq(terms, turns.ravel(), rcond=None)[0]
    off = turns - level - slope_u * u - slope_v * v
    if float(np.sqrt(np.mean(off**2))) > _MOST_OFF or good.sum() < _LEAST_STRIPS:
        raise ScanRefused("the rule's millimetres are not even", "lay a flat rule with its millimetres on the dashes")
    return wave.waves + float(slope_u - slope_v * wave.slope), float(slope_v)


def _refuse_a_pattern(probe: Probe, line: Line, along: Array, wave: _Wave, gradient: tuple[float, float]) -> None:
    """A rule's lines end, and every fifth or tenth is longer. Refuses (`ScanRefused`) what has no such lines."""
    dark = _line_by_line(probe, line, along, wave, gradient)
    full = float(np.sort(dark.mean(axis=1))[-8:].mean())  # rows that every line crosses
    if full <= 0:
        raise _a_pattern("has no lines")
    if float((dark.mean(axis=1) > 0.5 * full).mean()) > _MOST_ROWS:
        raise _a_pattern("goes on to both sides of the dashes")
    rows = len(dark) - len(dark) % 4
    longest = 0.0
    for every in (5, 10):
        classes = np.stack([dark[:, start::every].mean(axis=1) for start in range(every)], axis=1)
        classes = np.sort(classes[:rows].reshape(-1, 4, every).mean(axis=1), axis=1)
        # At a tenth the fifth is long as well: the one before the last but one is an ordinary line.
        longest = max(longest, float((classes[:, -1] - classes[:, -3]).max()))
    if longest < _LONGER * full:
        raise _a_pattern("has no longer line at every fifth or tenth")


def _a_pattern(why: str) -> ScanRefused:
    return ScanRefused(
        f"a pattern lies along the dashed line that {why}, and a rule has lines of millimetres that end, every tenth "
        "of them longer",
        "lay a rule with its millimetres on the dashes",
        (Remedy.NOTHING_ON_SHEET,),
    )


def _line_by_line(probe: Probe, line: Line, along: Array, wave: _Wave, gradient: tuple[float, float]) -> Array:
    """How much darker each line is than the middles beside it: a row each 0.1 mm from the edge, a column a line."""
    across, up = gradient
    offsets, strips = _beside(probe, line, along, wave)
    u, v = np.broadcast_arrays(along[None, :], offsets[:, None] + wave.slope * along[None, :])
    start = float(np.angle((strips * np.exp(-2j * np.pi * (across * u + up * v))).sum())) / (2 * np.pi)
    half = (along[-1] - along[0]) / 2 - 1
    numbers = np.arange(-math.floor(half), math.floor(half) + 1)
    beside = wave.offset + np.arange(-_BESIDE_MM, _BESIDE_MM, 0.1)

    def shades(off: float) -> Array:
        # On the line n: across u + up v = n - start, and v = beside + slope u.
        u = (numbers[None, :] + off - start - up * beside[:, None]) / (across + up * wave.slope)
        return _shades(probe, line, u, beside[:, None] + wave.slope * u)

    dark = shades(0.0) - (shades(-0.5) + shades(0.5)) / 2
    return np.asarray(np.nan_to_num(dark))
