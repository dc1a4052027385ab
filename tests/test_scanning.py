"""A scan read back: what a simulated printer did, within the figures; and a reason for every picture that is no use.

Each truth is the distortion that the simulation was given. Pictures are made here and kept nowhere.
"""

from __future__ import annotations

import io
import itertools
import math
import os
import time
from collections.abc import Callable
from dataclasses import replace
from functools import cache, lru_cache
from pathlib import Path

import every_sheet
import numpy as np
import picture_mutants
import pytest
from click.testing import CliRunner
from every_sheet import Case
from PIL import Image, ImageFilter
from simulated_printer import Card, Press, Scanner, SteelRule, Thing, printed_at, scanned

from jigs.cli import cli
from jigs.reports.scan import scan_lines
from layouts.drawing.marks import Circle, Polyline
from layouts.drawing.pens import Role
from layouts.errors import FileRefused, MissingLibrary, OutOfRange, ScanRefused, UnknownName
from layouts.pages.page import Page, Setup
from layouts.pages.paper import find_paper
from layouts.pages.sheet import compose
from layouts.printing.check_sheet import SHEET, markers_on, printer_check, target_on
from layouts.printing.printer import Printer
from layouts.printing.printers import Printers
from layouts.printing.scanned import record_of
from layouts.scanning import scan_of
from layouts.scanning.ink import Ink
from layouts.scanning.picture import Picture, Resolution, load
from layouts.scanning.reading import Scan, read_scan
from layouts.scanning.target import Stripes, Target

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
    return read_scan(_picture(image, dpi), target(paper, landscape), lying)


def _picture(image: Image.Image, dpi: float) -> Picture:
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


# ----------------------------------------------------------------------------------------------------- the target


@pytest.mark.parametrize("paper", ["a4", "letter", "a5", "a3", "legal"])
@pytest.mark.parametrize("landscape", [False, True])
def test_the_target_is_what_the_sheet_says_of_its_markers(paper: str, landscape: bool) -> None:
    told = markers_on(find_paper(paper, landscape=landscape))
    found = target(paper, landscape)
    assert [at for marker in told for at in (marker.x_mm, marker.y_mm)] == pytest.approx(sum(found.discs, ()))
    assert (told[0].diameter_mm / 2, told[0].hole_mm / 2) == (found.radius_mm, found.hole_mm)


def test_the_target_knows_the_place_of_a_card_and_of_a_rule() -> None:
    box, line = target().card, target().rule
    assert box
    assert line
    assert box[2] - box[0] == pytest.approx(85.60)  # ISO/IEC 7810 ID-1
    assert box[3] - box[1] == pytest.approx(53.98)
    assert box[0] < line.x1 < line.x2 < box[2]
    assert line.y1 == line.y2


def test_a_target_with_too_few_markers_or_stripes_out_of_order_is_refused() -> None:
    with pytest.raises(OutOfRange, match="a sheet with 5 markers for a scan; give it 6 to 16"):
        replace(target(), discs=target().discs[:5])
    with pytest.raises(OutOfRange, match="stripes that are not in order"):
        Stripes(box=(0, 0, 5, 5), upright=True, ink=((2, 3), (1, 1.5)))


@pytest.mark.parametrize("paper", ["a4", "letter", "a5", "legal"])
@pytest.mark.parametrize("landscape", [False, True])
def test_the_target_fits_the_glass_of_a_scanner_turned_and_not(paper: str, landscape: bool) -> None:
    """216 mm is the short side of the glass of an A4 scanner; the sheet lies within 1 degree, on a print of 102 %."""
    found = target(paper, landscape)
    assert max(found.span_mm) + 2 * found.radius_mm < (216 - 297 * math.sin(math.radians(1))) / 1.02
    assert found.card
    xs, ys = zip(*found.discs, strict=True)
    middle = (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
    assert max(abs(edge - middle[way % 2]) for way, edge in enumerate(found.card)) < 216 / 2 + 4


@pytest.mark.parametrize("paper", ["a4", "letter", "a3", "legal"])
def test_a_rule_of_30_mm_hides_no_marker_of_an_upright_sheet(paper: str) -> None:
    found = target(paper)
    assert found.rule
    assert min(abs(found.rule.y1 - y) - found.radius_mm for _, y in found.discs) > 30


def test_the_stripes_are_the_bars_that_the_sheet_shows() -> None:
    bars = [m.box for m in page().marks() if isinstance(m, Polyline) and m.filled]
    for stripes in target().stripes:
        way = 0 if stripes.upright else 1
        inside = [box for box in bars if all(stripes.box[n] <= box[n] <= stripes.box[n + 2] for n in (0, 1))]
        edges = [edge for pair in sorted((box[way], box[way + 2]) for box in inside) for edge in pair]
        assert edges == pytest.approx([edge for pair in stripes.ink for edge in pair])
    thinnest = min(b - a for stripes in target().stripes for a, b in stripes.ink)
    assert thinnest == pytest.approx(0.12)


# ------------------------------------------------------------------------------------------------------ the figures

PRESSES = (
    Press(),
    PRESS,
    Press(across=0.95, along=1.05, skew_deg=0.5),
    Press(across=1.05, along=0.95, skew_deg=-0.5, ink_mm=-0.02),
)


@pytest.mark.parametrize("press", PRESSES, ids=str)
def test_a_clean_scan_gives_scale_and_skew_within_the_figures(press: Press) -> None:
    scan = read(shot(press, replace(TURNED, rotation_deg=-1.0, shift_mm=(-3.0, 3.0))))
    assert off_ppm(scan, press) < CLEAN_PPM
    assert off_mm(scan, press) < CLEAN_MM
    assert scan.fit.skew_deg == pytest.approx(press.skew_deg, abs=0.001)
    assert scan.fit.rotation_deg == pytest.approx(-1.0, abs=0.001)
    assert scan.spread_mm == pytest.approx(press.ink_mm, abs=0.002)
    assert scan.fit.most_mm < 0.005


@pytest.mark.parametrize(("blur", "noise", "ink"), [(0.04, 3, 0.04), (0.08, 5, 0.08), (0.1, 8, -0.03)])
def test_blur_noise_and_grown_ink_stay_within_the_figures(blur: float, noise: float, ink: float) -> None:
    press = replace(PRESS, ink_mm=ink)
    scan = read(shot(press, replace(TURNED, blur_mm=blur, noise=noise)))
    assert off_mm(scan, press) < ROUGH_MM
    assert scan.spread_mm == pytest.approx(ink, abs=0.01)


@pytest.mark.parametrize("dpi", [150, 300, 1200])
def test_other_resolutions_do_nearly_as_well(dpi: int) -> None:
    scan = read(shot(PRESS, replace(TURNED, dpi=dpi)), dpi=dpi)
    assert off_mm(scan, PRESS) < CLEAN_MM
    assert scan.spread_mm == pytest.approx(PRESS.ink_mm, abs=0.005)


@pytest.mark.parametrize(  # the markers of A5 are half as far apart, so it takes twice the dots to be as sure
    ("paper", "landscape", "dpi"),
    [("letter", False, 300), ("a5", False, 600), ("a4", True, 300), ("a5", True, 600)],
)
def test_every_paper_can_be_scanned(paper: str, landscape: bool, dpi: int) -> None:
    image = scanned(page(paper, landscape), PRESS, replace(TURNED, dpi=dpi))
    scan = read(image, dpi, paper=paper, landscape=landscape)
    assert off_ppm(scan, PRESS) < CLEAN_PPM


@pytest.mark.parametrize("turn", [90, 180, 270])
def test_a_sheet_may_lie_any_way_round(turn: int) -> None:
    image = shot(PRESS, replace(TURNED, dpi=300)).rotate(turn, expand=True)
    scan = read(image, dpi=300)
    assert off_ppm(scan, PRESS) < CLEAN_PPM
    assert scan.is_upside_down == (turn == 180)


def test_light_that_falls_off_to_one_side_is_no_harm() -> None:
    image = shot(PRESS, replace(TURNED, dpi=300))
    fall = np.linspace(1.0, 0.7, image.width)[None, :]
    dim = Image.fromarray((np.asarray(image) * fall).astype(np.uint8))
    assert off_mm(read(dim, dpi=300), PRESS) < CLEAN_MM


def test_a_marker_near_the_edge_of_the_picture_is_read() -> None:
    """Half a millimetre of paper is left beside the upper right one."""
    press = Press(across=1.05, along=0.98)
    scan = read(shot(press, Scanner(dpi=300, rotation_deg=-1.0, shift_mm=(3.0, 3.0))), dpi=300)
    assert off_mm(scan, press) < CLEAN_MM


def test_the_stated_uncertainty_covers_cards_within_their_limits() -> None:
    """85.47 to 85.72 x 53.92 to 54.03 mm (from memory)."""
    for width, height in ((85.47, 53.92), (85.72, 54.03), (85.47, 54.03)):
        card = replace(card_on_the_sheet(PRESS), width_mm=width, height_mm=height)
        scan = read(shot(PRESS, replace(TURNED, dpi=200), (card,)), dpi=200)
        printer = record_of(scan, name="a", tray="b", date="", sheet=SHEET, paper=find_paper("a4"))
        for true, reading in ((PRESS.across, printer.across), (PRESS.along, printer.along)):
            assert abs(reading.ratio - true) < printer.scale_budget(reading).expanded


def test_the_comparison_can_fail() -> None:
    scan = read(shot(PRESS, TURNED))
    assert off_ppm(scan, replace(PRESS, across=PRESS.across * 1.0001)) == pytest.approx(100, abs=5)
    assert off_mm(scan, replace(PRESS, skew_deg=0.41)) == pytest.approx(0.0174, abs=0.002)


# -------------------------------------------------------------------------------------------------- card and rule


@pytest.mark.parametrize(("dx", "dy", "turn", "shade"), [(3, 2, -1.5, 90), (-3, 3, 2, 180), (-4, -3.5, 0, 40)])
def test_a_card_takes_out_the_scale_of_the_scanner(dx: float, dy: float, turn: float, shade: float) -> None:
    card = card_on_the_sheet(PRESS, dx, dy, turn, shade)
    scan = read(shot(PRESS, replace(TURNED, scale=(1.004, 0.997)), (card,)))
    assert scan.yardstick
    assert scan.yardstick.name == "card"
    assert off_ppm(scan, PRESS) < CLEAN_PPM
    assert off_mm(scan, PRESS) < CLEAN_MM


def test_a_card_in_a_rough_scan_stays_within_the_figures() -> None:
    rough = replace(TURNED, scale=(1.004, 0.997), blur_mm=0.08, noise=5)
    scan = read(shot(PRESS, rough, (card_on_the_sheet(PRESS),)))
    assert off_mm(scan, PRESS) < ROUGH_MM


@pytest.mark.parametrize(("dx", "dy", "turn"), [(0.0, 0.0, 0.0), (3.3, 1.0, -1.5), (1.1, -1.0, 2.0)])
def test_a_rule_takes_out_the_scale_of_the_scanner(dx: float, dy: float, turn: float) -> None:
    rule = rule_on_the_sheet(PRESS, dx, dy, turn)
    scan = read(shot(PRESS, replace(TURNED, scale=(1.004, 1.004)), (rule,)))
    assert scan.yardstick
    assert scan.yardstick.name == "rule"
    assert off_ppm(scan, PRESS) < CLEAN_PPM


def test_a_rule_may_lie_the_other_way_up_in_a_rough_scan() -> None:
    rough = replace(TURNED, scale=(0.996, 0.996), blur_mm=0.08, noise=5)
    scan = read(shot(PRESS, rough, (rule_on_the_sheet(PRESS, upside_down=True),)))
    assert off_mm(scan, PRESS) < ROUGH_MM


def test_without_either_the_result_is_relative() -> None:
    scan = read(shot(PRESS, replace(TURNED, scale=(1.004, 1.004))))
    assert scan.is_relative
    assert record_of(scan, name="a", tray="b", date="", sheet=SHEET, paper=find_paper("a4")).instrument == "scan"
    assert scan.fit.across / scan.fit.along == pytest.approx(PRESS.across / PRESS.along, rel=20e-6)


def test_a_card_whose_edge_lies_along_its_outline_is_refused_with_what_to_do() -> None:
    press = Press()
    with pytest.raises(ScanRefused, match=r"edge of the card is not clear.*lay a card 2 to 6 mm off its outline"):
        read(shot(press, TURNED, (card_on_the_sheet(press, 0, 0, 0),)))


def test_a_thing_of_another_shape_is_no_card() -> None:
    card = replace(card_on_the_sheet(PRESS), width_mm=83.0)
    with pytest.raises(ScanRefused, match=r"is 83\.\d+ x 5[34]\.\d+ mm by the picture, and no bank card"):
        read(shot(PRESS, TURNED, (card,)), lying="card")


def test_a_rule_that_is_not_there_is_refused() -> None:
    with pytest.raises(ScanRefused, match="millimetres"):
        read(shot(PRESS, TURNED), lying="rule")


def test_a_card_that_is_not_there_is_refused() -> None:
    with pytest.raises(ScanRefused, match="edge of the card is not clear"):
        read(shot(PRESS, TURNED), lying="card")


def test_an_unknown_thing_to_lie_there_lists_the_known_ones() -> None:
    with pytest.raises(UnknownName, match="known: card"):
        read(shot(PRESS, TURNED), lying="cards")


# --------------------------------------------------------------------------------------- pictures that are no use


def _small(scanner: Scanner = TURNED) -> Image.Image:
    return shot(PRESS, replace(scanner, dpi=300))


def _at_an_angle(image: Image.Image, lean: float) -> Image.Image:
    """As a camera that leans sees it: x' and y' over 1 + lean y."""
    wide, high = image.size
    return image.transform((wide, high), Image.Transform.PERSPECTIVE, (1, 0, 0, 0, 1, 0, 0, lean / high))


def _with_hidden(image: Image.Image, number: int) -> Image.Image:
    x, y = read(image, dpi=300).markers[number].x, read(image, dpi=300).markers[number].y
    hidden = image.copy()
    hidden.paste(245, tuple(round(300 / 25.4 * at) for at in (x - 5, -y - 5, x + 5, -y + 5)))
    return hidden


def _noisy_paper() -> Image.Image:
    shades = np.random.default_rng(3).normal(240, 6, (3508, 2480))
    return Image.fromarray(np.clip(shades, 0, 255).astype(np.uint8))


def _barrel(image: Image.Image) -> Image.Image:
    """A lens that bends straight lines: the picture in strips, each moved by the square of its height."""
    bent = Image.new("L", image.size, 245)
    for top in range(0, image.height, 8):
        away = 2 * top / image.height - 1
        bent.paste(image.crop((0, top, image.width, top + 8)), (round(24 * away * away), top))
    return bent


NO_USE = {
    "blurred": (lambda: _small().filter(ImageFilter.GaussianBlur(5)), "blurred: the markers' edges are 0.[4-9]"),
    "very blurred": (lambda: _small().filter(ImageFilter.GaussianBlur(16)), "blurred|not the whole"),
    "cropped at the right": (lambda: _small().crop((0, 0, 2240, 3508)), "not the whole|cropped"),
    "cropped in the middle of a side": (
        lambda: _with_hidden(_small(), 3),
        "hidden or broken: the right, 44% of the way up; uncover",
    ),
    "the ring is hidden": (
        lambda: _with_hidden(_small(), 0),
        "not the whole sheet for A4 portrait.*with its ring and 7 discs; scan",
    ),
    "mirrored": (lambda: _small().transpose(Image.Transpose.FLIP_LEFT_RIGHT), "the picture is mirrored"),
    "at an angle": (lambda: _at_an_angle(_small(), 0.02), "seen at an angle: perspective moves its markers by"),
    "hardly at an angle": (lambda: _at_an_angle(_small(), 0.006), "seen at an angle"),
    "through a bad lens": (lambda: _barrel(_small()), "mm from where a flat sheet has them|at an angle"),
    "empty": (lambda: Image.new("L", (2480, 3508), 250), "no print is seen in the picture"),
    "noisy and empty": (_noisy_paper, "no print is seen in the picture"),
    "black": (lambda: Image.new("L", (2480, 3508), 3), "no print is seen in the picture"),
    "faint": (lambda: _small().point(lambda shade: 240 + shade / 20), "no print is seen in the picture"),
}


@pytest.mark.parametrize(("picture", "reason"), NO_USE.values(), ids=NO_USE)
def test_a_picture_that_is_no_use_is_refused_with_the_reason(picture, reason: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(ScanRefused, match=reason) as refused:
        read(picture(), dpi=300)
    assert "\n" not in str(refused.value)
    assert refused.value.remedy


def test_the_sheet_of_another_paper_is_refused() -> None:
    letter = scanned(page("letter"), Press(), replace(TURNED, dpi=300))
    with pytest.raises(
        ScanRefused, match=r"not the whole sheet for A4 portrait.*check the paper|from where a flat sheet has them"
    ):
        read(letter, dpi=300)


def test_another_sheet_is_refused() -> None:
    card = every_sheet.pages(Case(sheet="ring-card", variant="usual", paper="a4"))[0]
    with pytest.raises(ScanRefused, match="not the whole sheet"):
        read(scanned(card, Press(), Scanner(dpi=300)), dpi=300)


# ---------------------------------------------------------------------------------------------------------- files


def saved(path: Path, image: Image.Image, **how: object) -> Path:
    image.save(path, **({"compress_level": 1} | how))  # packing a PNG tightly takes longer than reading it
    return path


@pytest.mark.parametrize(
    ("name", "mode", "how"),
    [
        ("a.png", "L", {}),
        ("a.png", "RGB", {}),
        ("a.png", "RGBA", {}),
        ("a.png", "P", {}),
        ("a.png", "I;16", {}),
        ("a.jpg", "L", {"quality": 90}),
        ("a.jpg", "RGB", {"quality": 85}),
        ("a.tif", "L", {"compression": "tiff_lzw"}),
        ("a.tif", "RGB", {}),
    ],
)
def test_png_jpeg_and_tiff_are_read_in_every_mode(tmp_path: Path, name: str, mode: str, how: dict[str, object]) -> None:
    image = _small()
    wide = np.asarray(image).astype(np.uint16) * 257
    other = Image.fromarray(wide) if mode == "I;16" else image.convert(mode)
    scan = scan_of(saved(tmp_path / name, other, dpi=(300, 300), **how), target())
    assert off_mm(scan, PRESS) < CLEAN_MM


@pytest.mark.parametrize("dpi", [150, 200, 240, 300, 400, 600, 1200])
@pytest.mark.parametrize("ending", ["png", "jpg", "tif"])
def test_the_resolution_is_read_exactly(tmp_path: Path, dpi: int, ending: str) -> None:
    """PNG counts dots in a metre: 150 dpi is 5906 for 5905.51, 82 ppm off."""
    path = saved(tmp_path / f"a.{ending}", Image.new("L", (400, 500), 255), dpi=(dpi, dpi))
    resolution = load(path).resolution
    assert (dpi, dpi) == (resolution.across, resolution.along)


def test_a_given_resolution_goes_before_that_of_the_file(tmp_path: Path) -> None:
    path = saved(tmp_path / "a.png", Image.new("L", (400, 500), 255), dpi=(72, 72))
    assert load(path, 299.5).resolution == Resolution(across=299.5, along=299.5, given="you")


def _bomb() -> bytes:
    """The head of a PNG of 30,000 x 30,000 dots, and nothing behind it that would have to be that large."""
    import struct
    import zlib

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", 30_000, 30_000, 8, 0, 0, 0, 0)
    body = zlib.compress(bytes(30_001) * 300)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", body) + chunk(b"IEND", b"")


def _encoded(image: Image.Image, kind: str, **how: object) -> bytes:
    out = io.BytesIO()
    image.save(out, kind, **how)  # type: ignore[arg-type]
    return out.getvalue()


def _two_pages() -> bytes:
    one = Image.new("L", (400, 500), 255)
    return _encoded(one, "TIFF", save_all=True, append_images=[one], dpi=(300, 300))


@cache
def _jpeg() -> bytes:
    return _encoded(_small(), "JPEG", dpi=(300, 300))


BAD_FILES = {
    "1 x 1": (
        lambda: _encoded(Image.new("L", (1, 1)), "PNG"),
        "a picture of 1 x 1 dots is too small for a scan of a sheet",
    ),
    "a bomb": (_bomb, "is too large: over 150 million dots, or 94 million in colours; scan at 600 dpi"),
    "a truncated JPEG": (lambda: _jpeg()[: len(_jpeg()) // 2], "is damaged or cut short"),
    "a JPEG of which the head alone is left": (lambda: _jpeg()[:300], "is not a PNG, JPEG or TIFF|damaged"),
    "a truncated PNG": (lambda: _encoded(_small(), "PNG", dpi=(300, 300))[:40_000], "is damaged or cut short"),
    "a truncated TIFF": (lambda: _encoded(_small(), "TIFF", dpi=(300, 300))[:40_000], "damaged|no PNG"),
    "words": (lambda: b"not a picture", "is not a PNG, JPEG or TIFF picture; scan to one of these"),
    "nothing": (lambda: b"", "is not a PNG, JPEG or TIFF picture"),
    "a GIF": (lambda: _encoded(Image.new("L", (400, 500)), "GIF"), "is not a PNG, JPEG or TIFF picture"),
    "two pages": (_two_pages, "holds 2 pages; save the printer-check sheet alone"),
    "no resolution": (
        lambda: _encoded(_small(), "PNG"),
        "does not say its resolution; if A4 just fills the picture, it is about 300 dpi; give the resolution",
    ),
    "a screen's resolution": (lambda: _encoded(_small(), "PNG", dpi=(72, 72)), "72 dpi is not within 150 to 1200"),
    "unlike both ways": (lambda: _encoded(_small(), "PNG", dpi=(300, 600)), "300 dpi across and 600 along"),
}


@pytest.mark.parametrize(("data", "reason"), BAD_FILES.values(), ids=BAD_FILES)
def test_a_bad_file_is_refused_by_the_command_and_nothing_is_saved(tmp_path: Path, data, reason: str) -> None:  # type: ignore[no-untyped-def]
    (tmp_path / "scan").write_bytes(data())
    with pytest.raises((FileRefused, ScanRefused), match=reason):
        command(tmp_path, "scan")
    assert [tmp_path / "scan"] == list(tmp_path.iterdir())


def test_a_bomb_is_refused_at_once(tmp_path: Path) -> None:
    (tmp_path / "scan").write_bytes(_bomb())
    start = time.process_time()
    with pytest.raises(FileRefused):
        load(tmp_path / "scan")
    assert time.process_time() - start < 0.1


def test_a_file_that_is_not_there_or_a_folder_is_refused(tmp_path: Path) -> None:
    with pytest.raises(FileRefused, match="cannot be read: No such file"):
        load(tmp_path / "none.png")
    with pytest.raises(FileRefused, match="cannot be read: Is a directory"):
        load(tmp_path)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="a system without pipes that have names")
def test_a_pipe_or_a_device_is_refused_at_once(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.png")
    (tmp_path / "link.png").symlink_to("/dev/zero")
    for name in ("pipe.png", "link.png"):
        with pytest.raises(FileRefused, match=f"{name} is not a file but a pipe or a device; name the scan's file"):
            load(tmp_path / name)


def test_damaged_pictures_are_read_or_refused_in_one_line(tmp_path: Path) -> None:
    counts = picture_mutants.tried(tmp_path, seed=7, count=250)
    assert set(counts) == {"read", "refused"}


@pytest.mark.parametrize("dpi", [-1.0, math.nan, math.inf])
def test_a_senseless_resolution_is_refused(tmp_path: Path, dpi: float) -> None:
    with pytest.raises(OutOfRange, match="give 150 to 1200"):
        load(tmp_path / "any.png", dpi)


def test_missing_libraries_are_named_with_the_extra(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr("importlib.util.find_spec", lambda name: None)
    with pytest.raises(MissingLibrary, match=r"needs numpy and pillow.*; install them"):
        scan_of(tmp_path / "any.png", target())


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


def test_the_command_saves_what_it_found(tmp_path: Path) -> None:
    scanner = replace(TURNED, dpi=300, scale=(1.004, 0.997))
    saved(tmp_path / "scan.png", shot(PRESS, scanner, (card_on_the_sheet(PRESS),)), dpi=(300, 300))
    said = command(tmp_path, "scan.png", "--date", "2026-11-25", "--picture", str(tmp_path / "found.png"))
    kept = record(tmp_path)
    assert kept.across_factor == pytest.approx(PRESS.across, rel=40e-6)
    assert kept.along_factor == pytest.approx(PRESS.along, rel=40e-6)
    assert kept.skew_deg == pytest.approx(PRESS.skew_deg, abs=0.001)
    assert kept.spread_mm == pytest.approx(PRESS.ink_mm, abs=0.004)
    assert (kept.instrument, kept.date, kept.sheet, kept.paper) == ("scan-card", "2026-11-25", SHEET, "a4")
    assert "scale: by the card" in said
    assert "residuals: 0.00" in said
    found = Image.open(tmp_path / "found.png")
    assert found.mode == "RGB"
    assert max(found.size) <= 2000


def test_the_command_says_that_a_result_is_relative(tmp_path: Path) -> None:
    saved(tmp_path / "scan.png", _small(), dpi=(300, 300))
    assert "so the result is relative: the size, the ratio of across to along and the lean" in command(
        tmp_path, "scan.png"
    )
    assert record(tmp_path).instrument == "scan"
    assert record(tmp_path).scale_budget(record(tmp_path).across).expanded > 0.005


def test_ink_is_left_out_of_a_picture_of_black_and_white_dots(tmp_path: Path) -> None:
    saved(tmp_path / "scan.png", _small().convert("1"), dpi=(300, 300))
    said = command(tmp_path, "scan.png", "--with", "none")
    assert "ink: left out: the picture has only black and white dots: scan in greyscale" in said
    assert record(tmp_path).ink == ()


def _seen_through_a_lens() -> Image.Image:
    """300 dpi as a scanner sees: light blurred, and then gathered over each dot."""
    return shot(PRESS, replace(TURNED, blur_mm=0.08, noise=5)).reduce(2)


@pytest.mark.parametrize(
    "bent", [lambda v: v**0.45, lambda v: v, lambda v: v**2.2, lambda v: (v + 3 * v**2 - 2 * v**3) / 2]
)
def test_the_scanners_tone_curve_is_taken_out_of_the_ink(bent: Callable[[float], float]) -> None:
    """Shades by a power of the light, and by a curve that is half an S; a straight reading is off by up to 0.04."""
    image = _seen_through_a_lens().point([round(255 * bent(shade / 255)) for shade in range(256)])
    ink = read(image, 300).read_ink()
    assert isinstance(ink, Ink)
    assert ink.curve
    assert 0.01 <= ink.edge_mm <= 0.02
    assert ink.spread_mm == pytest.approx(PRESS.ink_mm, abs=0.01)


def test_a_tone_curve_moves_a_straight_reading_by_more_than_is_stated_of_the_fitted_one() -> None:
    curved = _seen_through_a_lens().point([round(255 * (shade / 255) ** 2.2) for shade in range(256)])
    assert abs(read(curved, 300).spread_mm - PRESS.ink_mm) > 0.02


def test_a_picture_too_sharp_to_show_a_tone_curve_says_so() -> None:
    scan = read(shot(PRESS, TURNED))
    ink = scan.read_ink()
    assert isinstance(ink, Ink)
    assert ink.curve is None
    said = "".join(scan_lines(scan, ink))
    assert "give or take 0.04: the picture is too sharp to show the scanner's tone curve" in said
    assert "at 300 dpi it may show" in said


def test_ink_is_left_out_where_the_bars_say_nothing_of_it() -> None:
    image = _seen_through_a_lens()
    dithered = Image.blend(image.convert("1").convert("L"), image, 0.2)
    assert "dots scatter, as those of a dithered one do" in str(read(dithered, 300, "none").read_ink())
    cut = image.point([min(round(shade * 1.1), 255) for shade in range(256)])
    assert "white or black is cut off" in str(read(cut, 300).read_ink())
    stepped = image.point([60 if shade < 60 else min(shade, 200) for shade in range(256)])
    assert "not as any tone curve would show them" in str(read(stepped, 300).read_ink())


def test_ink_is_left_out_of_a_sheet_without_fine_bars() -> None:
    scan = read(shot(PRESS, replace(TURNED, dpi=300), paper="a5"), 300, paper="a5")
    assert "too small for fine bars" in str(scan.read_ink())


def test_the_command_says_that_a_sheet_lay_upside_down(tmp_path: Path) -> None:
    saved(tmp_path / "scan.png", _small().rotate(180), dpi=(300, 300))
    assert "it lay upside down, which is allowed for" in command(tmp_path, "scan.png")


def test_a_print_setting_is_not_saved_as_a_printer(tmp_path: Path) -> None:
    """0.973: letter fitted on A4 (C, computed from the paper sizes)."""
    saved(tmp_path / "scan.png", shot(Press(across=0.973, along=0.973), replace(TURNED, dpi=300)), dpi=(300, 300))
    with pytest.raises(OutOfRange, match=r"not saved.*letter"):
        command(tmp_path, "scan.png", "--picture", str(tmp_path / "found.png"))
    assert [tmp_path / "scan.png"] == list(tmp_path.iterdir())
    command(tmp_path, "scan.png", "--save-anyway")
    assert record(tmp_path).across_factor == pytest.approx(0.973, rel=40e-6)


def test_a_factor_that_is_no_printers_is_refused(tmp_path: Path) -> None:
    saved(tmp_path / "scan.png", shot(Press(across=0.9375, along=0.9375), Scanner(dpi=300)), dpi=(300, 300))
    with pytest.raises(OutOfRange, match=r"a printer's factor is 0.95 to 1.05; it may be .*90 taken for 96"):
        command(tmp_path, "scan.png")


def test_a_picture_that_is_no_png_is_refused_before_the_scan_is_read(tmp_path: Path) -> None:
    with pytest.raises(FileRefused, match=r"found\.jpg is not named as a PNG"):
        command(tmp_path, "none.png", "--picture", "found.jpg")


@pytest.mark.parametrize("press", [PRESS, Press(across=1.03, along=0.968, skew_deg=-0.5, ink_mm=0.05)], ids=str)
@pytest.mark.parametrize("rough", [False, True], ids=["clean", "rough"])
def test_a_sheet_printed_for_a_scanned_printer_comes_out_true(press: Press, rough: bool) -> None:
    """Print, scan, record, print corrected through the same distortion: base lines, discs and bars on paper."""
    scanner = replace(TURNED, blur_mm=0.08, noise=5) if rough else TURNED
    first = read(shot(press, scanner))
    paper = find_paper("a4")
    printer = record_of(first, name="office", tray="plain", date="", sheet=SHEET, paper=paper, ink=_straight(first))
    again = page(printer=printer)
    wanted_of_it = target_on(paper, printer)
    second = read_scan(_picture(scanned(again, press, TURNED), 600), wanted_of_it)
    wanted = ROUGH_MM if rough else CLEAN_MM
    assert off_mm(second, Press()) < wanted
    assert second.spread_mm == pytest.approx(0, abs=wanted / 2)
    assert _points_off_mm(again, press) < wanted


def _straight(scan: Scan) -> Ink:
    """The ink by the ring alone, as if the scanner had no tone curve; the simulated one has none."""
    return Ink(spread_mm=scan.spread_mm, edge_mm=0.04)


def _points_off_mm(corrected: Page, press: Press) -> float:
    """The farthest that a place on the corrected sheet is from true, about its middle, by the matrices alone."""
    at, paper = printed_at(corrected, press), corrected.paper
    places = [(x, y) for x in (20.0, paper.width_mm - 20) for y in (20.0, paper.height_mm - 20)]
    return max(math.dist(at(*place), place) for place in places)


def test_gauges_of_a_corrected_sheet_are_drawn_smaller_by_the_ink() -> None:
    scan = read(shot(PRESS, TURNED))
    printer = record_of(
        scan, name="office", tray="x", date="", sheet=SHEET, paper=find_paper("a4"), ink=_straight(scan)
    )
    before, after = page(), page(printer=printer)
    radii = [
        [mark.r for mark in each.marks() if isinstance(mark, Circle) and mark.filled and mark.r > 2]
        for each in (before, after)
    ]
    assert [r - printer.spread_mm for r in radii[0]] == pytest.approx(radii[1])
    bars = [
        sum(isinstance(mark, Polyline) and mark.filled and mark.role is Role.GAUGE for mark in each.marks())
        for each in (before, after)
    ]
    assert bars[0] == bars[1] > 0


def test_no_sheet_is_taken_for_that_of_another_paper() -> None:
    """Of two papers whose markers span alike, as far as printers go, some marker is millimetres away."""
    sheets = [target(paper, turned) for paper in ("a4", "letter", "a5", "a3", "legal") for turned in (False, True)]
    pairs = [
        (one, other)
        for one, other in itertools.combinations(sheets, 2)
        if all(abs(a / b - 1) < 0.12 for a, b in zip(one.span_mm, other.span_mm, strict=True))
    ]
    assert pairs
    for one, other in pairs:
        shares = [
            [
                ((x - each.discs[0][0]) / each.span_mm[0], (y - each.discs[0][1]) / each.span_mm[1])
                for x, y in each.discs
            ]
            for each in (one, other)
        ]
        assert max(math.dist(a, b) for a, b in zip(*shares, strict=True)) * min(one.span_mm) > 1.5
