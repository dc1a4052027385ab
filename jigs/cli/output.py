"""What every sheet command shares: the options of a sheet, and its way to a file."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

import click

from layouts.errors import OutOfRange

Command = TypeVar("Command", bound=Callable[..., Any])


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetOptions:
    """The options of a sheet as typed."""

    paper: str
    landscape: bool
    formats: str
    out: str
    title: str
    date: str


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
    )


def deliver(content: Any, name: str, sheet: SheetOptions) -> tuple[Path, ...]:
    """Composes the sheet, writes it in every format asked for, and says where. Returns the paths."""
    from layouts.paper import find_paper
    from layouts.render import formats_in, save
    from layouts.sheet import Setup, compose

    formats = formats_in(sheet.formats)
    stem = _stem(sheet.out, name, formats)
    paper = find_paper(sheet.paper, landscape=sheet.landscape)
    pages = compose(content, Setup(paper=paper, title=_one_line(sheet.title), date=_one_line(sheet.date)))
    paths = save(pages, stem, formats)
    for path in paths:
        click.echo(f"wrote {path}")
    click.echo("Print at 100 %, actual size; then measure both check bars before you trust the sheet.")
    return paths


def _one_line(text: str) -> str:
    if len(text) > 80:
        raise OutOfRange(f"a title or date of {len(text)} characters", "give at most 80, on one line")
    return text


def _stem(out: str, name: str, formats: tuple[str, ...]) -> Path:
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
