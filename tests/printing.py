"""A printer that stretches, shrinks, leans and spreads its ink, for the tests; it shares no code with `layouts`."""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from layouts.printing.printer import Diagonals, InkPair, Printer, Reading


@dataclass(frozen=True, slots=True, kw_only=True)
class Press:
    """What it does to a sheet fed upright: scale each way, lean of upright lines, turn, shift, ink at an edge."""

    across: float = 1.0
    along: float = 1.0
    skew_deg: float = 0.0
    turn_deg: float = 0.0
    shift: complex = 0j
    spread_mm: float = 0.0

    def prints(self, points: NDArray[np.complex128] | complex, *, landscape: bool = False) -> NDArray[np.complex128]:
        """Where points of the page land on the paper; a landscape page is turned before it is fed, and back."""
        given = np.asarray(points) * (1j if landscape else 1)
        lean = math.radians(self.skew_deg)
        upright = self.along * (math.sin(lean) + 1j * math.cos(lean))
        seen = (given.real * self.across + given.imag * upright) * cmath.exp(1j * math.radians(self.turn_deg))
        seen = seen + self.shift
        return np.asarray(seen / (1j if landscape else 1))

    def length(self, start: complex, end: complex, *, landscape: bool = False) -> float:
        """Printed length of a line."""
        first, last = self.prints(np.array([start, end]), landscape=landscape)
        return float(abs(last - first))


def _exactly(length_mm: float) -> float:
    return length_mm


def measured(
    press: Press,
    *,
    sides_mm: tuple[float, float] = (150.0, 200.0),
    read: Callable[[float], float] = _exactly,
    instrument: str = "rule",
    landscape: bool = False,
    ink_mm: tuple[float, ...] = (0.5, 1.0, 2.0),
) -> Printer:
    """The record of a printer whose base lines, diagonals and bars are read off by `read`."""
    width, height = sides_mm

    def line(start: complex, end: complex) -> float:
        return read(press.length(start, end, landscape=landscape))

    pairs = ((size * press.across + 2 * press.spread_mm, size * press.across - 2 * press.spread_mm) for size in ink_mm)
    return Printer(
        name="office",
        tray="plain 80 g",
        instrument=instrument,
        across=Reading(length_mm=width, read_mm=line(0, width)),
        along=Reading(length_mm=height, read_mm=line(0, height * 1j)),
        diagonals=Diagonals(
            across_mm=width,
            along_mm=height,
            rising_mm=line(0, width + height * 1j),
            falling_mm=line(width, height * 1j),
        ),
        ink=tuple(InkPair(black_mm=read(black), white_mm=read(white)) for black, white in pairs),
        date="2026-11-25",
        paper="a4",
        landscape=landscape,
    )
