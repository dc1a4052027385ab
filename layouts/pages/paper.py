"""Sheet sizes, and the part of a sheet that printers reach."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

from layouts.errors import UnknownName
from layouts.lengths import sized_each
from layouts.units import parse_length, positive

CHECK_MM = 100.0  # the check bars of a page, across and along


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A sheet as it lies before the reader, with the margins that nothing which matters may enter; mm."""

    name: str
    width_mm: float
    height_mm: float
    side_mm: float
    top_mm: float
    bottom_mm: float
    source: str
    called: str = ""
    landscape: bool = False

    def __post_init__(self) -> None:
        for size in (self.width_mm, self.height_mm, self.side_mm, self.top_mm, self.bottom_mm):
            positive(size, "a paper size")

    @property
    def safe(self) -> tuple[float, float, float, float]:
        """Left, bottom, right, top of what may be printed on, from the sheet's lower left corner."""
        return self.side_mm, self.bottom_mm, self.width_mm - self.side_mm, self.height_mm - self.top_mm

    @property
    def in_words(self) -> str:
        """Its name as it is written in a sentence: 'A4', 'letter'."""
        return self.called or self.name

    @property
    def label(self) -> str:
        """Name and size in words."""
        way = "landscape" if self.landscape else "portrait"
        size = sized_each("{} x {}", (self.width_mm, self.height_mm))
        return f"{self.in_words} {way}, {size}"

    def turned(self) -> Paper:
        """The same sheet, landscape."""
        return replace(self, width_mm=self.height_mm, height_mm=self.width_mm, landscape=not self.landscape)


@cache
def papers() -> dict[str, Paper]:
    """Every sheet size by name, portrait."""
    rows = tomllib.loads(Path(__file__).with_name("paper.toml").read_text(encoding="utf-8"))
    margins = rows.pop("margins")
    return {
        name: Paper(
            name=name,
            width_mm=parse_length(row["width"]),
            height_mm=parse_length(row["height"]),
            side_mm=parse_length(margins["side"]),
            top_mm=parse_length(margins["top"]),
            bottom_mm=parse_length(margins["bottom"]),
            source=row["source"],
            called=row.get("called", ""),
        )
        for name, row in rows.items()
    }


def find_paper(name: str, *, landscape: bool = False) -> Paper:
    """The sheet called `name`, portrait or landscape. Refuses an unknown name (`UnknownName`)."""
    known = papers()
    if name.casefold() not in known:
        raise UnknownName("paper", name, known)
    paper = known[name.casefold()]
    return paper.turned() if landscape else paper
