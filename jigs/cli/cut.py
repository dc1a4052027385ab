"""The command `cut`: a command for each aid that a laser or a knife can make, with its fields as options."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Any

import click

from jigs.bench.place import bench_path
from jigs.cli.bench_folder import bench_parameter
from jigs.cli.for_machines import machine_option, say_made
from jigs.cli.lazy import LazyGroup
from jigs.cli.output import out_option
from jigs.cli.overwriting import may_overwrite, overwriting
from jigs.cli.sheet import aid_help, field_option
from jigs.cli.units import units_parameter
from layouts.render import CUT_FORMATS

if TYPE_CHECKING:
    from jigs.guides.catalogue import Sheet


PIECES = "pieces"
_CHECK = ": check one size in the machine's own program before you cut."
_PIECES = "The labels, ring cards and winding strips of an order, out of card."


class CutGroup(LazyGroup):
    """Finds an aid in the catalogue when it is called; a list of them imports every one."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The names in the order of the work."""
        from jigs.guides.catalogue import cut_aids

        return [*(aid.name for aid in cut_aids()), PIECES]

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that aid; None for a name that is not cut."""
        if cmd_name == PIECES:
            return _pieces_command()
        from jigs.guides.catalogue import cut_aid_called

        aid = cut_aid_called(cmd_name)
        return _command(aid) if aid else None

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Lists names and summaries."""
        from jigs.guides.catalogue import cut_aids

        with formatter.section("To cut"):
            formatter.write_dl([*((aid.name, aid.summary_to_cut) for aid in cut_aids()), (PIECES, _PIECES)])


def _command(aid: Sheet) -> click.Command:
    """The command of an aid: its fields, then what all have in common, as options."""

    def make(**given: Any) -> None:
        from jigs.actions.cut import CutOutput, cut_aid

        asked = {field.key: words for field in aid.fields_to_cut if (words := given.pop(field.key))}
        given["units"] = given["units"] or ""
        output = CutOutput(bench=bench_path(given.pop("bench_dir")), may_overwrite=may_overwrite, **given)
        cut = cut_aid(aid.name, asked, output, date.today())
        say_made(cut, _CHECK)

    about = (aid.cut_summary, *aid.about[1:]) if aid.cut_summary else aid.about
    return click.Command(
        aid.name,
        params=[*map(field_option, aid.fields_to_cut), *_output_options(), bench_parameter()],
        callback=make,
        help=aid_help(aid._replace(about=about), "cut", aid.cut_examples),
    )


def _pieces_command() -> click.Command:
    """The command of the pieces of an order: the order, then the options that all have."""

    def make(order: str, **given: Any) -> None:
        from pathlib import Path

        from jigs.actions.cut import CutOutput, cut_pieces
        from jigs.actions.order import plan_order

        bench, given["units"] = bench_path(given.pop("bench_dir")), given["units"] or ""
        output = CutOutput(bench=bench, may_overwrite=may_overwrite, **given)
        plan = plan_order(Path(order), bench, units=output.units)
        say_made(cut_pieces(plan, output, date.today(), name=f"{Path(order).stem}-pieces"), _CHECK)

    return click.Command(
        PIECES,
        params=[click.Argument(["order"], metavar="ORDER"), *_output_options(), bench_parameter()],
        callback=make,
        help="""The pieces that the pack of an order has on card, for a knife or a laser.

ORDER is a TOML file; `coilwright order new` writes one to start from.

\b
  coilwright cut pieces bracelet.toml --tool knife --sheet a4
  coilwright cut pieces bracelet.toml --material card --kerf "0.1 mm" --format dxf,svg

A pen or the faintest engraving writes the words; the card is cut without a kerf, unless one is given.
""",
    )


def _output_options() -> list[click.Parameter]:
    """The options that all of them have, by the names of the fields of a `CutOutput`."""
    return [
        click.Option(
            ["--material"], default="", metavar="TEXT", help='What is cut, such as acrylic or "birch plywood".'
        ),
        click.Option(["--material-thickness"], default="", metavar="LENGTH", help="Of the sheet that is cut."),
        click.Option(["--tool"], default="", metavar="laser|knife", help="What cuts it. [default: laser]"),
        machine_option(),
        click.Option(["--kerf"], default="", metavar="LENGTH", help="The width of the cut, if that is all you know."),
        click.Option(
            ["--sheet"],
            default="300 mm x 200 mm",
            show_default=True,
            metavar="SIZE",
            help="Of the material: both sides, or the name of a paper.",
        ),
        click.Option(["--margin"], default="5 mm", show_default=True, metavar="LENGTH", help="Kept free at its edges."),
        click.Option(["--gap"], default="2 mm", show_default=True, metavar="LENGTH", help="Kept between the parts."),
        click.Option(
            ["--format", "formats"],
            default="dxf",
            metavar="LIST",
            show_default=True,
            help=f"{', '.join(CUT_FORMATS[:2])}; or both: {','.join(CUT_FORMATS[:2])}.",
        ),
        out_option(),
        units_parameter(),
        overwriting(),
    ]


command = CutGroup(
    name="cut",
    package="jigs.guides",
    commands={},
    help="""Aids for a laser cutter or a knife, as DXF or SVG in millimetres.

\b
  coilwright cut coupon --material "birch plywood" --material-thickness "3 mm"
  coilwright cut hole-plate --outside "5 mm..9 mm by 0.5 mm" --material acrylic --kerf "0.18 mm"
  coilwright cut hole-plate --outside "7.4 mm" --machine "school laser" --format dxf,svg

Lines stand on three layers, in the order in which they are done: MARK, ENGRAVE, CUT. Half the kerf is undone at every
edge, holes are cut before the outline that they are in, and a text beside the drawing says what to heed.

Caution: a laser is never left running alone. Acrylic burns with hardly a flame to see. Never PVC, vinyl, ABS,
polycarbonate or foil; resin-bonded board only with the fumes drawn off; eye protection made for the laser's wavelength.
Your workshop's rules and your local codes come first.
""",
)
