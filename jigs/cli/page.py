"""The command `page`: everything in a browser, on this machine alone."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from jigs.bench.place import bench_path
from jigs.cli.bench_folder import bench_option
from jigs.cli.quantities import COUNT

if TYPE_CHECKING:
    from jigs.page.serving import Started


@click.command("page")
@click.option("--no-browser", is_flag=True, help="Only print the address.")
@click.option(
    "--port", type=COUNT, metavar="NUMBER", default=0, help="A port of your own. [default: 7370, or any free]"
)
@click.option("--launcher", is_flag=True, help="Write a file to double-click into this folder, and start nothing.")
@click.option(
    "--orders", default="", metavar="DIR", help="Your orders. [default: the folder orders in the bench folder]"
)
@bench_option
def command(no_browser: bool, port: int, launcher: bool, orders: str, bench_dir: str) -> None:
    """Everything in your browser: sizes, sheets, and the numbers behind them.

    It runs on this machine alone, without a network. Close it with its own button, or with Ctrl-C here.

    \b
      coilwright page
      coilwright page --no-browser --port 7400
      coilwright page --launcher
    """
    if launcher:
        from jigs.actions.launcher import write_launcher

        named = {"--bench": bench_dir, "--orders": orders}
        more = [word for key, path in named.items() if path for word in (key, str(Path(path).expanduser().absolute()))]
        path = write_launcher(Path(), [sys.executable, "-m", "jigs", "page", *more], sys.platform)
        click.echo(f"wrote {path}")
        click.echo("Double-click it, here or wherever you move it: the page opens.")
        return
    from jigs.page.serving import run_page

    def started(found: Started) -> None:
        click.echo("The page is open already:" if found.was_running else "The page is open; Ctrl-C here closes it:")
        click.echo(found.address)
        if not no_browser:
            import webbrowser

            webbrowser.open(found.address)

    bench = bench_path(bench_dir)
    run_page(bench, Path(orders).expanduser() if orders else bench / "orders", started, port=port)
