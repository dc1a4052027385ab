"""The cover of a pack: what is on which page, what goes on card, how to print it, what was left out and why."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from jigs.reports.as_table import as_table
from jigs.reports.contents import ContentsEntry, contents, span
from layouts.drawing.marks import Drawing
from layouts.lengths import are_inches
from layouts.pages.page import Content, Field
from layouts.pages.stack import Stack


def cover(
    facts: Sequence[tuple[str, str]],
    entries: Sequence[ContentsEntry],
    left_out: Sequence[str] = (),
    hints: Sequence[str] = (),
    *,
    then: Callable[[Stack], None] | None = None,
    notes: Sequence[str] = (),
    cautions: Sequence[str] = (),
) -> Content:
    """The first page of a pack: how to print, a table of the pages, then what is left out and other hints.

    `then` puts something else where the table would be, with notes and cautions of its own; the lines on how to print
    then say what is on which page.
    """

    def draw(field: Field) -> Sequence[Drawing]:
        stack = Stack(space=field)
        stack.put_paragraph(list(_how(entries, named=bool(then))), "To print", sign="box")
        if then:
            then(stack)
        else:
            pages = contents(entries).pick("pages", "sheet", "use", "on")
            shares = 0.11, 0.27, 0.53, 0.11
            stack.put_table(as_table(pages, field.width_mm, shares, bold=("pages", "sheet"), pad_mm=1.1))
        for heading, lines in (("Left out", left_out), ("Please note", hints)):
            stack.put_paragraph(lines, heading)
        return stack.drawings

    return Content(
        title="Bench pack",
        facts=tuple(facts),
        draw=draw,
        notes=tuple(notes) if then else ("All pages are at true size; the same order gives the same pages.",),
        cautions=tuple(cautions),
    )


def _how(entries: Sequence[ContentsEntry], *, named: bool) -> Iterator[str]:
    bars = "4 in [101.6 mm] long by its scale in inches" if are_inches() else "100 mm long"  # both scales are on them
    yield (
        "Print this page on its own first, at 100 % (actual size). Let it rest a few minutes, then lay a steel rule on"
        f" both check bars: each must be {bars}. If not, change the print settings before you go on."
    )
    where = {}
    for on in ("paper", "card"):
        here = [entry for entry in entries if entry.on == on]
        spans: list[tuple[int, int]] = []  # neighbours joined: 'pages 2–5, 9'
        for entry in sorted(here, key=lambda entry: entry.first):
            if spans and spans[-1][1] + 1 == entry.first:
                spans[-1] = spans[-1][0], entry.last
            else:
                spans.append((entry.first, entry.last))
        where[on] = f"pages {', '.join(span(first, last) for first, last in spans)}" if spans else ""
        if named:  # 'page 2 (bench pin), pages 3–4 (job cards)'
            pages = (f"{'page' if entry.first == entry.last else 'pages'} {entry.pages}" for entry in here)
            names = (entry.what.lower() for entry in here)
            where[on] = ", ".join(f"{page} ({name})" for page, name in zip(pages, names, strict=True))
    if papers := where["paper"]:
        yield f"Print on paper: {papers}."
    if cards := where["card"]:
        yield f"Put card of about 160 g in the tray and print {cards}. Measure its bars too: card tends to feed short."
    yield "Cut along the solid lines; neighbours may share one. Wrap, fold and align along the dashed ones."
