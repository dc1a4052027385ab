"""The command `printer list`."""

from __future__ import annotations

import click

from jigs.cli.bench_folder import bench_option, printers
from jigs.cli.columns import columns


@click.command("list")
@bench_option
def command(bench_dir: str) -> None:
    """Every printer that was measured, with its factors.

    \b
      coilwright printer list
      coilwright printer list --bench ./class
      COILWRIGHT_BENCH=./class coilwright printer list
    """
    kept = printers(bench_dir)
    known, default = kept.all(), kept.default()
    if not known:
        click.echo("No printer was measured yet: coilwright printer measure NAME --stock TEXT")
        return
    rows = [
        (
            printer.name,
            printer.stock,
            f"{printer.across_factor:.4f}",
            f"{printer.along_factor:.4f}",
            printer.instrument,
            printer.date or "no date",
            "default" if printer == default else "",
        )
        for printer in known
    ]
    click.echo(columns(("printer", "stock", "across", "along", "with", "measured", ""), rows))
