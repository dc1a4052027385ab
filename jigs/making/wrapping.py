"""A strip of paper wrapped once round a rod: where its end comes to lie on its start. Lengths in mm.

The middle of the paper keeps its length. The first layer lies on the rod, its middle at the radius (D + t)/2. The
second lies on the first, its middle at (D + 3 t)/2; before it gets there it leaves the rod, runs straight to the upper
corner of the strip's start, and bends over it.
"""

from __future__ import annotations

import math

from jigs.making.bending import bracketed_root
from layouts.errors import OutOfRange
from layouts.units import positive

THICKEST_PART = 0.25
"""Paper thicker than this part of a rod does not wrap it (common practice, no source)."""


def climb_mm(diameter_mm: float, paper_mm: float) -> float:
    """How much longer the way over the strip's start is than the first layer's circle.

    The corner stands t above the rod of radius R, so the straight part is sqrt((R + t)^2 - R^2) long and replaces an
    arc of acos(R / (R + t)); bent by that angle about the corner, the paper's middle takes t/2 of it, as much as the
    circle it replaces has too. What is left is straight - R x angle (plane geometry).
    """
    r, t = _checked(diameter_mm, paper_mm)
    return math.sqrt((2 * r + t) * t) - r * math.acos(r / (r + t))


def once_round_mm(diameter_mm: float, paper_mm: float) -> float:
    """Paper from the strip's start, once round, to where it lies above that start: pi (D + t) + the climb."""
    return math.pi * (diameter_mm + paper_mm) + climb_mm(diameter_mm, paper_mm)


def covers_mm(strip_mm: float, diameter_mm: float, paper_mm: float) -> float:
    """How far from its start a strip of some length comes to end on itself, along the first layer.

    What is left of it after once round lies on the second layer, whose scale is (D + 3 t)/(D + t) of the first's:
    6 % more at 3 mm, 2.5 % at 8 mm in paper of 0.1 mm. Below zero where it does not go round.
    """
    left = strip_mm - once_round_mm(diameter_mm, paper_mm)
    return left * (diameter_mm + paper_mm) / (diameter_mm + 3 * paper_mm)


def pricked_mm(diameter_mm: float, paper_mm: float, from_start_mm: float) -> float:
    """From the lower to the upper hole along a strip that was pricked through both layers.

    Where the lower hole is `from_start_mm` from the start, the upper layer has come that angle further on its own,
    larger circle: once round + angle x t.
    """
    angle = 2 * from_start_mm / (diameter_mm + paper_mm)
    return once_round_mm(diameter_mm, paper_mm) + angle * paper_mm


def rod_of_pricks_mm(length_mm: float, paper_mm: float, from_start_mm: float) -> float:
    """The rod's diameter from the length between two pricks: `pricked_mm` read backwards."""
    thinnest = positive(paper_mm, "the paper's thickness") / THICKEST_PART
    if pricked_mm(thinnest, paper_mm, from_start_mm) >= positive(length_mm, "a strip's length round a rod"):
        least = pricked_mm(thinnest, paper_mm, from_start_mm)
        raise OutOfRange(
            f"{length_mm:.2f} mm of paper {paper_mm:g} mm thick does not go round a rod",
            f"give more than {least:.2f} mm",
        )
    return bracketed_root(
        lambda diameter: length_mm - pricked_mm(diameter, paper_mm, from_start_mm), thinnest, length_mm / math.pi
    )


def _checked(diameter_mm: float, paper_mm: float) -> tuple[float, float]:
    """The rod's radius and the paper's thickness."""
    diameter, paper = positive(diameter_mm, "rod"), positive(paper_mm, "the paper's thickness")
    if paper > THICKEST_PART * diameter * (1 + 1e-9):
        raise OutOfRange(
            f"paper of {paper:g} mm does not wrap a rod of {diameter:.3g} mm",
            f"take paper of {THICKEST_PART * diameter:.2g} mm or thinner",
        )
    return diameter / 2, paper
