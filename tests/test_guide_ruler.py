"""The ruler: its ticks, its outline, its limits; and its command."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner
from golden import assert_drawn_as_golden

from jigs.cli.refusals import said
from jigs.cli.sheet import sheet_command
from jigs.guides.catalogue import find_sheet
from jigs.guides.ruler import ruler_sheet
from layouts.drawing.marks import Drawing, Line, Polyline, Text
from layouts.drawing.pens import Role
from layouts.errors import OutOfRange, Refusal
from layouts.pages.page import Field

command = sheet_command(find_sheet("ruler"))
A4 = Field(176.0, 225.0)
INCH = 127 / 5  # mm, exact


def drawn(length_mm: float) -> Drawing:
    (drawing,) = ruler_sheet(length_mm).draw(A4)
    return drawing


def ticks(drawing: Drawing, *, above: bool) -> list[float]:
    """The ticks over or under the base line, from the first."""
    lines = [mark for mark in drawing.marks if isinstance(mark, Line) and mark.x1 == mark.x2]
    found = sorted(line.x1 for line in lines if (line.y2 > line.y1) == above)
    return [x - found[0] for x in found]


def test_the_ticks_above_are_a_millimetre_apart() -> None:
    assert ticks(drawn(500), above=True) == pytest.approx(range(501))


def test_the_ticks_below_are_an_eighth_of_an_inch_apart() -> None:
    # 19 5/8 in are 498.475 mm, and the next eighth is over 500 mm
    assert ticks(drawn(500), above=False) == pytest.approx([n * INCH / 8 for n in range(19 * 8 + 6)])


def numbers(drawing: Drawing) -> list[str]:
    """The last number above the base line, and the last below it."""
    words = sorted((mark for mark in drawing.marks if isinstance(mark, Text)), key=lambda word: word.x)
    return [[word.string for word in words if (word.y > 6.5) == above][-1] for above in (True, False)]


def test_the_scales_end_where_the_ruler_was_asked_to() -> None:
    drawing = drawn(437)
    base = max((mark for mark in drawing.marks if isinstance(mark, Line)), key=lambda line: line.x2 - line.x1)
    assert (base.x1, base.x2) == (6.0, 443.0)
    assert ticks(drawing, above=True)[-1] == 437
    # 17 1/8 in are 434.975 mm, 17 1/4 in would be 438.15
    assert ticks(drawing, above=False)[-1] == pytest.approx(434.975)
    assert numbers(drawing) == ["437", "17 in"]
    assert ruler_sheet(437).facts == (("length", "437 mm, 17.2 in"),)


def test_a_last_number_too_near_the_one_before_is_left_out() -> None:
    assert numbers(drawn(435.9)) == ["430", "17 in"]
    assert ticks(drawn(435.9), above=True)[-1] == 435


def test_four_inches_are_not_squeezed_into_a_ruler_of_100_mm() -> None:
    assert ticks(drawn(100), above=False)[-1] == pytest.approx(31 * INCH / 8)


def test_both_scales_start_at_one_place_within_the_outline() -> None:
    drawing = drawn(150)
    (outline,) = [mark for mark in drawing.marks if isinstance(mark, Polyline)]
    assert outline.role is Role.CUT
    assert outline.box == (0, 0, drawing.width_mm, drawing.height_mm)
    zeros = {mark.x for mark in drawing.marks if isinstance(mark, Text) and mark.string == "0"}
    assert zeros == {6.0}


@pytest.mark.parametrize("length", [19.9, 3000.1, -5.0, float("nan")])
def test_a_ruler_too_short_or_too_long_is_refused(length: float) -> None:
    with pytest.raises(OutOfRange, match=r"length of a ruler|give it 20 to 3000 mm"):
        ruler_sheet(length)


def test_the_ruler_is_as_it_was() -> None:
    assert_drawn_as_golden("ruler.txt", [drawn(50)])


def test_the_command_splits_half_a_metre_when_asked(tmp_path: Path) -> None:
    done = CliRunner().invoke(command, ["--length", "500 mm", "--tile", "--out", f"{tmp_path}/"])
    assert done.exit_code == 0
    assert (tmp_path / "ruler.pdf").exists()


def test_the_command_names_the_way_when_the_ruler_is_too_long(tmp_path: Path) -> None:
    done = CliRunner().invoke(command, ["--length", "500 mm", "--out", f"{tmp_path}/"])
    assert isinstance(done.exception, Refusal)
    assert "split it over several pages with --tile" in said(done.exception)
