"""What every sheet command shares: the options of a sheet, and its way to a file."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from jigs.cli.bench_folder import bench_option, bench_path, printers
from layouts.errors import OutOfRange

if TYPE_CHECKING:
    from datetime import date

    from layouts.pages.page import Content, Page, Setup
    from layouts.pages.paper import Paper
    from layouts.printing.printer import Printer

Command = TypeVar("Command", bound=Callable[..., Any])


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetOptions:
    """The options of a sheet as typed."""

    paper: str
    landscape: bool
    tile: bool
    formats: str
    out: str
    title: str
    date: str
    printer: str = ""
    stock: str = ""
    bench_dir: str = ""


def sheet_options(function: Command) -> Callable[..., Any]:
    """Adds the options that all sheets share; the command gets them as one argument, `sheet`."""
    from functools import wraps

    @wraps(function)
    def command(**given: Any) -> Any:
        taken = {name: given.pop(name) for name in SheetOptions.__slots__}
        return function(sheet=SheetOptions(**taken), **given)

    for option in reversed(_options()):
        command = option(command)
    return command


def _options() -> tuple[Callable[[Any], Any], ...]:
    return (
        click.option("--paper", default="a4", metavar="NAME", show_default=True, help="a4, letter, a5, a3 or legal."),
        click.option("--landscape", is_flag=True, help="The long side across."),
        click.option("--tile", is_flag=True, help="Split what is larger than a page into parts to join."),
        click.option(
            "--format",
            "formats",
            default="pdf",
            metavar="LIST",
            show_default=True,
            help="pdf, svg, png; or several: pdf,svg.",
        ),
        click.option("--out", default="", metavar="FILE-or-DIR", help="Where to write. [default: this folder]"),
        click.option("--title", default="", metavar="TEXT", help="A line of your own in the head of the sheet."),
        click.option("--date", default="", metavar="TEXT", help="A date to print. Nothing else prints one."),
        click.option("--printer", default="", metavar="NAME", help="Made true for this printer; none: uncorrected."),
        click.option("--stock", default="", metavar="TEXT", help="The paper or card in its tray."),
        bench_option,
    )


def deliver(content: Content, name: str, sheet: SheetOptions) -> tuple[Path, ...]:
    """Composes the sheet, writes it in every format asked for, and says where. Returns the paths."""
    from layouts.pages.sheet import compose
    from layouts.render import formats_in

    stem = stem_for(sheet.out, name, formats_in(sheet.formats))
    return write(compose(content, setup_for(sheet, corrects=not content.measures_printer)), stem, sheet)


def setup_for(sheet: SheetOptions, *, corrects: bool = True) -> Setup:
    """The paper and the printer of the options; without `corrects`, only a printer that is named."""
    from layouts.pages.page import Setup
    from layouts.pages.paper import find_paper

    paper = find_paper(sheet.paper, landscape=sheet.landscape)
    return Setup(
        paper=paper,
        tile=sheet.tile,
        title=_one_line(sheet.title),
        date=_one_line(sheet.date),
        printer=_printer(sheet, paper, default=corrects),
    )


def write(
    pages: Sequence[Page], stem: Path, sheet: SheetOptions, report: Callable[[], None] = lambda: None
) -> tuple[Path, ...]:
    """Writes the pages in every format asked for, and says where; `report` as of `save`. Returns the paths."""
    from layouts.render import formats_in, save

    paths = save(pages, stem, formats_in(sheet.formats), report)
    for path in paths[:_PATHS_SAID]:
        click.echo(f"wrote {path}")
    if len(paths) > _PATHS_SAID:
        click.echo(f"and {len(paths) - _PATHS_SAID} more, the last {paths[-1]}")
    click.echo("Print at 100 %, actual size; then measure both check bars before you trust the sheet.")
    return paths


_PATHS_SAID = 12


def _printer(sheet: SheetOptions, paper: Paper, *, default: bool) -> Printer | None:
    """The printer that the sheet is made true for, with what there is to say of it said; None for none."""
    if sheet.printer:
        from layouts.printing.printer import NONE

        if sheet.printer.casefold() == NONE:
            return None
    elif not default or not (sheet.stock or bench_path(sheet.bench_dir).is_dir()):
        return None  # without a bench folder there is no default printer, and nothing to load
    kept = printers(sheet.bench_dir)
    chosen = kept.find(sheet.printer, sheet.stock) if sheet.printer else kept.default()
    if chosen is None and sheet.stock:
        raise OutOfRange("--stock without a printer", "name one with --printer, or choose a default one")
    if chosen is not None:
        chosen = kept.find(chosen.name, sheet.stock or chosen.stock)
        click.echo(f"Made true for {chosen}.", err=True)
        for warning in chosen.warnings(_today(sheet.date), sheet.stock, paper):
            click.echo(f"Note: {warning}.", err=True)
    return chosen


def _today(words: str) -> date:
    """The date of the sheet where it is one, else today's; for what is said at the terminal alone."""
    from datetime import date

    from layouts.errors import QuantityRefused
    from layouts.printing.printer import parse_date

    try:
        return parse_date(words)
    except QuantityRefused:
        return date.today()


def _one_line(text: str) -> str:
    if len(text) > 80:
        raise OutOfRange(f"a title or date of {len(text)} characters", "give at most 80, on one line")
    return text


def stem_for(out: str, name: str, formats: tuple[str, ...]) -> Path:
    """The path without its ending. `out` is a folder when it is one already, ends in a slash or has no ending."""
    path = Path(out)
    ending = path.suffix.lower().removeprefix(".")
    if not out or out.endswith(("/", "\\")) or path.is_dir() or not ending:
        return path / name
    if (ending,) != formats:
        raise OutOfRange(
            f"--out {path.name} does not go with --format {','.join(formats)}",
            "name a folder, or a file with the ending of the one format",
        )
    return path.with_suffix("")
