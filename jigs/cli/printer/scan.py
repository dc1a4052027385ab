"""The command `printer scan`: a picture of the printer-check sheet in, a record out."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from jigs.bench.place import bench_path
from jigs.cli.answers import details_option
from jigs.cli.bench_folder import bench_option
from jigs.cli.completing import complete_papers, complete_printers
from jigs.cli.overwriting import may_overwrite, overwrite_option
from jigs.cli.printer.measure import say_kept
from jigs.cli.quantities import NUMBER


@click.command("scan")
@click.argument("images", metavar="IMAGE [IMAGE]", nargs=-1, required=True)
@click.argument("name", metavar="NAME", shell_complete=complete_printers)
@click.option("--tray", required=True, metavar="TEXT", help='The paper or card it is printed on, such as "plain 80 g".')
@click.option(
    "--with",
    "lying",
    default="",
    metavar="WHAT",
    help="What lies on the sheet: card, rule or none. [default: as the picture shows]",
)
@click.option(
    "--paper",
    shell_complete=complete_papers,
    default="a4",
    metavar="NAME",
    show_default=True,
    help="Of the sheet that was scanned.",
)
@click.option("--landscape", is_flag=True, help="The sheet that was scanned has its long side across.")
@click.option("--dpi", type=NUMBER, default=0.0, metavar="N", help="Dots in an inch. [default: as the file says]")
@click.option("--picture", default="", metavar="FILE", help="Also write a PNG that shows what was found.")
@click.option("--date", default="", metavar="DATE", help="The day you scanned, such as 2026-11-25.")
@click.option("--save-anyway", is_flag=True, help="Save it even if the readings look wrong.")
@overwrite_option
@details_option
@bench_option
def command(
    images: tuple[str, ...], picture: str, save_anyway: bool, details: bool, bench_dir: str, **given: Any
) -> None:
    """Records a printer from a scan of its printer-check sheet: across, along, skew and ink in one go.

    Scan the whole sheet on a flatbed, as PNG, JPEG or TIFF, at 300 or 600 dpi. A scanner is not true either: lay a
    bank card near its outline, a little turned, or a steel rule's millimetres on the dashes, between sheet and glass.

    Two scans of one sheet, turned by a quarter in between, tell the scanner's faults from the printer's: give both.

    \b
      coilwright printer scan scan.png office --tray "plain 80 g"
      coilwright printer scan scan.png office --tray "plain 80 g" --with card --picture found.png
      coilwright printer scan upright.png turned.png office --tray "plain 80 g"
      coilwright printer scan scan.tif office --tray card --paper letter --dpi 600
    """
    from jigs.actions.printer import keep_printer
    from jigs.actions.scan import check_picture, draw_findings, scan_printer
    from jigs.reports.scan import scan_doubts, scan_lines

    if picture:
        check_picture(Path(picture))
    found = scan_printer(*map(Path, images), **given)
    try:
        kept = keep_printer(found.printer, bench_path(bench_dir), save_anyway=save_anyway)
    finally:  # kept before anything is said, as a closed pipe ends the program; and said when it was not kept
        for line in (*scan_lines(found.scan, found.ink), ""):
            click.echo(line)
        for doubt in scan_doubts(found.scan):
            click.echo(f"Note: {doubt}.", err=True)
    say_kept(kept, details=details)
    if picture:
        draw_findings(found, Path(picture), may_overwrite)
        click.echo(f"wrote {picture}")
