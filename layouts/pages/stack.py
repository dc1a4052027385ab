"""Drawings as wide as a field, stacked one under another over pages."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from layouts.drawing.marks import Drawing
from layouts.drawing.table import Table, paragraph
from layouts.pages.page import Field
from layouts.pages.sheet import GAP_MM


@dataclass(slots=True, kw_only=True)
class Stack:
    """Drawings as wide as a field, one under another; knows how much of the page is left."""

    space: Field
    drawings: list[Drawing] = field(default_factory=list)
    room_mm: float = 0.0

    def __post_init__(self) -> None:
        self.room_mm = self.space.height_mm

    def put(self, drawing: Drawing) -> None:
        """The drawing under what is there, or on the next page."""
        if drawing.height_mm > self.room_mm + 1e-9:
            self.room_mm = self.space.height_mm
        self.drawings.append(drawing)
        self.room_mm -= drawing.height_mm + GAP_MM

    def put_table(self, table: Table) -> None:
        """The table under what is there, running on over pages."""
        for block in table.blocks(self.room_mm, self.space.height_mm):
            self.put(block)

    def put_paragraph(self, sentences: Sequence[str], heading: str = "") -> None:
        """The sentences under what is there; those that the page does not take, on the next."""
        rest = list(sentences)
        while rest:
            taken = self._that_fit(rest, heading)
            self.put(paragraph(rest[:taken], self.space.width_mm, heading))
            rest, heading = rest[taken:], ""

    def _that_fit(self, sentences: Sequence[str], heading: str) -> int:
        """How many sentences the page takes; one at least, on the next page if need be."""
        for count in range(1, len(sentences) + 1):
            if paragraph(sentences[:count], self.space.width_mm, heading).height_mm > self.room_mm:
                return max(1, count - 1)
        return len(sentences)
