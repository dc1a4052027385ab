"""The command `sheet`: a command for each sheet of the catalogue, with its fields as options."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Any

import click

from jigs.bench.place import bench_path
from jigs.cli.bench_folder import bench_parameter
from jigs.cli.lazy import LazyGroup
from jigs.cli.overwriting import may_overwrite
from jigs.cli.refusals import option, typed

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from jigs.guides.catalogue import Asked, Sheet, Words


class SheetGroup(LazyGroup):
    """Finds a sheet in the catalogue when it is called; a list of them imports every sheet."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The names in the order of the work."""
        from jigs.guides.catalogue import sheets

        return [sheet.name for sheet in sheets()]

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that sheet; None for a name that the catalogue lacks."""
        from jigs.guides.catalogue import sheet_called

        sheet = sheet_called(cmd_name)
        return sheet_command(sheet) if sheet else None

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Lists names and summaries."""
        from jigs.guides.catalogue import sheets

        with formatter.section("Sheets"):
            formatter.write_dl([(sheet.name, sheet.summary) for sheet in sheets()])


def sheet_command(sheet: Sheet) -> click.Command:
    """The command of a sheet: its fields, then what all sheets share, as options."""
    from jigs.cli.output import output_options

    def make(**given: Any) -> None:
        from jigs.actions.output import Output
        from jigs.actions.sheet import make_sheet
        from jigs.cli.output import say_printer, say_written
        from jigs.cli.progress import ProgressBar

        asked = {field.key: words for field in sheet.fields if (words := given.pop(field.key))}
        given["units"] = given["units"] or ""
        output = Output(bench=bench_path(given.pop("bench_dir")), may_overwrite=may_overwrite, **given)
        with ProgressBar() as bar:
            written = make_sheet(sheet.name, asked, output, date.today(), progress=bar.show)
        for warning in written.warnings:
            click.echo(f"warning: {warning}", err=True)
        say_printer(written.printer, written.notes)
        say_written(written.paths)

    return click.Command(
        sheet.name,
        params=[*map(field_option, sheet.fields), *output_options(), bench_parameter()],
        callback=make,
        help=aid_help(sheet, "sheet", sheet.examples),
    )


def aid_help(aid: Sheet, group: str, examples: Sequence[Mapping[str, Words | bool]]) -> str:
    """The help of an aid's command in a group: what it is, examples of it as they are typed, and the rest."""
    # \b has click leave the line breaks of a paragraph alone
    what, *rest = (f"\b\n{part}" if "\n" in part else part for part in aid.about)
    said = "\b"
    for example in examples:
        said += f"\n  coilwright {group} {aid.name}"
        for key, value in example.items():
            if value is True:
                said += f" {option(key)}"
            elif not isinstance(value, bool):
                for words in [value] if isinstance(value, str) else value:
                    said += f" {option(key)} {typed(words)}"
    return "\n\n".join((what, said, *rest))


def field_option(field: Asked) -> click.Option:
    """The option for a field of an aid."""
    help_words = field.help
    if field.repeatable and not field.each_of:
        help_words = f"{help_words} Repeatable."
    if len(field.choices) > _FEW:
        help_words = f"{help_words.removesuffix('.')}: {', '.join(field.choices)}."
    if field.otherwise:
        help_words = f"{help_words} [default: {field.otherwise}]"
    return click.Option(
        [option(field.key), field.key],
        metavar="|".join(field.choices) if 0 < len(field.choices) <= _FEW else _METAVARS.get(field.kind, "NAME"),
        multiple=field.repeatable,
        default=(field.default,) if field.repeatable and field.default else field.default or None,
        show_default=bool(field.default),
        help=help_words,
    )


_FEW = 3  # choices that are shown in place of the value
_METAVARS: dict[str, str] = {
    "length": "LENGTH",
    "length or range": "LENGTH or RANGE",
    "length or name": "LENGTH or NAME",
    "name or length": "NAME or LENGTH",
    "wire": "WIRE",
    "count": "COUNT",
    "blade": "SIZE",
    "file": "FILE",
}


command = SheetGroup(
    name="sheet",
    package="jigs.guides",
    commands={},
    help="""A true-scale sheet to print, as PDF, SVG or PNG preview.

\b
  coilwright sheet printer-check --paper letter
  coilwright sheet ring-card --wire "16 AWG" --inside "5 mm" --tolerance "0.1 mm"
  coilwright sheet bench-pin --hand left --format pdf,svg

Nothing is scaled or zoomed: what does not fit on the paper is refused, or split into parts to join with --tile.
""",
)
