"""Making a sheet: from its name and what was given to files."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from jigs.actions.output import Output, Written, prepare, stem_for
from jigs.guides.catalogue import Words, find_sheet

if TYPE_CHECKING:
    from datetime import date as Day


def make_sheet(name: str, given: Mapping[str, Words], output: Output, today: Day) -> Written:
    """Makes the sheet of that name of the fields that were given, and writes it in every format wanted.

    Refuses (`Refusal`) what the sheet cannot be made of before anything is written.
    """
    from layouts.pages.sheet import compose
    from layouts.render import formats_in, save

    made = find_sheet(name).make(given)
    formats = formats_in(output.formats)
    stem = stem_for(output.out, name, formats)
    prepared = prepare(output, today, corrects=not made.content.measures_printer)
    return Written(
        paths=save(compose(made.content, prepared.setup), stem, formats, may_overwrite=output.may_overwrite),
        printer=prepared.printer,
        warnings=made.warnings,
        notes=prepared.warnings,
    )
