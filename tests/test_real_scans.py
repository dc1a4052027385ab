"""Real scans, when somebody brings them, against what a caliper said: see tests/scans/README.md."""

from __future__ import annotations

import math
import tomllib
from pathlib import Path

import pytest
from simulated_printer import Press, Scanner
from simulated_scans import shot

from layouts.pages.paper import find_paper
from layouts.printing.check_sheet import base_on, target_on
from layouts.printing.scanned import record_of
from layouts.scanning import scan_of, turned_of
from layouts.units import parse_length

SCANS = Path(__file__).parent / "scans"


def off(said: Path) -> tuple[float, float]:
    """The error of across and along over what scan and caliper together state."""
    told = tomllib.loads(said.read_text(encoding="utf-8"))
    paper = find_paper(told.get("paper", "a4"), landscape=told.get("landscape", False))
    pictures = sorted(path for path in said.parent.glob(f"{said.stem}*") if path.suffix != ".toml")
    read = {1: scan_of, 2: turned_of}[len(pictures)]
    found = read(*pictures, target=target_on(paper), lying=told.get("lying", ""))  # type: ignore[operator]
    printer = record_of(found, name="a", tray="b", date="", sheet="", paper=paper)
    base, good_to = base_on(paper), parse_length(told["good_to"])
    ways = ((printer.across, base.across_mm, told["across"]), (printer.along, base.along_mm, told["along"]))
    shares = [
        abs(reading.ratio * length - parse_length(words))
        / math.hypot(printer.scale_budget(reading).expanded * length, good_to)
        for reading, length, words in ways
    ]
    return shares[0], shares[1]


@pytest.mark.parametrize("said", sorted(SCANS.glob("*.toml")), ids=lambda path: path.stem)
def test_a_real_scan_agrees_with_a_caliper(said: Path) -> None:
    assert max(off(said)) <= 1


def test_a_scan_is_compared_as_the_readme_says_and_the_comparison_can_fail(tmp_path: Path) -> None:
    shot(Press(across=0.997, along=1.002), Scanner(dpi=300, rotation_deg=0.5)).save(tmp_path / "a.png", dpi=(300, 300))
    words = 'lying = "none"\nacross = "{:.2f} mm"\nalong = "200.40 mm"\ngood_to = "0.10 mm"\n'
    (tmp_path / "a.toml").write_text(words.format(150 * 0.997))
    assert max(off(tmp_path / "a.toml")) < 0.1
    (tmp_path / "a.toml").write_text(words.format(153))
    assert max(off(tmp_path / "a.toml")) > 1
