"""The command `machine show`."""

from __future__ import annotations

from datetime import date

import click

from jigs.bench.place import bench_path
from jigs.cli.answers import details_option, json_option, say
from jigs.cli.bench_folder import bench_option
from jigs.cli.machine.which import which_machine


@click.command("show")
@which_machine
@details_option
@json_option
@bench_option
def command(name: str, material: str, thickness: str, details: bool, as_json: bool, bench_dir: str) -> None:
    """One machine: what sizes gain by it, by what that is known, and what a corrected size is good for.

    \b
      coilwright machine show "school laser"
      coilwright machine show "school laser" --material acrylic --material-thickness "3 mm"
      coilwright machine show "school laser" --details
    """
    from jigs.actions.machine import find_machine
    from jigs.reports.machine import machine_report

    machine = find_machine(bench_path(bench_dir), name, material, thickness)
    say(machine_report(machine, details=details), as_json=as_json)
    for warning in machine.warnings(date.today()):
        click.echo(f"Note: {warning}.", err=True)
