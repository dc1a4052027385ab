"""The command `order`: a new order to fill in."""

from __future__ import annotations

from pathlib import Path

import click

from layouts.errors import FileRefused


@click.group("order")
def command() -> None:
    """An order: what is made, for how many, of which wire.

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
    from jigs.orders.example import example
    from layouts.files.whole import write_whole

    path = Path(file)
    if path.suffix != ".toml":
        raise FileRefused(f"{path.name} would be no TOML file", f"name it {path.stem or 'order'}.toml")
    if path.exists():
        raise FileRefused(f"{path} is there already", "give another name")
    write_whole(path, example().encode(), remedy="give another FILE, in a folder that you can write in")
    click.echo(f"wrote {path}")
    click.echo(f"Change it in any editor, then: coilwright plan {path}")
