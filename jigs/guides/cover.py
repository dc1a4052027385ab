"""The cover of a pack: what is on which page, what goes on card, how to print it, what was left out and why."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from layouts.drawing.marks import Drawing
from layouts.drawing.table import Column, Table
from layouts.errors import OutOfRange
from layouts.pages.page import Content, Field
from layouts.pages.stack import Stack


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
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


def cover(
    facts: Sequence[tuple[str, str]], entries: Sequence[Entry], left_out: Sequence[str] = (), hints: Sequence[str] = ()
) -> Content:
    """The first page of a pack: how to print, a table of the pages, then what is left out and other hints."""
    return Content(
        title="Bench pack",
        facts=tuple(facts),
        draw=lambda field: _drawings(entries, left_out, hints, field),
        notes=("All pages are at true size; the same order gives the same pages.",),
    )


def _drawings(
    entries: Sequence[Entry], left_out: Sequence[str], hints: Sequence[str], field: Field
) -> Sequence[Drawing]:
    stack = Stack(space=field)
    stack.put_paragraph(list(_how(entries)), "To print", sign="box")
    stack.put_table(_table(entries, field.width_mm))
    for heading, lines in (("Left out", left_out), ("Please note", hints)):
        stack.put_paragraph(lines, heading)
    return stack.drawings


def _how(entries: Sequence[Entry]) -> Iterator[str]:
    yield (
        "Print this page alone, at 100 % or actual size. Let it rest some minutes; lay a steel rule on both check bars:"
        " 100 mm across and along. If they are not, change the print settings first."
    )
    papers, cards = _ranges(entries, "paper"), _ranges(entries, "card")
    if papers:
        yield f"Print on paper: pages {papers}."
    if cards:
        yield f"Put card of about 160 g in the tray and print pages {cards}. Measure its bars too: card feeds shorter."
    yield "Cut along the solid lines; neighbours share a line where they can. Wrap, fold and align along the dashed."


def _ranges(entries: Sequence[Entry], on: str) -> str:
    """The pages that go on one stock, neighbours joined: '2–5, 9'."""
    spans: list[tuple[int, int]] = []
    for entry in sorted(entries, key=lambda entry: entry.first):
        if entry.on != on:
            continue
        if spans and spans[-1][1] + 1 == entry.first:
            spans[-1] = spans[-1][0], entry.last
        else:
            spans.append((entry.first, entry.last))
    return ", ".join(span(first, last) for first, last in spans)


def _table(entries: Sequence[Entry], width: float) -> Table:
    return Table(
        heading="What is where",
        columns=(
            Column("page", 0.11, bold=True),
            Column("sheet", 0.27, bold=True),
            Column("use", 0.53),
            Column("on", 0.11),
        ),
        rows=tuple((entry.pages, entry.what, entry.use, entry.on) for entry in entries),
        width_mm=width,
        pad_mm=1.1,
    )
