"""The command `solid`: a command for each aid that a 3D printer can make, with its fields as options."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Any

import click

from jigs.bench.place import bench_path
from jigs.cli.bench_folder import bench_parameter
from jigs.cli.completing import complete_papers
from jigs.cli.for_machines import machine_option, say_made
from jigs.cli.lazy import LazyGroup
from jigs.cli.output import out_option
from jigs.cli.overwriting import may_overwrite, overwriting
from jigs.cli.sheet import aid_help, field_option
from jigs.cli.units import units_parameter
from layouts.render import SOLID_FORMATS

if TYPE_CHECKING:
    from jigs.guides.catalogue import Sheet


class SolidGroup(LazyGroup):
    """Finds an aid in the catalogue when it is called; a list of them imports every one."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The names in the order of the work."""
        from jigs.guides.catalogue import solid_aids

        return [aid.name for aid in solid_aids()]

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that aid; None for the name of anything else."""
        from jigs.guides.catalogue import solid_aid_called

        aid = solid_aid_called(cmd_name)
        return _command(aid) if aid else None

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Lists names and summaries."""
        from jigs.guides.catalogue import solid_aids

        with formatter.section("To print as a solid"):
            formatter.write_dl([(aid.name, aid.summary) for aid in solid_aids()])


def _command(aid: Sheet) -> click.Command:
    """The command of an aid: its fields, then what all have in common, as options."""

    def make(machine: str, material: str, **given: Any) -> None:
        from jigs.actions.output import Output
        from jigs.actions.solid import build_solid

        asked = {field.key: words for field in aid.fields if (words := given.pop(field.key))}
        given["units"] = given["units"] or ""
        output = Output(bench=bench_path(given.pop("bench_dir")), may_overwrite=may_overwrite, **given)
        built = build_solid(aid.name, asked, output, date.today(), machine=machine, material=material)
        say_made(built, ", without supports, as it lies: try a size before you trust it.")

    return click.Command(
        aid.name,
        params=[*map(field_option, aid.fields), *_output_options(), bench_parameter()],
        callback=make,
        help=aid_help(aid, "solid", aid.solid_examples),
    )


def _output_options() -> list[click.Parameter]:
    """The options that all of them have: the machine, and fields of an `Output`."""
    return [
        machine_option(),
        click.Option(["--material"], default="", metavar="TEXT", help="The plastic it was tried in, such as PLA."),
        click.Option(
            ["--format", "formats"],
            default="3mf",
            metavar="LIST",
            show_default=True,
            help=f"{', '.join(SOLID_FORMATS[:2])}; and of its leaf to read, {', '.join(SOLID_FORMATS[2:])}; or several:"
            " 3mf,pdf.",
        ),
        out_option(),
        click.Option(
            ["--paper"],
            shell_complete=complete_papers,
            default="a4",
            metavar="NAME",
            show_default=True,
            help="Of the leaf.",
        ),
        units_parameter(),
        overwriting(),
    ]


command = SolidGroup(
    name="solid",
    package="jigs.guides",
    commands={},
    help="""Aids for a 3D printer, as 3MF or STL in millimetres.

\b
  coilwright solid coupon --format 3mf,pdf
  coilwright solid plug --inside "4.6 mm..5.4 mm by 0.2 mm" --machine "school printer"
  coilwright solid hole-plate --outside "6 mm..8 mm by 0.2 mm" --machine "school printer"
  coilwright solid drill-block --diameter "8 mm" --wire "16 AWG" --format 3mf,pdf

Each lies in its file as it is to be printed, without supports. Holes and pins come out as drawn only on a machine that
was measured; until then none of them is a gauge.
""",
)
