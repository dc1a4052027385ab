"""The same sheet scanned twice, turned in between: what is the scanner's and what is the printer's."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner
from PIL import Image
from simulated_printer import Press, Scanner, lens_of
from simulated_scans import card_on_the_sheet, picture, rule_on_the_sheet, shot, target

from jigs.cli import cli
from layouts.affine import Affine
from layouts.errors import ScanRefused
from layouts.pages.paper import find_paper
from layouts.printing.printer import Printer
from layouts.printing.scanned import record_of
from layouts.scanning.fit import fitted
from layouts.scanning.markers import Blob
from layouts.scanning.reading import Scan, read_scan
from layouts.scanning.reversal import Turned, turned
from layouts.scanning.yardstick import Side, Yardstick

PRESS = Press(across=0.985, along=1.012, skew_deg=0.3)
SCANNER = Scanner(scale=(1.005, 0.995), lean_deg=0.5)  # unequal by 1 %, and leaning by half a degree


def lain(
    turn_deg: float, press: Press = PRESS, scanner: Scanner = SCANNER, noise_mm: float = 0.0, seed: int = 0
) -> Scan:
    """A picture's markers alone: the sheet lies turned by so much, counter-clockwise."""
    turn = math.radians(turn_deg)
    laid = Affine(a=math.cos(turn), b=math.sin(turn), c=-math.sin(turn), d=math.cos(turn))
    whole = lens_of(SCANNER).after(laid).after(press.matrix)
    places = np.array([whole.apply(*at) for at in target().discs])
    places += np.random.default_rng(seed).normal(0, noise_mm, places.shape) if noise_mm else 0.0
    seen = fitted(target().discs, [(float(x), float(y)) for x, y in places])
    blobs = tuple(
        Blob(x=float(x), y=float(y), radius=3.0, hole=0.0 if n else 1.0, edge=0.05, paper=245, ink=20)
        for n, (x, y) in enumerate(places)
    )
    return Scan(
        picture=picture(Image.new("L", (400, 400)), 300), target=target(), markers=blobs, seen=seen, yardstick=None
    )


def with_card(scan: Scan, width: float = 85.60, height: float = 53.98, turn_deg: float = 2.0) -> Scan:
    """The same with a card of this size on the glass, as the scanner shows it."""
    turn, lens = math.radians(turn_deg), lens_of(SCANNER)
    wide = lens.apply(width * math.cos(turn), width * math.sin(turn))
    high = lens.apply(-height * math.sin(turn), height * math.cos(turn))
    sides = Side(seen=wide, true_mm=85.60), Side(seen=high, true_mm=53.98)
    return replace(scan, yardstick=Yardstick(name="card", sides=sides, corners=()))


def off(found: Turned) -> tuple[float, float]:
    """The ratio of across to along against the printer's, ppm; and the skew, degrees."""
    ratio = found.fit.across / found.fit.along / (PRESS.across / PRESS.along) - 1
    return ratio * 1e6, found.fit.skew_deg - PRESS.skew_deg


@pytest.mark.parametrize("turn", [90, -90, 47, 135, 25])
def test_a_turn_separates_the_printer_from_the_scanner(turn: float) -> None:
    found = turned(lain(0.7), lain(0.7 + turn))
    ppm, skew = off(found)
    assert ppm == pytest.approx(0, abs=0.01)
    assert skew == pytest.approx(0, abs=1e-8)
    assert found.scanner == pytest.approx((1.005 / 0.995, 0.5), abs=1e-6)
    assert found.turn_deg == pytest.approx(abs(turn), abs=1e-6)


def test_five_micrometres_of_noise_leave_the_ratio_within_50_ppm_and_the_skew_within_5_thousandths() -> None:
    """In 95 of 100; C: 8 markers on 170 x 196 mm place a scale to 5 um / 240 mm = 21 ppm in each picture."""
    offs = np.array(
        [off(turned(lain(0, noise_mm=0.005, seed=n), lain(90, noise_mm=0.005, seed=n + 500))) for n in range(200)]
    )
    assert np.percentile(np.abs(offs[:, 0]), 95) < 50
    assert np.percentile(np.abs(offs[:, 1]), 95) < 0.005


@pytest.mark.parametrize("turn", [0, 12, 180, -170])
def test_a_turn_by_none_or_a_half_is_refused_with_the_reason(turn: float) -> None:
    with pytest.raises(ScanRefused, match=r"turned.*leaves the scanner's faults where they are; scan the same"):
        turned(lain(0), lain(turn))


def test_two_sheets_are_not_one() -> None:
    with pytest.raises(ScanRefused, match=r"do not show one sheet: its area differs by \+0\.5"):
        turned(lain(0), lain(90, press=replace(PRESS, across=0.990)))


def test_a_card_in_either_picture_sets_the_size_of_both_ways() -> None:
    one, two = lain(0), lain(90)
    for pair in ((with_card(one), two), (one, with_card(two)), (with_card(one), with_card(two, turn_deg=-3))):
        found = turned(*pair)
        assert found.fit.across == pytest.approx(PRESS.across, rel=1e-6)
        assert found.fit.along == pytest.approx(PRESS.along, rel=1e-6)


def test_the_size_is_stated_as_good_as_the_card_and_the_skew_as_good_as_reversal() -> None:
    kept = kept_of(turned(with_card(lain(0)), lain(90)))
    assert kept.instrument == "scan-turned-card"
    # C: 0.125 mm / sqrt(3) and the ends' 0.05 sqrt(2) / sqrt(3) mm on 101.2 mm, the root of the squares of its sides
    assert kept.scale_budget(kept.across).expanded == pytest.approx(0.0016, abs=0.0002)
    assert kept.skew_expanded_deg < 0.03
    assert kept_of(turned(lain(0), lain(90))).instrument == "scan-turned"


def kept_of(found: Turned) -> Printer:
    return record_of(found, name="a", tray="b", date="", sheet="", paper=find_paper("a4"))


def test_a_look_alike_is_told_by_its_shape_once_the_scanner_is_known() -> None:
    """84.5 x 53.5 mm is off by 0.4 % in shape: one picture cannot tell it from a scanner's two ways."""
    with pytest.raises(ScanRefused, match=r"not an ID-1 bank card, or a shadow lies along it: its sides are -0\.40%"):
        turned(with_card(lain(0), 84.5, 53.5), lain(90))


def test_a_look_alike_of_the_same_shape_is_told_by_the_resolution() -> None:
    with pytest.raises(ScanRefused, match=r"do not agree: the pictures are [+-]1\.\d+% off"):
        turned(with_card(lain(0), 85.60 * 1.015, 53.98 * 1.015), lain(90))


def test_two_yardsticks_that_disagree_are_refused() -> None:
    with pytest.raises(ScanRefused, match=r"do not agree on their size: it differs by 0\.60%"):
        turned(with_card(lain(0)), with_card(lain(90), 85.60 * 1.006, 53.98 * 1.006))


def test_two_pictures_are_read_and_taken_together(tmp_path: Path) -> None:
    scanner = replace(SCANNER, dpi=300, rotation_deg=0.6, blur_mm=0.04, noise=3)
    pictures = (
        shot(PRESS, scanner, (card_on_the_sheet(PRESS),)),
        shot(PRESS, replace(scanner, rotation_deg=89.5, shift_mm=(4.0, 0.0), seed=2), (rule_on_the_sheet(PRESS),)),
    )
    found = turned(*(read_scan(picture(image, 300), target(), is_lone=False) for image in pictures))
    assert [scan.yardstick and scan.yardstick.name for scan in found.pictures] == ["card", "rule"]
    ppm, skew = off(found)
    assert abs(ppm) < 50
    assert abs(skew) < 0.005
    assert found.fit.across == pytest.approx(PRESS.across, rel=200e-6)
    for name, image in zip(("a.png", "b.png"), pictures, strict=True):
        image.save(tmp_path / name, dpi=(300, 300), compress_level=1)
    words = ["printer", "scan", str(tmp_path / "a.png"), str(tmp_path / "b.png"), "office", "--tray", "plain"]
    said = CliRunner().invoke(cli, [*words, "--bench", str(tmp_path / "bench")]).output
    assert "scale: by the card and the rule" in said
    assert "the scanner: across to along 1.0100" in said
    assert "leaning +0.50" in said
    assert 'with = "scan-turned-card"' in (tmp_path / "bench" / "printers.toml").read_text(encoding="utf-8")
