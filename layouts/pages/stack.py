"""Drawings as wide as a field, stacked one under another over pages."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from layouts.drawing.marks import Drawing
from layouts.drawing.table import Table
from layouts.drawing.words import Listing, Sign, listing
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

    def put_list(self, listing: Listing) -> None:
        """The list under what is there; what the page does not take, on the next."""
        rest: Listing | None = listing
        while rest:
            page = self.space.height_mm
            part, left = rest.split(self.room_mm)
            if part is None and self.room_mm >= page:
                part, left = rest.split(page, least=1)
            if part is None and self.room_mm >= page:
                part, left = rest, None  # one item higher than a page: the sheet refuses it
            if part:
                self.put(part.drawing())
            self.room_mm = page if left else self.room_mm
            rest = left

    def put_paragraph(self, sentences: Sequence[str], heading: str = "", *, sign: Sign = "") -> None:
        """Sentences under a heading as a list; nothing where there are none."""
        if sentences:
            self.put_list(listing(sentences, self.space.width_mm, heading, sign=sign))
