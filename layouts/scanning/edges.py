"""A straight edge of a thing on a sheet: where it is, and whether it is one edge and a sharp one.

The edge is felt for along many short lines that come from the paper outside. What is printed there is known and left
out. A first straight line goes through where the lines leave the paper's shade, wild ones left out. The mean profile
along it then shows its steps: the sharp one is the edge. A shadow leaves the paper's shade earlier, but softly; two
sharp steps side by side cannot be told apart, and are a doubt.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from layouts.drawing.marks import Box
from layouts.errors import ScanRefused
from layouts.scanning.markers import Array
from layouts.scanning.probing import Mask, Probe, covered

_REACH_MM = 8.0  # how far from its outline an edge may lie
_CORNER_MM = 12.0  # left out at the ends of a side
_OUTSIDE_MM = 2.0  # at the start of each line there is paper
_STEP_MM = 0.15  # from line to line
_FINE = 0.4  # of a dot, along a line: an edge takes a dot or more
_HIDES_MM = 0.25  # around printed ink
_SEEN = 0.08  # of the way from paper to ink: a shade that is not paper
_LEAST_SHARE = 0.25  # of the lines must agree on the edge
_MOST_BENT_MM = 0.05

_OUT_MM, _IN_MM = 1.3, 1.6  # of the mean profile
_SHARP = 1.5  # times what a printed edge spreads over in the same picture
_LEAST_SHARP_MM = 0.075  # a standard deviation: edges of cards are a little round
_STEP_SEEN = 0.05  # the least step, of the way from paper to ink
_PALE = 0.45  # of the way from paper to ink: no shadow is darker
_SOFT_MM = 0.055  # a standard deviation: shadows are not sharper
_UNLIKE = 1.8  # opposite edges: how many times as soft one may be as the other

NOT_SEEN = "lay the card 2 to 6 mm off its outline or turn it a little, so that no printed line hides its edge"
_SHADE = "lay it flat with a sheet of paper over both, or turn it, so that no shadow falls along it"


class NotSeen(ScanRefused):
    """No edge where one is looked for: perhaps nothing of the kind lies there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """A side: where it is at a place along it, offset + slope * t; `axis` 0 for an upright one; how soft, mm."""

    name: str
    axis: int
    offset: float
    slope: float
    soft_mm: float
    rise: float  # from the paper's shade, of the way to the ink's

    @property
    def could_be_a_shadow(self) -> bool:
        """Whether a shadow may be as dark and as sharp as this: its shape does not tell it from a pale thing."""
        return 0 < self.rise < _PALE and self.soft_mm > _SOFT_MM

    def meets(self, level: Edge) -> tuple[float, float]:
        """Where this upright edge crosses a level one: x = p + q y and y = r + s x."""
        x = (self.offset + self.slope * level.offset) / (1 - self.slope * level.slope)
        return x, level.offset + level.slope * x


def edge(probe: Probe, box: Box, ink: tuple[Box, ...], name: str, axis: int, outward: int) -> Edge:
    """One side of a thing that lies about on a box, in mm of the sheet as drawn. Refuses a doubtful one."""
    at = box[axis] if outward < 0 else box[axis + 2]
    t = np.arange(box[1 - axis] + _CORNER_MM, box[3 - axis] - _CORNER_MM, _STEP_MM)
    step = _FINE * probe.dot_mm
    inward = np.arange(-_REACH_MM, _REACH_MM, step)

    def looked(steps: Array, places: Array) -> tuple[Array, Mask]:
        x, y = (steps, places) if axis == 0 else (places, steps)
        return probe.shades(x, y), covered(x, y, ink, _HIDES_MM)

    steps, places = np.broadcast_arrays(at - outward * inward[None, :], t[:, None])
    found = _leaves_paper(*looked(steps, places), step)
    line = _straight(t, at - outward * (found * step - _REACH_MM))
    if line is None:
        raise _not_clear(name)
    fine = min(step, 0.03) / 2
    beyond = np.arange(-_OUT_MM, _IN_MM, fine)
    for _ in range(2):  # the second time along the edge as the first found it
        steps, places = np.broadcast_arrays(line[0] + line[1] * t[:, None] - outward * beyond[None, :], t[:, None])
        shades, hidden = looked(steps, places)
        known = np.where(hidden & (beyond < 0.0), np.nan, shades)  # the thing covers what is printed under it
        main = _main_step(known, fine, probe.soft_mm, name)
        placed = _straight(t, _line_by_line(known, fine, main) - _OUT_MM)
        if placed is None:
            raise ScanRefused(f"the {name} edge of the card is not straight: a shadow, or a bent card", _SHADE)
        line = line[0] - outward * placed[0], line[1] - outward * placed[1]
    return Edge(name=name, axis=axis, offset=line[0], slope=line[1], soft_mm=main.soft_mm, rise=main.rise)


def _not_clear(name: str) -> NotSeen:
    return NotSeen(f"the {name} edge of the card is not clear", NOT_SEEN)


def refuse_unlike(one: Edge, other: Edge) -> None:
    """Refuses (`ScanRefused`) opposite edges of which one is softer: a shadow may lie along it."""
    softer = max(one, other, key=lambda each: each.soft_mm)
    if softer.soft_mm > _UNLIKE * min(one.soft_mm, other.soft_mm):
        raise ScanRefused(
            f"the {softer.name} edge of the card is softer than the one across from it: a shadow lies along it", _SHADE
        )


# --- a first line, where the paper's shade is left


def _leaves_paper(shades: Array, hidden: Mask, step: float) -> Array:
    """For each line, at which step the paper's shade is left; nan where it is not, or where print may hide it."""
    outside = ~hidden & (np.arange(shades.shape[1]) < _OUTSIDE_MM / step)
    shades = shades - (np.median(shades[outside]) if outside.any() else 0.0)
    strange = (np.abs(shades) > _SEEN) & ~hidden
    # One dot alone is dust or noise: the next one must have left it too, at least half way.
    strange[:, :-1] &= (np.abs(shades) > _SEEN / 2)[:, 1:]
    first = strange.argmax(axis=1)
    near = max(2, round(0.2 / step))
    rows = np.arange(len(shades))
    good = strange[rows, first] & (first > near) & (first < shades.shape[1] - 2 * near)
    first = np.where(good, first, near + 1)
    good &= ~hidden[rows[:, None], first[:, None] + np.arange(-near, near)].any(axis=1)
    return np.where(good, first.astype(np.float64), np.nan)


def _straight(t: Array, found: Array) -> tuple[float, float] | None:
    """Offset and slope of the line that most places agree on; None when too few do."""
    known = np.isfinite(found)
    t_known, at = t[known], found[known]
    if len(at) < max(20, _LEAST_SHARE * len(t)):
        return None
    # The line through two places that has the most within 0.15 mm; pairs in a fixed order, so that a file reads alike.
    order = np.random.default_rng(1).integers(0, len(at), (300, 2))
    one, other = order[np.abs(t_known[order[:, 0]] - t_known[order[:, 1]]) > 5].T
    slopes = (at[other] - at[one]) / (t_known[other] - t_known[one])
    off = np.abs(at[None, :] - at[one][:, None] - slopes[:, None] * (t_known[None, :] - t_known[one][:, None]))
    near = (off < 0.15) & (np.abs(slopes) < 0.2)[:, None]
    keep = near[near.sum(axis=1).argmax()]
    for _ in range(3):
        slope, offset = np.polyfit(t_known[keep], at[keep], 1)
        off = np.abs(at - offset - slope * t_known)
        keep = off < max(3 * float(np.median(off[keep])), 0.03)
        if keep.sum() < max(20, _LEAST_SHARE * len(t)):
            return None
    if float(np.sqrt(np.mean(off[keep] ** 2))) > _MOST_BENT_MM:
        return None
    return float(offset), float(slope)


# --- the steps of a mean profile


class _Step(NamedTuple):
    """Where a profile goes up or down, mm from its start; by how much; a standard deviation of its width, mm."""

    at: float
    rise: float
    soft_mm: float


def _steps(profile: Array, fine: float, soft: float) -> list[_Step]:
    """Every step of at least `_STEP_SEEN`, the largest rise in a mm first."""
    smooth = 0.6 * soft
    half = max(2, round(3 * smooth / fine))
    u = np.arange(-half, half + 1) * fine
    bell = u * np.exp(-((u / smooth) ** 2) / 2)
    slope = np.convolve(np.pad(profile, half, mode="edge"), (bell / (u @ bell))[::-1], mode="valid")
    left, found = np.abs(slope), []
    left[: round(0.1 / fine)] = left[-round(0.1 / fine) :] = 0
    for _ in range(6):
        top = int(left.argmax())
        if left[top] <= 0:
            break
        low = high = top
        while low > 0 and abs(slope[low - 1]) > abs(slope[top]) / 2 and slope[low - 1] * slope[top] > 0:
            low -= 1
        while high < len(slope) - 1 and abs(slope[high + 1]) > abs(slope[top]) / 2 and slope[high + 1] * slope[top] > 0:
            high += 1
        width = (high - low + 1) * fine
        rise = float(slope[top]) * width * 1.064  # of a bell: its height times its width at half height
        if abs(rise) >= _STEP_SEEN:
            spread = max((width / 2.355) ** 2 - smooth**2, (0.3 * soft) ** 2)
            # The middle of all that is over half the height of the hump.
            up = slope * np.sign(slope[top]) / abs(slope[top]) - 0.5
            first = top - int((up[top::-1] <= 0).argmax()) + 1
            hump = up[first : top + int((up[top:] <= 0).argmax())]
            at = float(np.arange(first, first + len(hump)) @ hump / hump.sum()) if len(hump) else float(top)
            found.append(_Step(at=at * fine, rise=rise, soft_mm=float(spread**0.5)))
        clear = max(high - low, round(soft / fine))
        left[max(low - clear, 0) : high + clear + 1] = 0
    return found


def _main_step(known: Array, fine: float, soft: float, name: str) -> _Step:
    """The sharp step of the mean profile that is the edge. Refuses (`ScanRefused`) none, and two that are alike."""
    count = np.isfinite(known).sum(axis=0)
    good = count > max(5, 0.15 * len(known))  # of fewer lines a mean is noise: what is beside it stands there
    places = np.arange(known.shape[1])
    profile = np.zeros(known.shape[1])
    if good.sum() >= 20:
        profile = np.interp(places, places[good], np.nansum(known, axis=0)[good] / count[good])
    steps = _steps(profile, fine, soft)
    sharp = sorted(step for step in steps if step.soft_mm <= max(_SHARP * soft, _LEAST_SHARP_MM))
    if not steps:
        raise _not_clear(name)
    if not sharp:
        raise ScanRefused(f"the {name} edge of the card is soft, as a shadow is", _SHADE)
    main = sharp[0]
    rivals = [step for step in sharp[1:] if step.at - main.at < 1.2 and abs(step.rise) > 0.3 * abs(main.rise)]
    if rivals:
        apart = rivals[0].at - main.at
        raise ScanRefused(
            f"the {name} edge of the card shows two steps {apart:.1f} mm apart: a shadow, or a line on the card", _SHADE
        )
    return main


def _line_by_line(known: Array, fine: float, main: _Step) -> Array:
    """For each line where its edge is, mm from the start of the profile; nan where print hides it.

    By the area under the step between the levels to both sides of it, which knows no threshold.
    """
    wide = max(round(2.5 * main.soft_mm / fine), 3)
    middle = min(max(round(main.at / fine), 2 * wide), known.shape[1] - 2 * wide)
    before, after = known[:, middle - 2 * wide : middle - wide], known[:, middle + wide : middle + 2 * wide]
    low, high = before.mean(axis=1), after.mean(axis=1)
    rise = np.where(np.abs(high - low) > abs(main.rise) / 3, high - low, np.nan)
    area = ((known[:, middle - wide : middle + wide] - low[:, None]) / rise[:, None]).sum(axis=1)
    return np.asarray((middle + wide - 0.5 - area) * fine)
