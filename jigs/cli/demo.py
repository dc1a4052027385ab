"""The command `demo`: the order of an invented small class, its sheets and pack, and the numbers behind them."""

from __future__ import annotations

from pathlib import Path

import click

from jigs.cli.answers import say
from jigs.cli.completing import complete_papers
from jigs.cli.overwriting import may_overwrite, overwrite_option
from layouts.errors import listed
from layouts.pages.paper import papers

_STORY = """An evening class of eight seats makes a bronze chain bracelet with a toggle clasp: 400 rings, 5.0 mm inside,
of 1.2 mm phosphor bronze, and a few clasp rings of 1.6 mm wire wound on a wooden dowel.
"""
_HOW_TO_PRINT = """
How to print: choose "actual size" or 100 %, never "fit" or "shrink". Print the printer check first; let it rest a few
minutes; lay a steel rule on both check bars. They must read 100 mm across and along. If they do not, change the
setting. Every other sheet carries the same bars.

The chain rings of one seat, spares among them, from the mandrel to the closed ring:
"""


@click.command("demo")
@click.option(
    "--paper",
    shell_complete=complete_papers,
    default="a4",
    metavar="NAME",
    show_default=True,
    help=f"{listed(papers())}.",
)
@click.option("--out", default="out", metavar="DIR", show_default=True, help="The folder to write into.")
@overwrite_option
def command(paper: str, out: str) -> None:
    """An order with its sheets and its pack, for a small class, and the numbers behind them.

    \b
      coilwright demo
      coilwright demo --paper letter
      coilwright demo --out bench
    """
    from jigs.actions.demo import make_demo
    from jigs.cli.output import say_written
    from jigs.cli.progress import ProgressBar
    from jigs.reports.contents import contents
    from jigs.reports.ring import ring_report

    with ProgressBar() as bar:
        demo = make_demo(Path(out), paper, bar.show, may_overwrite)
    click.echo(_STORY)
    change = f"the order: change it, then `coilwright pack {demo.order}`"
    kept = "you have changed it, so it stays; the demo uses its own"
    click.echo(f"{demo.order}  {kept if demo.order_was_kept else change}")
    for path, purpose in demo.sheets:
        click.echo(f"{path}  {purpose}")
    missing = f"No previews: {demo.without_previews}."
    click.echo(missing if demo.without_previews else f"The same as SVG, and as PNG previews, in {out}.")
    click.echo("\nThe pack of the order, everything for the bench as one print job:")
    say(contents(demo.packed.pack.entries).pick("pages", "sheet", "on", "use"))
    for words in demo.packed.pack.left_out:
        click.echo(f"Left out: {words}")
    say_written(demo.packed.paths)
    click.echo(_HOW_TO_PRINT)
    say(ring_report(demo.batch), demo.batch.cautions)
