"""The command `bench`: where one user's things are kept, and what there is."""

from __future__ import annotations

import click

from jigs.bench.place import bench_path
from jigs.cli.answers import json_option, say
from jigs.cli.bench_folder import bench_option
from jigs.cli.lazy import LazyGroup


@click.group(
    "bench",
    cls=LazyGroup,
    package="jigs.cli.bench",
    commands={
        "add": "What you own: a mandrel, a drill, a blade, a spool of wire, an instrument.",
        "forget": "Take one of them out again.",
        "units": "Millimetres or inches, for everything that is made here.",
    },
    invoke_without_command=True,
)
@bench_option
@json_option
@click.pass_context
def command(context: click.Context, bench_dir: str, as_json: bool) -> None:
    """Where your bench folder is, and what is in it.

    \b
      coilwright bench
      coilwright bench --json
      COILWRIGHT_BENCH=./class coilwright bench
    """
    if context.invoked_subcommand is not None:
        return
    from jigs.actions.bench import show_bench
    from jigs.reports.bench import bench_report

    folder = bench_path(bench_dir)
    files = show_bench(folder)
    say(bench_report(folder, [(file.name, file.entries) for file in files]), as_json=as_json)
    for fault in (file.fault for file in files if file.fault):
        raise fault
    if not as_json:
        if not files:
            click.echo("  nothing yet; `coilwright printer measure` keeps a printer there")
        click.echo("The files are plain text (TOML): read and edit them as you like; comments stay.")
