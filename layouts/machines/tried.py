"""What was tried on a coupon: a size as it was drawn and as it came out, and what it was tried with."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from layouts.errors import OutOfRange, QuantityRefused, UnknownName, listed, shown
from layouts.units import parse_length, positive

_ROOT3 = math.sqrt(3.0)  # half width of a rectangular distribution over its standard uncertainty


@dataclass(frozen=True, slots=True, kw_only=True)
class Tool:
    """What a coupon is tried with; errors in mm, as half widths. See tools.toml for what each is."""

    name: str
    words: str
    ways: tuple[str, ...]
    shared: float
    each: float
    source: str
    inside_shared: float = 0.0

    def shared_standard_mm(self, way: str) -> float:
        """Standard uncertainty of what all its readings of a way ("inside", "outside", "length") share."""
        return (self.inside_shared if way == "inside" and self.inside_shared else self.shared) / _ROOT3

    @property
    def each_standard_mm(self) -> float:
        """Standard uncertainty of one reading beside that."""
        return self.each / _ROOT3


@cache
def tools() -> dict[str, Tool]:
    """Every tool by name."""
    import tomllib

    rows = tomllib.loads(Path(__file__).with_name("tools.toml").read_text(encoding="utf-8"))
    return {name: Tool(name=name, **{**row, "ways": tuple(row["ways"])}) for name, row in rows.items()}


def find_tool(name: str) -> Tool:
    """The tool called `name`. Refuses an unknown one (`UnknownName`)."""
    if name not in tools():
        raise UnknownName("tool", name, tools())
    return tools()[name]


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """One size of a coupon [mm]: as drawn, and between which two sizes it came out; what it was tried with.

    Of a hole tried with shanks these are the thickest that goes in and the thinnest that does not; of a reading they
    are the same.
    """

    wanted_mm: float
    low_mm: float
    high_mm: float
    tool: str

    def __post_init__(self) -> None:
        find_tool(self.tool)
        positive(self.wanted_mm, "a size on the coupon")
        positive(self.low_mm, "a size that was tried")
        positive(self.high_mm, "a size that was tried")
        if self.low_mm > self.high_mm:
            raise OutOfRange(
                f"{self.low_mm:g} mm goes in and {self.high_mm:g} mm does not", "give the thinner, which goes in, first"
            )

    @property
    def read_mm(self) -> float:
        """What it came out as: half-way between the two."""
        return (self.low_mm + self.high_mm) / 2

    @property
    def is_between(self) -> bool:
        """Whether it lies between two sizes, and was not read."""
        return self.low_mm < self.high_mm

    @property
    def tool_each_standard_mm(self) -> float:
        """Standard uncertainty that the tool brings to this reading alone."""
        return find_tool(self.tool).each_standard_mm

    @property
    def each_standard_mm(self) -> float:
        """Standard uncertainty of this reading alone: the tool's, and half the step between the two sizes."""
        return math.hypot(self.tool_each_standard_mm, (self.high_mm - self.low_mm) / 2 / _ROOT3)


def parse_tried(words: str, tool: str, wanted_mm: float | None = None) -> Tried:
    """A reading in words: "4.86 mm of 5 mm", or "5.1 mm..5.2 mm of 5 mm" where the first goes in, the second does not.

    `wanted_mm` is the size as drawn where the words do not say it. Refuses what is neither (`QuantityRefused`).
    """
    read, named, wanted = words.partition(" of ")
    if not named and wanted_mm is None:
        raise QuantityRefused(
            f"{shown(words)} does not say what it was drawn as", 'write both, such as "5.1 mm..5.2 mm of 5 mm"'
        )
    low, ranged, high = read.partition("..")
    drawn = parse_length(wanted) if named else float(wanted_mm or 0.0)
    least = parse_length(low)
    return Tried(wanted_mm=drawn, low_mm=least, high_mm=parse_length(high) if ranged else least, tool=tool)


def refuse_tool(tool: str, way: str, what: str) -> None:
    """Refuses a tool for what it cannot try: a micrometer for a hole."""
    if way not in find_tool(tool).ways:
        others = listed(one.words for one in tools().values() if way in one.ways)
        raise OutOfRange(f"{find_tool(tool).words} cannot read {what}", f"read it with {others}")
