"""The command `order`: a new order to fill in."""

from __future__ import annotations

from pathlib import Path

import click


@click.group("order")
def command() -> None:
    """An order: what is made, for how many, from which wire.

    \b
      coilwright order new bracelet.toml
      coilwright plan bracelet.toml
    """


@command.command("new")
@click.argument("file", metavar="FILE")
def new(file: str) -> None:
    """Writes a commented order to fill in: an evening class making a chain bracelet.

    It is complete: `coilwright plan` reads it as it is. A file that is there already is left alone.

    \b
      coilwright order new bracelet.toml
      coilwright order new orders/earrings.toml
      coilwright plan bracelet.toml
    """
    from jigs.actions.order import new_order

    path = Path(file)
    new_order(path)
    click.echo(f"wrote {path}")
    click.echo(f"Change it in any editor, then: coilwright plan {path}")
