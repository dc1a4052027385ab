"""Where the metal of an order goes, as columns of any table."""

from __future__ import annotations

from jigs.planning.shares import Masses
from jigs.reports.report import MASS, Cell, Column

METAL_COLUMNS = (
    Column("rings_g", "rings", MASS),
    Column("clippings_g", "clippings", MASS),
    Column("dust_g", "dust", MASS),
)


def metal_figures(metal: Masses) -> dict[str, Cell]:
    """The cells of `METAL_COLUMNS`, by their keys."""
    return {"rings_g": metal.rings_g, "clippings_g": metal.clippings_g, "dust_g": metal.dust_g}


def metal_cells(metal: Masses) -> tuple[Cell, ...]:
    """The cells of `METAL_COLUMNS`."""
    return tuple(metal_figures(metal).values())
