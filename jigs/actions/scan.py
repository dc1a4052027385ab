"""A printer measured from a scan of its printer-check sheet."""

from __future__ import annotations

import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from layouts.errors import FileRefused, OutOfRange, Refusal, printable
from layouts.files.whole import Allow, never, write_outputs
from layouts.pages.paper import find_paper
from layouts.printing.check_sheet import SHEET, target_on
from layouts.printing.scanned import record_of

if TYPE_CHECKING:
    from layouts.printing.printer import Printer
    from layouts.scanning.ink import Ink
    from layouts.scanning.reading import Scan
    from layouts.scanning.reversal import Turned


@dataclass(frozen=True, slots=True, kw_only=True)
class Scanned:
    """What a picture shows, or two with the sheet turned in between; and the printer: to look at, and to keep.

    The ink is that of the first picture, or why it cannot be read.
    """

    scan: Scan | Turned
    ink: Ink | str
    printer: Printer


def scan_printer(
    *images: Path,
    name: str,
    tray: str,
    lying: str = "",
    paper: str = "a4",
    landscape: bool = False,
    dpi: float = 0.0,
    date: str = "",
) -> Scanned:
    """The printer that a picture of its printer-check sheet shows, or two; it is not kept yet.

    Of two pictures the sheet was turned by about a quarter between them, which separates the scanner from the printer.
    lying: what lies on the sheet, card, rule or none; empty to find out. dpi: dots in an inch; 0 as the file says.
    Refuses (`Refusal`) a picture that is not clear, and what a printer cannot be.
    """
    from layouts.scanning import scan_of, turned_of

    if not 1 <= len(images) <= 2:
        raise OutOfRange(f"{len(images)} pictures of a sheet", "give one, or two with the sheet turned by a quarter")
    sheet = find_paper(paper, landscape=landscape)
    target = target_on(sheet)
    scan: Scan | Turned = (
        scan_of(images[0], target, dpi=dpi, lying=lying)
        if len(images) == 1
        else turned_of(images[0], images[1], target, dpi=dpi, lying=lying)
    )
    ink = scan.pictures[0].read_ink()
    printer = record_of(
        scan,
        name=name,
        tray=tray,
        date=date,
        sheet=SHEET,
        paper=sheet,
        ink=None if isinstance(ink, str) else ink,
    )
    return Scanned(scan=scan, ink=ink, printer=printer)


def scan_pictures(pictures: Sequence[tuple[str, bytes]], **given: Any) -> Scanned:
    """The same of pictures that are in no file of ours, by their names; they are put away when they are read."""
    with tempfile.TemporaryDirectory(prefix="coilwright-") as folder:
        paths = []
        for number, (name, data) in enumerate(pictures, 1):
            paths.append(Path(folder) / f"{number}{_plain_ending(name)}")
            paths[-1].write_bytes(data)
        try:
            return scan_printer(*paths, **given)
        except Refusal as refusal:
            for path, (name, _) in zip(paths, pictures, strict=True):
                words = printable(name[:80]) or "the picture"
                refusal.problem = refusal.problem.replace(str(path), words).replace(path.name, words)
                refusal.remedy = refusal.remedy.replace(str(path), words)
            raise


def _plain_ending(name: str) -> str:
    ending = Path(name).suffix.casefold()
    return ending if ending.isascii() and ending[1:].isalnum() and len(ending) <= 6 else ""


def picture_of(found: Scanned) -> bytes:
    """A PNG of the scan with everything that was found in it."""
    from jigs.reports.scan import scan_lines
    from layouts.scanning.annotating import annotated

    return annotated(found.scan.pictures[0], list(scan_lines(found.scan, found.ink)))


def check_picture(path: Path) -> None:
    """Refuses (`FileRefused`) a name for a picture of what was found that does not end as a PNG does."""
    if path.suffix.lower() != ".png":
        raise FileRefused(f"{path.name} is not named as a PNG", "give a name that ends in .png", field="picture")


def draw_findings(found: Scanned, path: Path, may_overwrite: Allow = never) -> None:
    """Writes a PNG of the scan with everything that was found in it."""
    from layouts.files.seal import sealed

    check_picture(path)
    write_outputs([(path, sealed(picture_of(found), "png"))], may_overwrite)
