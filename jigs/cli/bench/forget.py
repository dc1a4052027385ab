"""The command `bench forget`: takes back what `bench add` wrote."""

from __future__ import annotations

from typing import Any

import click

from jigs.cli.bench.add import checker, named_folder
from jigs.cli.bench_folder import bench_folder, bench_option
from layouts.errors import QuantityRefused, UnknownName, shown


@click.command("forget")
@click.argument("kind", type=click.Choice(("mandrel", "drill", "blade", "spool")))
@click.argument("name")
@bench_option
def command(kind: str, name: str, bench_dir: str | None) -> None:
    """Takes a thing out of the bench folder; comments and order of the others stay.

    \b
      coilwright bench forget mandrel "rod 7"
      coilwright bench forget blade 2/0
      coilwright bench forget spool "blue reel" --bench ./class
    """

    def change(document: Any) -> None:
        if not len(document):
            raise QuantityRefused(f"no {kind} is called {shown(name.strip())}", "there is none on this bench")
        if name.strip() not in document:
            raise UnknownName(kind, name.strip(), list(document))
        del document[name.strip()]

    folder = bench_folder(named_folder(bench_dir))
    folder.edit(f"{kind}s.toml", change, checker(kind))
    click.echo(f"forgot {kind} {name.strip()}")
