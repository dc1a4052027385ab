"""Sheet sizes, and the part of a sheet that printers reach."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache

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


# Portrait, in native units. A row is all that a new one needs: its name as it is typed; as it stands in a sentence,
# where that is otherwise; its sides; their source. Not in TOML: loading its reader takes longer than composing a sheet.
_ROWS = (
    ("a3", "A3", "297 mm", "420 mm", "ISO 216"),
    ("a4", "A4", "210 mm", "297 mm", "ISO 216"),
    ("a5", "A5", "148 mm", "210 mm", "ISO 216"),
    ("letter", "", "8.5 in", "11 in", "ASME Y14.1 size A"),
    ("legal", "", "8.5 in", "14 in", "custom of the United States, in no standard"),
)
# Kept clear: printers leave 4 to 17 mm unprinted, most at the bottom (common practice, no source). Edges are cut to
# +-1.5 to +-3 mm (ISO 216): never measure from one.
_SIDE_MM, _TOP_MM, _BOTTOM_MM = 10.0, 10.0, 18.0


@cache
def papers() -> dict[str, Paper]:
    """Every sheet size by name, portrait."""
    return {
        name: Paper(
            name=name,
            called=called,
            width_mm=parse_length(width),
            height_mm=parse_length(height),
            source=source,
            side_mm=_SIDE_MM,
            top_mm=_TOP_MM,
            bottom_mm=_BOTTOM_MM,
        )
        for name, called, width, height, source in _ROWS
    }


def find_paper(name: str, *, landscape: bool = False) -> Paper:
    """The sheet called `name`, portrait or landscape. Refuses an unknown name (`UnknownName`)."""
    known = papers()
    if name.casefold() not in known:
        raise UnknownName("paper", name, known)
    paper = known[name.casefold()]
    return paper.turned() if landscape else paper
