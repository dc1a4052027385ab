"""Scans of simulated prints: the sheet, what lies on it, the picture, and how far off it is read."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache, lru_cache
from pathlib import Path

from click.testing import CliRunner
from PIL import Image
from simulated_printer import Card, Press, Scanner, SteelRule, Thing, printed_at, scanned

from jigs.cli import cli
from layouts.pages.page import Page, Setup
from layouts.pages.paper import find_paper
from layouts.pages.sheet import compose
from layouts.printing.check_sheet import printer_check, target_on
from layouts.printing.printer import Printer
from layouts.printing.printers import Printers
from layouts.scanning.picture import Picture, Resolution
from layouts.scanning.reading import Scan, read_scan
from layouts.scanning.target import Target

CLEAN_MM, CLEAN_PPM = 0.01, 20.0  # wanted of a clean scan at 600 dpi
ROUGH_MM = 0.02  # with blur, noise and grown ink
PRESS = Press(across=0.981, along=1.017, skew_deg=0.4, ink_mm=0.03)
TURNED = Scanner(rotation_deg=0.8, shift_mm=(2.5, -1.5))


@cache
def page(paper: str = "a4", landscape: bool = False, printer: Printer | None = None) -> Page:
    (only,) = compose(printer_check(), Setup(paper=find_paper(paper, landscape=landscape), printer=printer))
    return only


@cache
def target(paper: str = "a4", landscape: bool = False) -> Target:
    return target_on(find_paper(paper, landscape=landscape))


@lru_cache(maxsize=6)  # 35 MB each at 600 dpi
def shot(press: Press, scanner: Scanner, things: tuple[Thing, ...] = (), paper: str = "a4") -> Image.Image:
    return scanned(page(paper), press, scanner, things)


def read(image: Image.Image, dpi: float = 600, lying: str = "", paper: str = "a4", landscape: bool = False) -> Scan:
    return read_scan(picture(image, dpi), target(paper, landscape), lying)


def picture(image: Image.Image, dpi: float) -> Picture:
    return Picture(image=image, resolution=Resolution(across=dpi, along=dpi))


def off_ppm(scan: Scan, press: Press) -> float:
    return 1e6 * max(abs(scan.fit.across / press.across - 1), abs(scan.fit.along / press.along - 1))


def off_mm(scan: Scan, press: Press) -> float:
    """The farthest that a corner of the rectangle of the markers is from its true place, turn and shift aside."""
    (width, height), fit = scan.target.span_mm, scan.fit
    lean = math.sin(math.radians(fit.skew_deg)), math.cos(math.radians(fit.skew_deg))
    x, y = fit.across * width / 2, fit.along * height / 2
    true = press.matrix
    return max(
        math.hypot(
            sx * x + sy * y * lean[0] - sx * true.a * width / 2 - sy * true.c * height / 2,
            sy * y * lean[1] - sy * true.d * height / 2,
        )
        for sx, sy in ((1, 1), (1, -1))
    )


def card_on_the_sheet(press: Press, dx: float = 3.0, dy: float = 2.0, turn: float = -1.5, shade: float = 90) -> Card:
    box = target().card
    assert box
    x, y = printed_at(page(), press)((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
    return Card(middle_mm=(x + dx, y + dy), turn_deg=turn, shade=shade)


def rule_on_the_sheet(press: Press, dx: float = 1.3, dy: float = 0.4, turn: float = 0.7, **more: bool) -> SteelRule:
    line = target().rule
    assert line
    x, y = printed_at(page(), press)((line.x1 + line.x2) / 2, line.y1)
    return SteelRule(through_mm=(x + dx, y + dy), turn_deg=turn, **more)


# --------------------------------------------------------------------------------------- pictures that are no use


def small(scanner: Scanner = TURNED) -> Image.Image:
    return shot(PRESS, replace(scanner, dpi=300))


# ---------------------------------------------------------------------------------------------------------- files


def saved(path: Path, image: Image.Image, **how: object) -> Path:
    image.save(path, **({"compress_level": 1} | how))  # packing a PNG tightly takes longer than reading it
    return path


# ------------------------------------------------------------------------------------------- from print to print


def command(folder: Path, image: str, *more: str) -> str:
    words = [
        "printer",
        "scan",
        str(folder / image),
        "office",
        "--tray",
        "plain 80 g",
        "--bench",
        str(folder / "bench"),
    ]
    done = CliRunner().invoke(cli, [*words, *more], standalone_mode=False)
    if done.exception:
        raise done.exception
    return done.output


def record(folder: Path) -> Printer:
    from layouts.files.folder import Folder

    return Printers(folder=Folder(path=folder / "bench")).find("office")
