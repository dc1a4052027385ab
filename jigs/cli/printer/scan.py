"""The command `printer scan`: a picture of the printer-check sheet in, a record out."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from jigs.cli.bench_folder import bench_option
from jigs.cli.printer.measure import keep
from layouts.errors import FileRefused

if TYPE_CHECKING:
    from layouts.scanning.reading import Scan


@click.command("scan")
@click.argument("image", metavar="IMAGE")
@click.argument("name", metavar="NAME")
@click.option("--stock", required=True, metavar="TEXT", help='The paper or card it is printed on, as "plain 80 g".')
@click.option(
    "--with",
    "lying",
    default="",
    metavar="WHAT",
    help="What lies on the sheet: card, rule or none. [default: found out]",
)
@click.option("--paper", default="a4", metavar="NAME", show_default=True, help="Of the sheet that was scanned.")
@click.option("--landscape", is_flag=True, help="The sheet that was scanned has its long side across.")
@click.option("--dpi", type=float, default=0.0, metavar="N", help="Dots in an inch. [default: as the file says]")
@click.option("--picture", default="", metavar="FILE", help="Also write a PNG that shows what was found.")
@click.option("--date", "day", default="", metavar="DATE", help="The day you scanned, such as 2026-11-25.")
@click.option("--save-anyway", is_flag=True, help="Save although a print setting explains the readings.")
@bench_option
def command(
    image: str,
    name: str,
    stock: str,
    lying: str,
    paper: str,
    landscape: bool,
    dpi: float,
    picture: str,
    day: str,
    save_anyway: bool,
    bench_dir: str,
) -> None:
    """Records a printer from a scan of its printer-check sheet: across, along, skew and ink in one go.

    Scan the whole sheet on a flatbed, as PNG, JPEG or TIFF, at 300 or 600 dpi. A scanner is not true either: lay a
    bank card near its outline, a little turned, or a steel rule's millimetres on the dashes, between sheet and glass.

    \b
      coilwright printer scan scan.png office --stock "plain 80 g"
      coilwright printer scan scan.png office --stock "plain 80 g" --with card --picture found.png
      coilwright printer scan scan.tif office --stock card --paper letter --dpi 600
    """
    from layouts.pages.paper import find_paper
    from layouts.printing.check_sheet import SHEET, target_on
    from layouts.printing.scanned import record_of
    from layouts.scanning import scan_of

    if picture and not picture.lower().endswith(".png"):
        raise FileRefused(f"--picture {Path(picture).name} is no PNG", "give a name that ends in .png")
    sheet = find_paper(paper, landscape=landscape)
    scan = scan_of(Path(image), target_on(sheet), dpi=dpi, lying=lying)
    printer = record_of(scan, name=name, stock=stock, date=day, sheet=SHEET, paper=sheet)
    found = list(seen(scan))
    for line in (*found, ""):
        click.echo(line)
    if scan.is_relative:
        click.echo(f"Note: {_RELATIVE}.", err=True)
    keep(printer, bench_dir, save_anyway=save_anyway)
    if picture:
        _write_picture(scan, found, Path(picture))


_RELATIVE = (
    "nothing lies on the sheet to check the scanner by, so the result is relative: across against along is sure, "
    "the size is the scanner's; lay a bank card or a steel rule on the sheet"
)


def seen(scan: Scan) -> Iterator[str]:
    """What was found in a scan, in lines."""
    fit, resolution = scan.fit, scan.picture.resolution
    yield f"eight markers found, turned {fit.rotation_deg:+.2f} degrees{_upside_down(scan)}"
    yield f"residuals: {fit.rms_mm:.4f} mm (root mean square), at most {fit.most_mm:.4f} mm"
    yield f"edges: {scan.edge_mm:.2f} mm soft"
    yield f"resolution: {resolution.across:g} dpi by {resolution.given}"
    if scan.yardstick:
        across, along = scan.yardstick.across, scan.yardstick.along
        yield f"scale: by the {scan.yardstick.name}; the picture times {across:.5f} across, {along:.5f} along"
    else:
        yield "scale: the scanner's own, not checked"
    yield f"printed over drawn: across {fit.across:.5f}, along {fit.along:.5f}, leaning {fit.skew_deg:+.3f} degrees"
    yield f"ink: every edge grows by {scan.spread_mm:+.4f} mm"


def _upside_down(scan: Scan) -> str:
    return ": it lay upside down, and is read so" if scan.is_upside_down else ""


def _write_picture(scan: Scan, lines: list[str], path: Path) -> None:
    from layouts.files.whole import write_whole
    from layouts.scanning.annotating import annotated

    write_whole(path, annotated(scan, lines), remedy="give another --picture")
    click.echo(f"wrote {path}")
