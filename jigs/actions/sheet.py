"""Making a sheet: from its name and what was given to files."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from jigs.actions.output import Output, Written, prepare, stem_for
from jigs.bench.settings import units_for
from jigs.guides.catalogue import AskedKind, Sheet, Words, find_sheet
from layouts.errors import QuantityRefused, Refusal
from layouts.lengths import said_in
from layouts.units import parse_length

if TYPE_CHECKING:
    from datetime import date as Day
    from pathlib import Path


def make_sheet(
    name: str,
    given: Mapping[str, Words],
    output: Output,
    today: Day,
    *,
    progress: Callable[[str, int, int], None] = lambda doing, done, total: None,
) -> Written:
    """Makes the sheet of that name of the fields that were given, and writes it in every format wanted.

    `progress` is told how many files of how many are drawn. Refuses (`Refusal`) what the sheet cannot be made of
    before anything is written.
    """
    with said_in(units_for(output.bench, output.units)):
        return _made(name, given, output, today, progress)


def _made(
    name: str, given: Mapping[str, Words], output: Output, today: Day, progress: Callable[[str, int, int], None]
) -> Written:
    from layouts.pages.sheet import compose
    from layouts.render import formats_in, save

    sheet = find_sheet(name)
    made = sheet.make(_by_name(sheet, given, output.bench))
    formats = formats_in(output.formats)
    stem = stem_for(output.out, name, formats)
    prepared = prepare(output, today, corrects=not made.content.measures_printer)
    pages = compose(made.content, prepared.setup)
    files = sum(1 if form == "pdf" else len(pages) for form in formats)
    drawn = iter(range(1, files + 1))
    return Written(
        paths=save(pages, stem, formats, lambda: progress("Drawing", next(drawn), files), output.may_overwrite),
        printer=prepared.printer,
        warnings=made.warnings,
        notes=prepared.warnings,
    )


def _by_name(sheet: Sheet, given: Mapping[str, Words], bench: Path | None) -> dict[str, Words]:
    """What was given, with the measured diameter in the place of a name that a mandrel of the bench has."""
    rods = [field.key for field in sheet.fields if field.kind is AskedKind.ROD and given.get(field.key)]
    if not rods or bench is None:
        return dict(given)
    from jigs.bench.reading import read_bench

    owned = read_bench(bench)

    def sized(words: str) -> str:
        try:
            parse_length(words)  # a size is what was measured now, whatever has it for a name
        except Refusal:
            return f"{owned.rod_mm(words):.9g} mm"
        return words

    named: dict[str, Words] = {}
    for key in rods:
        words = given[key]
        try:
            named[key] = sized(words) if isinstance(words, str) else [sized(each) for each in words]
        except QuantityRefused as refusal:
            refusal.field = key
            raise
    return {**given, **named}
