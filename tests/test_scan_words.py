"""What is said of a scan, line by line, worked by hand from the values that are told."""

from __future__ import annotations

from types import SimpleNamespace as Told
from typing import Any

import pytest

from jigs.reports.scan import scan_doubts, scan_lines
from layouts.affine import Affine
from layouts.scanning.ink import Ink


def picture(dpi: float = 600, **more: Any) -> Told:
    seen = Told(rotation_deg=1.254, rms_mm=0.01234, most_mm=0.0345)
    usual = {"seen": seen, "picture": Told(resolution=Told(across=dpi, given="the file")), "is_upside_down": False}
    return Told(**{**usual, "markers": (1, 2, 3, 4), "edge_mm": 0.1249, "yardstick": None, **more})


def found(*pictures: Told, scanner: tuple[float, float] | None = None) -> Any:
    fit = Told(across=0.995004, along=0.997506, skew_deg=0.0604)
    return Told(pictures=pictures, fit=fit, true=Affine(a=1.000124, d=0.99949), scanner=scanner)


CARD = Told(name="card", is_sure=True, sides=(1, 2))
SHARP = Ink(spread_mm=0.0123, edge_mm=0.04, curve=None)
ONE = [
    "4 markers found, turned +1.25 degrees",
    "residuals: 0.0123 mm (root mean square), at most 0.0345 mm",
    "edges: 0.12 mm soft",
    "resolution: 600 dpi by the file",
]
PRINTED = "printed over drawn: across 0.99500, along 0.99751, leaning +0.060 degrees"


def test_one_picture_with_a_card_on_it() -> None:
    ink = Ink(spread_mm=-0.0214, edge_mm=0.0136, curve=2.204)
    assert list(scan_lines(found(picture(yardstick=CARD)), ink)) == [
        *ONE,
        "scale: by the card; the picture times 1.00012 across, 0.99949 along",
        PRINTED,
        "ink: every edge grows by -0.021 mm, give or take 0.014; the scanner's tone curve, a power of 2.20, is taken "
        "out",
    ]


def test_two_pictures_say_which_is_meant_and_what_the_scanner_does() -> None:
    two = found(picture(), picture(300, is_upside_down=True), scanner=(1.01, 0.5))
    lines = list(scan_lines(two, "the sheet is too small for fine bars"))
    assert lines[:4] == [f"picture 1: {line}" for line in ONE]
    assert lines[4] == "picture 2: 4 markers found, turned +1.25 degrees: it lay upside down, which is allowed for"
    assert lines[7:] == [
        "picture 2: resolution: 300 dpi by the file",
        "scale: the scanner's own, not checked",
        "the scanner: across to along 1.01000 to 1, leaning +0.500 degrees; the turn takes this out",
        PRINTED,
        "ink: left out: the sheet is too small for fine bars",
    ]


@pytest.mark.parametrize(("dpi", "more"), [(401, "; at 300 dpi it may show"), (400, ""), (300, "")])
def test_a_coarser_scan_is_proposed_only_where_it_would_be_coarser(dpi: float, more: str) -> None:
    assert list(scan_lines(found(picture(dpi)), SHARP))[-1] == (
        "ink: every edge grows by +0.012 mm, give or take 0.04: the picture is too sharp to show the scanner's tone "
        f"curve in its bars{more}"
    )


PALE, LINE = Told(name="card", is_sure=False, sides=(1, 2)), Told(name="rule", is_sure=True, sides=(1,))


@pytest.mark.parametrize(
    ("pictures", "doubt"),
    [
        ([picture(), picture()], "the size is the scanner's; lay a card or a steel rule on the sheet"),
        ([picture(), picture(yardstick=CARD)], ""),
        ([picture()], "so the result is relative: the size, the ratio of across to along and the lean"),
        ([picture(yardstick=CARD)], ""),
        ([picture(yardstick=PALE)], "the card is pale, and a shadow along it would look the same"),
        ([picture(yardstick=LINE)], "a rule checks the scanner only in the direction that it lies"),
    ],
)
def test_one_doubt_is_said_where_there_is_one(pictures: list[Told], doubt: str) -> None:
    said = list(scan_doubts(found(*pictures)))
    assert len(said) == (1 if doubt else 0)
    assert doubt in "".join(said)
