"""Where the metal of an order goes, as columns of any table."""

from __future__ import annotations

from jigs.planning.shares import Masses
from jigs.reports.report import MASS, Cell, Column

METAL_COLUMNS = (
    Column("rings_g", "rings", MASS),
    Column("clippings_g", "clippings", MASS),
    Column("dust_g", "dust", MASS),
)


def metal_cells(metal: Masses) -> tuple[Cell, ...]:
    """The cells of `METAL_COLUMNS`."""
    return metal.rings_g, metal.clippings_g, metal.dust_g
