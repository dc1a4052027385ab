"""The command `bench`: where one user's things are kept, and what there is."""

from __future__ import annotations

import click

from jigs.cli.bench_folder import bench_folder, bench_option
from jigs.cli.lazy import LazyGroup


@click.pass_context
def _show(context: click.Context, bench_dir: str) -> None:
    """Says it, when no command of the group is called."""
    if context.invoked_subcommand is not None:
        return
    from layouts.errors import FileRefused

    folder, damaged = bench_folder(bench_dir), None
    click.echo(f"Your bench folder: {folder.path}")
    for path in folder.files():
        try:
            click.echo(f"  {path.name}: {_entries(folder.read(path.name).data)}")
        except FileRefused as error:
            click.echo(f"  {path.name}: damaged")
            damaged = damaged or error
    if damaged:
        raise damaged
    if not folder.files():
        click.echo("  nothing yet; `coilwright printer measure` keeps a printer there")
    click.echo("The files are plain text (TOML): read and edit them as you like; comments stay.")


def _entries(data: object) -> str:
    """'2 entries': the tables of a file, those in a list each by itself."""
    from collections.abc import Mapping

    values = data.values() if isinstance(data, Mapping) else ()
    count = sum(len(value) if isinstance(value, list) else 1 for value in values)
    return f"{count} {'entry' if count == 1 else 'entries'}"


command = LazyGroup(
    name="bench",
    package="jigs.cli.bench",
    commands={
        "add": "What you own: a mandrel, a drill, a blade, a spool of wire.",
        "forget": "Take one of them out again.",
    },
    invoke_without_command=True,
    callback=_show,
    help="""Where your bench folder is, and what is in it.

\b
  coilwright bench
  coilwright bench --bench ./class
  COILWRIGHT_BENCH=./class coilwright bench
""",
)
command = bench_option(command)  # type: ignore[assignment]
