"""Paper and card as they lie in the tray: weight, thickness, source."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from layouts.errors import OutOfRange
from layouts.units import parse_length, positive


@dataclass(frozen=True, slots=True, kw_only=True)
class TrayPaper:
    """A paper or card by its weight, with the span of thickness in which it is found."""

    name: str
    grams: float  # a square metre
    thin_mm: float
    thick_mm: float
    source: str

    def __post_init__(self) -> None:
        positive(self.grams, "a weight of paper in g/m2")
        if positive(self.thin_mm, "a thickness of paper") > positive(self.thick_mm, "a thickness of paper"):
            raise OutOfRange(f"{self.name} is thinner at its thickest than at its thinnest", "give the thinner first")

    @property
    def thickness_mm(self) -> float:
        """The middle of the span."""
        return (self.thin_mm + self.thick_mm) / 2


@cache
def tray_papers() -> tuple[TrayPaper, ...]:
    """Every paper and card whose thickness is known, lightest first."""
    rows = tomllib.loads(Path(__file__).with_name("tray.toml").read_text(encoding="utf-8"))
    known = (
        TrayPaper(
            name=name,
            grams=row["grams"],
            thin_mm=parse_length(row["thin"]),
            thick_mm=parse_length(row["thick"]),
            source=row["source"],
        )
        for name, row in rows.items()
    )
    return tuple(sorted(known, key=lambda paper: paper.grams))


_GRAMS = re.compile(r"(?<![\d.,])(\d{1,4})\s*(?:g|gsm)(?![a-z])", re.IGNORECASE)


def grams_in(words: str) -> int | None:
    """The grams a square metre that words such as "card 160 g" name; None where they name none, or several.

    >>> grams_in("plain 80 g/m2"), grams_in("card"), grams_in("80 g or 160 g")
    (80, None, None)
    """
    found = {int(grams) for grams in _GRAMS.findall(words)}
    return found.pop() if len(found) == 1 else None


def thickness_of(words: str) -> TrayPaper | None:
    """The paper or card that words such as "plain 80 g" mean, by its grams alone; None where it is not known.

    >>> thickness_of("office, 80 g").thickness_mm
    0.1
    """
    grams = grams_in(words)
    return next((paper for paper in tray_papers() if paper.grams == grams), None)
