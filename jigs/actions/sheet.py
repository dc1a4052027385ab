"""Making a sheet: from its name and what was given to files."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from jigs.actions.output import Output, Written, prepare, stem_for
from jigs.bench.settings import units_for
from jigs.guides.catalogue import Asked, AskedKind, Words, find_sheet
from layouts.errors import QuantityRefused, Refusal
from layouts.lengths import said_in
from layouts.units import parse_length

if TYPE_CHECKING:
    from datetime import date as Day

    from layouts.pages.page import Page
    from layouts.printing.printer import Printer


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


class Drawn(NamedTuple):
    """A sheet on its pages, not yet in a file: as it would be written, and what there is to say of it.

    warnings: of the numbers that were given. notes: of the printer.
    """

    pages: tuple[Page, ...]
    printer: Printer | None = None
    warnings: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


def draw_sheet(name: str, given: Mapping[str, Words], output: Output, today: Day) -> Drawn:
    """The same sheet to look at. Refuses (`Refusal`) what it cannot be made of."""
    with said_in(units_for(output.bench, output.units)):
        return _drawn(name, given, output, today)


def sheet_files(name: str, given: Mapping[str, Words], output: Output, today: Day) -> tuple[tuple[str, bytes], ...]:
    """The files that `make_sheet` would write, byte for byte: the name of each, and what is in it."""
    from layouts.render import formats_in, rendered

    with said_in(units_for(output.bench, output.units)):
        drawn = _drawn(name, given, output, today)
        files = rendered(drawn.pages, Path(name), formats_in(output.formats))
        return tuple((path.name, data) for path, data in files)


def _drawn(name: str, given: Mapping[str, Words], output: Output, today: Day) -> Drawn:
    from layouts.pages.sheet import compose

    sheet = find_sheet(name)
    made = sheet.make(by_name(sheet.fields, given, output.bench))
    prepared = prepare(output, today, corrects=not made.content.measures_printer)
    return Drawn(
        pages=compose(made.content, prepared.setup),
        printer=prepared.printer,
        warnings=made.warnings,
        notes=prepared.warnings,
    )


def _made(
    name: str, given: Mapping[str, Words], output: Output, today: Day, progress: Callable[[str, int, int], None]
) -> Written:
    from layouts.render import formats_in, save
    from layouts.render.formats import TABLE

    formats = formats_in(output.formats)
    stem = stem_for(output.out, name, formats)
    drawn = _drawn(name, given, output, today)
    files = sum(TABLE[form].count(len(drawn.pages)) for form in formats)
    done = iter(range(1, files + 1))
    return Written(
        paths=save(drawn.pages, stem, formats, lambda: progress("Drawing", next(done), files), output.may_overwrite),
        printer=drawn.printer,
        warnings=drawn.warnings,
        notes=drawn.notes,
    )


def by_name(fields: Sequence[Asked], given: Mapping[str, Words], bench: Path | None) -> dict[str, Words]:
    """What was given, with the measured diameter in the place of a name that a mandrel of the bench has.

    Where the name counts too it is kept; and where no such mandrel is named, all of the bench are.
    """
    rods = [field.key for field in fields if field.kind is AskedKind.ROD and given.get(field.key)]
    mandrels = [field.key for field in fields if field.kind is AskedKind.MANDREL]
    if not (rods or mandrels) or bench is None:
        return dict(given)
    from jigs.bench.reading import read_bench

    owned = read_bench(bench)

    def sized(words: str, name: str = "") -> str:
        try:
            parse_length(words)  # a size is what was measured now, whatever has it for a name
        except Refusal:
            return f"{name}{owned.rod_mm(words):.9g} mm"
        return words

    def both(words: str) -> str:
        return words if "=" in words else sized(words, f"{words.strip()} = ")

    named: dict[str, Words] = {}
    for key in (*rods, *mandrels):
        read = both if key in mandrels else sized
        words = given.get(key) or tuple(mandrel.name for mandrel in owned.mandrels)
        try:
            named[key] = read(words) if isinstance(words, str) else [read(each) for each in words]
        except QuantityRefused as refusal:
            refusal.field = key
            raise
    return {**given, **named}
