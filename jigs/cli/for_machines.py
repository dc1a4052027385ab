"""What the commands `cut` and `solid` share: the machine that it is for, and what is said of the files."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from jigs.cli.completing import complete_machines

if TYPE_CHECKING:
    from jigs.actions.cut import Cut
    from jigs.actions.solid import Built


def machine_option() -> click.Option:
    """The option that names a machine which was measured."""
    return click.Option(
        ["--machine"],
        shell_complete=complete_machines,
        default="",
        metavar="NAME",
        help="Corrects it for this machine, as its coupon was tried.",
    )


def say_made(made: Cut | Built, check: str) -> None:
    """Warnings, the machine, what to heed, where the files are; last what to check before the machine starts."""
    for warning in made.warnings:
        click.echo(f"warning: {warning}", err=True)
    if made.machine:
        click.echo(f"Corrected for {made.machine}.", err=True)
    for note in made.notes:
        click.echo(f"Note: {note}.", err=True)
    for caution in made.cautions:
        click.echo(f"Caution: {caution}", err=True)
    for path in made.paths:
        click.echo(f"wrote {path}")
    click.echo(f"Millimetres, at 100 %{check}")
