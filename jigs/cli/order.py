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
@click.option(
    "--for",
    "whom",
    type=click.Choice(("class", "one")),
    default="class",
    show_default=True,
    help="A class, or one maker.",
)
@click.option(
    "--units", type=click.Choice(["mm", "inch"]), help="How its lengths are said; left out, as your bench has it."
)
def new(file: str, whom: str, units: str | None) -> None:
    """Writes a commented order to fill in, for a class or for one maker.

    It is a chain bracelet and shows every key that there is; `coilwright plan` reads it as it is. A file that is there
    already is left alone.

    \b
      coilwright order new bracelet.toml
      coilwright order new earrings.toml --for one
      coilwright plan bracelet.toml
    """
    from jigs.actions.order import new_order

    path = Path(file)
    new_order(path, for_class=whom == "class", units=units or "")
    click.echo(f"wrote {path}")
    click.echo(f"Change it in any editor, then: coilwright plan {path}")
