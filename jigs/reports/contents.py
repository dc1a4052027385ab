"""What is on which pages of a print job: said on its cover and at the terminal."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from jigs.reports.report import COUNT, Column, Report
from layouts.errors import OutOfRange


@dataclass(frozen=True, slots=True, kw_only=True)
class ContentsEntry:
    """Pages `first` to `last` of a pack: what they are, what for, and what to print them on (paper or card)."""

    what: str
    use: str
    on: str
    first: int
    last: int

    def __post_init__(self) -> None:
        if not 1 <= self.first <= self.last:
            raise OutOfRange(f"pages {self.first} to {self.last}", "count pages from 1, upwards")

    @property
    def pages(self) -> str:
        """'7' or '7–12'."""
        return span(self.first, self.last)


def span(first: int, last: int) -> str:
    """'7' or '7–12'."""
    return str(first) if first == last else f"{first}–{last}"


def contents(entries: Sequence[ContentsEntry]) -> Report:
    """A row for each kind of sheet: its pages, what it is, what for, and on what."""
    return Report(
        key="contents",
        heading="What is where",
        columns=(
            Column("pages", "page", scripts=False),
            Column("first_page", "first", COUNT, people=False),
            Column("last_page", "last", COUNT, people=False),
            Column("sheet", "sheet"),
            Column("use", "use"),
            Column("on", "on"),
        ),
        rows=tuple((entry.pages, entry.first, entry.last, entry.what, entry.use, entry.on) for entry in entries),
    )
