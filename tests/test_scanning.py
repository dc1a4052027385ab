"""A scan read back: what a simulated printer did, within the figures; and a reason for every picture that is no use.

Each truth is the distortion that the simulation was given. Pictures are made here and kept nowhere.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image
from simulated_printer import Press, Scanner, scanned
from simulated_scans import (
    CLEAN_MM,
    CLEAN_PPM,
    PRESS,
    ROUGH_MM,
    TURNED,
    card_on_the_sheet,
    off_mm,
    off_ppm,
    page,
    read,
    rule_on_the_sheet,
    shot,
    target,
)

from layouts.drawing.marks import Polyline
from layouts.errors import OutOfRange, ScanRefused
from layouts.pages.paper import find_paper
from layouts.printing.check_sheet import SHEET, markers_on
from layouts.printing.scanned import record_of
from layouts.scanning.target import Stripes

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
