"""What a scan of the printer check is compared with, on every paper: the target as a golden, and its rules by hand."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

import pytest
from golden import assert_same_as_golden

from layouts.drawing.marks import Box
from layouts.errors import DoesNotFit
from layouts.pages.page import Field
from layouts.pages.paper import find_paper
from layouts.printing.check_sheet import base_on, card_on, markers_on, target_on
from layouts.printing.plate import base_for, markers
from layouts.printing.printer import Printer, Reading
from layouts.scanning.target import Target

PAPERS = [(name, turned) for name in ("a5", "a4", "letter", "a3") for turned in (False, True)]
OFF = Printer(
    name="office",
    tray="plain",
    instrument="rule",
    across=Reading(length_mm=150.0, read_mm=149.4),
    along=Reading(length_mm=200.0, read_mm=200.6),
)


@cache
def target(name: str, turned: bool, printer: Printer | None = None) -> Target:
    return target_on(find_paper(name, landscape=turned), printer)


def lines(told: Target) -> Iterator[str]:
    def box(one: Box) -> str:
        return " ".join(f"{side:.3f}" for side in one)

    yield f"== {told.label}: discs of {told.radius_mm} mm, the first with a hole of {told.hole_mm} mm"
    yield f"card {box(told.card)}"
    yield f"rule {told.rule.x1:.3f} {told.rule.y1:.3f} {told.rule.x2:.3f} {told.rule.y2:.3f}"
    yield from (f"disc {x:.3f} {y:.3f}" for x, y in told.discs)
    for stripes in told.stripes:
        ink = ", ".join(f"{low:.3f} to {high:.3f}" for low, high in stripes.ink)
        yield f"{'upright' if stripes.upright else 'level'} bars {box(stripes.box)}: {ink}"
    yield from sorted(f"ink {box(one)}" for one in told.ink)


def test_what_a_scan_is_compared_with_on_every_paper() -> None:
    told = [line for name, turned in PAPERS for line in lines(target(name, turned))]
    assert_same_as_golden("targets.txt", "\n".join(told) + "\n")


def test_a_corrected_sheet_has_no_bars_that_a_scan_alone_reads() -> None:
    # bars of 0.5, 1 and 2 mm are there, those of 0.12 and 0.25 mm are not corrected and left out
    plain, corrected = target("a4", False), target("a4", False, OFF)
    thinnest = [[min(high - low for low, high in s.ink) for s in told.stripes] for told in (plain, corrected)]
    assert [sorted(round(mm, 6) for mm in of) for of in thinnest] == [
        [0.12, 0.12, 0.5, 0.5, 1.0, 1.0, 2.0, 2.0],
        [0.5, 0.5, 1.0, 1.0, 2.0, 2.0],
    ]


@pytest.mark.parametrize(("name", "turned"), PAPERS)
def test_base_card_and_discs_hang_together(name: str, turned: bool) -> None:
    told, base = target(name, turned), base_on(find_paper(name, landscape=turned))
    left, low, right, high = told.card
    assert (right - left, high - low) == pytest.approx(card_on(find_paper(name, landscape=turned)))
    assert told.discs == tuple((m.x_mm, m.y_mm) for m in markers_on(find_paper(name, landscape=turned)))
    assert len(told.discs) == 8
    # the middle of the card is nearer to the middle of the sheet than half a base line
    xs, ys = zip(*told.discs, strict=True)
    assert abs((left + right) / 2 - (min(xs) + max(xs)) / 2) <= base.across_mm / 2
    assert abs((low + high) / 2 - (min(ys) + max(ys)) / 2) <= base.along_mm / 2


@pytest.mark.parametrize(
    ("width", "height", "across"),
    [
        # a base with 10 mm at each side, and its margins above and below: 150 x 200 with 13 mm
        (170.0, 226.0, 150),
        (169.99, 226.0, 144),
        (170.0, 225.99, 144),
        (104.0, 132.0, 84),  # the smallest: 84 x 112 with 10 mm
    ],
)
def test_the_base_is_the_largest_that_fits(width: float, height: float, across: float) -> None:
    assert base_for(Field(width, height)).across_mm == across


@pytest.mark.parametrize(("width", "height"), [(103.99, 132.0), (104.0, 131.99)])
def test_a_field_a_hair_too_small_for_the_smallest_base_is_refused(width: float, height: float) -> None:
    with pytest.raises(DoesNotFit, match=r"needs 104\.0 x 132\.0 mm"):
        base_for(Field(width, height))


def test_markers_of_a_square_plate_stand_as_on_an_upright_one() -> None:
    # the base of 150 x 200 has a plate of 226 mm: in a field as wide, the markers stand at the left and at the right,
    # half a marker of 6 mm from the edge, and the first is a ring
    square = markers(Field(226.0, 226.0))
    assert {mark.x_mm for mark in square} == {3.0, 223.0}
    assert [mark.hole_mm for mark in square] == [2.0] + [0.0] * 7
    assert {mark.diameter_mm for mark in square} == {6.0}
