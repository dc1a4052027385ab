"""Whether "good for" covers what no correction undoes: `python tests/scan_bends.py [SEED] [COUNT]`. Prints counts.

Each case is a printer that bends a sheet: its feed wanders, its lens bulges, its frame is a keystone, it jumps once.
The law stands in `bend`, fixed before it was first run. Its eight markers are seen with 5 micrometres of noise and
fitted; the record is what the scan command would keep, with a bank card's error and the paper's drawn as the budget has
them.
The error is that of one length between lines, of 10 to 150 mm, across or along, anywhere on the corrected sheet.

To reach: over 1,000 cases the stated k = 2 holds in 94 to 98 %, and its median is at most twice what 95 % needed.
"""

from __future__ import annotations

import math
import sys
from collections.abc import Callable

import numpy as np

from layouts.pages.paper import find_paper
from layouts.printing.budget import find_instrument
from layouts.printing.check_sheet import target_on
from layouts.printing.printer import PAPER_SHARE, Diagonals, Printer, Reading
from layouts.scanning.fit import fitted

FIRST_SEED, CASES = 900_000, 1000
SCAN_NOISE_MM = 0.005
CARD = find_instrument("scan-card")

Field = Callable[[float, float], tuple[float, float]]


def bend(rng: np.random.Generator) -> Field:
    """By how much a place on the sheet is moved, mm: what a printer does that is not affine."""
    wander, period, phase = rng.uniform(0, 0.10), rng.uniform(30, 250), rng.uniform(0, math.tau)
    barrel, stone = rng.uniform(-0.05, 0.05), rng.uniform(-0.05, 0.05)  # at a corner, 150 mm from the middle
    jump, where = (rng.uniform(0, 0.08) if rng.random() < 0.5 else 0.0), rng.uniform(20, 277)

    def moved(x: float, y: float) -> tuple[float, float]:
        u, v = (x - 105) / 150, (y - 148.5) / 150
        bulge = barrel * (u * u + v * v)
        along = wander * math.sin(math.tau * y / period + phase) + (jump if y > where else 0.0)
        return bulge * u + stone * u * v, bulge * v + along

    return moved


def case(seed: int) -> tuple[float, float]:
    """The error of a length on a sheet that is corrected for a bending printer, and what is stated of it, mm."""
    rng = np.random.default_rng(seed)
    target, moved = target_on(find_paper("a4")), bend(rng)
    seen = [tuple(np.add(np.add(at, moved(*at)), rng.normal(0, SCAN_NOISE_MM, 2)).tolist()) for at in target.discs]
    fit = fitted(target.discs, seen)
    size = math.exp(rng.uniform(math.log(10), math.log(150)))
    way = int(rng.integers(2))
    start = [rng.uniform(15, side - 15 - (size if n == way else 0)) for n, side in enumerate((210, 297))]
    end = [at + (size if n == way else 0) for n, at in enumerate(start)]
    back = fit.matrix.inverse()
    lengths = [np.add(at, moved(*at)) for at in (start, end)]
    # What the fit leaves: the correction is its inverse, so a true length comes out as bent, less what the fit undoes.
    a, b = (np.array(back.apply(*map(float, at))) for at in lengths)
    wrong = float((b - a)[way]) - size
    card_mm = (85.60, 53.98)[way]
    ends = rng.uniform(-CARD.end, CARD.end, 2).sum()
    wrong += size * (rng.uniform(-CARD.fixed, CARD.fixed) + ends) / card_mm
    wrong += size * rng.uniform(-PAPER_SHARE, PAPER_SHARE)
    return abs(wrong), record(fit.rms_mm).budget(size, edges=0).expanded


def record(residual_mm: float | None) -> Printer:
    """A printer as a scan with a card on it leaves it."""
    return Printer(
        name="a",
        tray="b",
        instrument="scan-card",
        across=Reading(length_mm=85.60, read_mm=85.60),
        along=Reading(length_mm=53.98, read_mm=53.98),
        diagonals=Diagonals(across_mm=170, along_mm=196, rising_mm=259.453, falling_mm=259.453),
        residual_mm=residual_mm,
    )


def figures(first: int, count: int) -> tuple[float, float]:
    """The share of cases in which the stated uncertainty holds, and its median over what 95 % of the errors needed."""
    errors, stated = np.array([case(first + number) for number in range(count)]).T
    return float((errors <= stated).mean()), float(np.median(stated) / np.percentile(errors, 95))


def main() -> None:
    """Both figures."""
    first = int(sys.argv[1]) if len(sys.argv) > 1 else FIRST_SEED
    count = int(sys.argv[2]) if len(sys.argv) > 2 else CASES
    held, median = figures(first, count)
    print(
        f"{count} bending printers: the stated k = 2 holds in {held:.1%}; its median is {median:.2f} of what 95 % need"
    )


if __name__ == "__main__":
    main()
