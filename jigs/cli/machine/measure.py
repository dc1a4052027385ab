"""The command `machine measure`: what a coupon reads in, a record out."""

from __future__ import annotations

from typing import Any

import click

from jigs.bench.place import bench_path
from jigs.cli.answers import details_option, say
from jigs.cli.bench_folder import bench_option
from jigs.cli.completing import complete_machines
from jigs.cli.refusals import option
from layouts.errors import OutOfRange

_EACH = "Repeatable."


@click.command("measure")
@click.argument("name", metavar="NAME", shell_complete=complete_machines)
@click.option("--kind", default="laser", show_default=True, metavar="KIND", help="laser, knife or 3d-printer.")
@click.option("--material", default="", metavar="TEXT", help='What was cut or printed, such as "birch plywood".')
@click.option("--material-thickness", default="", metavar="LENGTH", help="Of the sheet; a printer has none.")
@click.option("--hole", multiple=True, metavar="READING", help=f"A hole: 5.1 mm..5.2 mm of 5 mm. {_EACH}")
@click.option("--pin", multiple=True, metavar="READING", help=f"A disc or pin: 7.86 mm of 8 mm. {_EACH}")
@click.option("--slot", multiple=True, metavar="READING", help=f"A slot, inside. {_EACH}")
@click.option("--tab", multiple=True, metavar="READING", help=f"A straight-sided part, outside. {_EACH}")
@click.option("--gap", default="", metavar="READING", help="Beside the ten blocks pushed together in the window.")
@click.option("--across", default="", metavar="READING", help="From cross to cross; or another line: 99.7 mm of 80 mm.")
@click.option("--along", default="", metavar="READING", help="Likewise, along.")
@click.option(
    "--with",
    "instrument",
    default="",
    metavar="WHAT",
    help="shanks, caliper, micrometer or rule. [default: shanks inside, caliper outside, rule for lengths]",
)
@click.option("--date", default="", metavar="DATE", help="The day you tried it, such as 2026-11-25.")
@click.option("--save-anyway", is_flag=True, help="Save it even if an older record is better.")
@details_option
@bench_option
def command(bench_dir: str, details: bool, save_anyway: bool, **given: Any) -> None:
    """Records a machine from what its coupon reads, cut or printed uncorrected.

    A hole tried with shanks lies between two: the thickest that goes in and the next that does not. Each reading may
    name its own tool: "7.86 mm of 8 mm by micrometer". The gap of the row of blocks alone tells a kerf to 0.01 mm.

    \b
      coilwright machine measure "school laser" --material acrylic --material-thickness "3 mm" --gap "1.9 mm..2 mm"
      coilwright machine measure "school laser" --material acrylic --material-thickness "3 mm" \\
          --hole "4.1 mm..4.2 mm of 4 mm" --hole "5.2 mm..5.3 mm of 5.025 mm" --pin "7.82 mm of 8 mm"
      coilwright machine measure "class printer" --kind 3d-printer --material PLA --hole "4.7 mm..4.8 mm of 5 mm"
    """
    from jigs.actions.machine import CouponReadings, measure_machine
    from jigs.reports.machine import machine_report

    if not given["material"]:
        raise OutOfRange(f"machine measure lacks {option('material')}", "give what was cut, such as acrylic")
    kept = measure_machine(CouponReadings(**given), bench_path(bench_dir), save_anyway=save_anyway)
    say(machine_report(kept.machine, details=details))
    for doubt in kept.doubts:
        click.echo(f"Note: {doubt}.", err=True)
    click.echo(f"\n{'Replaced' if kept.replaced else 'Saved'} {kept.machine} in {kept.folder}")
    click.echo(f'Correct what you make on it with --machine "{kept.machine.name}".')
