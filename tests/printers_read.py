"""Printers as they were read, for tests."""

from __future__ import annotations

import pytest
from hypothesis import strategies as st
from printing import Press

from layouts.pages.paper import find_paper
from layouts.printing.printer import Printer, Reading

PAPERS = [find_paper(name, landscape=turned) for name in ("a4", "letter", "a5", "a3") for turned in (False, True)]
every_paper = pytest.mark.parametrize("paper", PAPERS, ids=lambda paper: paper.label)
factors = st.floats(0.955, 1.045)
presses = st.builds(
    Press,
    across=factors,
    along=factors,
    skew_deg=st.floats(-0.5, 0.5),
    turn_deg=st.floats(-1, 1),
    spread_mm=st.floats(-0.05, 0.1),
)


def reading(length: float, read: float) -> Reading:
    return Reading(length_mm=length, read_mm=read)


def printer(across: float = 1.0, along: float = 1.0, instrument: str = "rule", length: float = 100.0) -> Printer:
    return Printer(
        name="office",
        tray="plain",
        instrument=instrument,
        across=reading(length, length * across),
        along=reading(length, length * along),
    )
