"""The command `machine forget`."""

from __future__ import annotations

import click

from jigs.bench.place import bench_path
from jigs.cli.bench_folder import bench_option
from jigs.cli.machine.which import which_machine


@click.command("forget")
@which_machine
@bench_option
def command(name: str, material: str, thickness: str, bench_dir: str) -> None:
    """Deletes a machine's record in one material.

    \b
      coilwright machine forget "school laser"
      coilwright machine forget "school laser" --material acrylic
      coilwright machine forget "school laser" --material acrylic --material-thickness "3 mm"
    """
    from jigs.actions.machine import forget_machine

    click.echo(f"Deleted {forget_machine(bench_path(bench_dir), name, material, thickness)}")
