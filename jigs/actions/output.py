"""What every printed thing shares: the paper, the printer that it is made true for, and the files it goes to."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from layouts.errors import OutOfRange, QuantityRefused
from layouts.files.whole import Allow, never

if TYPE_CHECKING:
    from datetime import date as Day

    from layouts.pages.page import Setup
    from layouts.printing.printer import Printer

MOST_CHARACTERS = 80  # of a title or a date: the head has a line for it


class Output(NamedTuple):
    """How something is wanted on paper, in words.

    formats: "pdf", or several as "pdf,svg". out: a file or a folder; empty for the folder we are in. printer: its
    name; "none" for no correction, empty for the usual printer of the bench. tray: the paper or card in its tray.
    units: how lengths are said, "mm" or "inch"; empty for what the order or the bench says.
    may_overwrite is asked before a file is replaced that is not an unchanged one of ours.
    """

    paper: str = "a4"
    landscape: bool = False
    tile: bool = False
    formats: str = "pdf"
    out: str = ""
    title: str = ""
    date: str = ""
    printer: str = ""
    tray: str = ""
    units: str = ""
    bench: Path | None = None
    may_overwrite: Allow = never


class Prepared(NamedTuple):
    """The setup of a sheet, and what there is to say of its printer."""

    setup: Setup
    printer: Printer | None = None
    warnings: tuple[str, ...] = ()


class Written(NamedTuple):
    """Files as they were written, in order; the printer they are made true for; what there is to say of both.

    warnings: of the numbers that were given. notes: of the printer.
    """

    paths: tuple[Path, ...]
    printer: Printer | None = None
    warnings: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


def prepare(output: Output, today: Day, *, corrects: bool = True) -> Prepared:
    """The paper and the printer that are wanted; without `corrects`, only a printer that is named.

    `today` ages the printer's record where the sheet has no date of its own.
    """
    from layouts.pages.page import Setup
    from layouts.pages.paper import find_paper

    for words in (output.title, output.date):
        if len(words) > MOST_CHARACTERS:
            raise OutOfRange(
                f"a title or date of {len(words)} characters", f"give at most {MOST_CHARACTERS}, on one line"
            )
    paper = find_paper(output.paper, landscape=output.landscape)
    printer = _printer(output, default=corrects)
    setup = Setup(paper=paper, tile=output.tile, title=output.title, date=output.date, printer=printer)
    if printer is None:
        return Prepared(setup=setup)
    from layouts.dates import parse_date

    with suppress(QuantityRefused):  # the date on a sheet may be "Tuesday" as well
        today = parse_date(output.date)
    return Prepared(setup=setup, printer=printer, warnings=printer.warnings(today, output.tray, paper))


def _printer(output: Output, *, default: bool) -> Printer | None:
    if not output.printer and not (default and (output.tray or (output.bench and _may_be_folder(output.bench)))):
        return None  # only a bench folder has a usual printer: nothing to load
    from layouts.files.folder import Folder
    from layouts.printing.printers import Printers

    return Printers(folder=Folder(path=output.bench or Path())).meant(output.printer, output.tray)


def _may_be_folder(path: Path) -> bool:
    """Whether a path is a folder, or cannot be looked at: then reading what should be in it says why."""
    try:
        return path.is_dir()
    except OSError:
        return True


def stem_for(out: str, name: str, formats: tuple[str, ...]) -> Path:
    """The path without its ending. `out` is a folder when it is one already, ends in a slash or has no ending."""
    path = Path(out)
    ending = path.suffix.lower().removeprefix(".")
    if not out or out.endswith(("/", "\\")) or os.path.isdir(path) or not ending:
        return path / name
    if (ending,) != formats:
        raise OutOfRange(
            f"{path.name} does not go with the format {', '.join(formats)}",
            "name a folder, or a file with the ending of the one format",
        )
    return path.with_suffix("")
