"""From print to print: what a scan finds becomes a record, and a sheet made by it comes out true."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image
from simulated_printer import Press, Scanner, printed_at, scanned
from simulated_scans import (
    CLEAN_MM,
    PRESS,
    ROUGH_MM,
    TURNED,
    card_on_the_sheet,
    command,
    off_mm,
    page,
    picture,
    read,
    record,
    saved,
    shot,
    small,
    target,
)

from jigs.reports.scan import scan_lines
from layouts.drawing.marks import Circle, Polyline
from layouts.drawing.pens import Role
from layouts.errors import FileRefused, OutOfRange, ScanRefused, UnknownName
from layouts.pages.page import Page
from layouts.pages.paper import find_paper
from layouts.printing.check_sheet import SHEET, target_on
from layouts.printing.scanned import record_of
from layouts.scanning.ink import Ink
from layouts.scanning.reading import Scan, read_scan


def test_a_rule_that_is_not_there_is_refused() -> None:
    with pytest.raises(ScanRefused, match="millimetres"):
        read(shot(PRESS, TURNED), lying="rule")


def test_a_card_that_is_not_there_is_refused() -> None:
    with pytest.raises(ScanRefused, match="edge of the card is not clear"):
        read(shot(PRESS, TURNED), lying="card")


def test_an_unknown_thing_to_lie_there_lists_the_known_ones() -> None:
    with pytest.raises(UnknownName, match="known: card"):
        read(shot(PRESS, TURNED), lying="cards")


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
    saved(tmp_path / "scan.png", small(), dpi=(300, 300))
    assert "so the result is relative: the size, the ratio of across to along and the lean" in command(
        tmp_path, "scan.png"
    )
    assert record(tmp_path).instrument == "scan"
    assert record(tmp_path).scale_budget(record(tmp_path).across).expanded > 0.005


def test_ink_is_left_out_of_a_picture_of_black_and_white_dots(tmp_path: Path) -> None:
    saved(tmp_path / "scan.png", small().convert("1"), dpi=(300, 300))
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
    assert "no tone curve would show its bars like this" in str(read(stepped, 300).read_ink())


def test_ink_is_left_out_of_a_sheet_without_fine_bars() -> None:
    scan = read(shot(PRESS, replace(TURNED, dpi=300), paper="a5"), 300, paper="a5")
    assert "too small for fine bars" in str(scan.read_ink())


def test_the_command_says_that_a_sheet_lay_upside_down(tmp_path: Path) -> None:
    saved(tmp_path / "scan.png", small().rotate(180), dpi=(300, 300))
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
    second = read_scan(picture(scanned(again, press, TURNED), 600), wanted_of_it)
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
