"""The winding strip: where its marks stand, worked by hand; what it says; what it refuses."""

from __future__ import annotations

import pytest
from golden import assert_drawn_as_golden

from jigs.guides.winding_strip import WIDTH_MM, winding_strip
from jigs.making.coil import Coil
from jigs.making.winding import CoilPlan
from layouts.drawing.marks import Drawing, Line, Polyline, Text
from layouts.drawing.pens import Role
from layouts.errors import OutOfRange

BEGIN_MM = 3.0


def wound(coils: int, turns: int, free_turns: float, rings: int) -> CoilPlan:
    """Of 1.2 mm wire: n turns that touch are n x 1.2 + 1.2 long."""
    return CoilPlan(coils=coils, rings=rings, turns=turns, free_turns=free_turns, length_mm=free_turns * 1.2 + 1.2)


USUAL = wound(4, 16, 15.6, 13), wound(1, 9, 8.8, 6)


def strip(wire_mm: float = 1.2, windings: tuple[CoilPlan, ...] = USUAL) -> Drawing:
    coil = Coil(wire_mm=wire_mm, inside_mm=5.0, pitch_mm=wire_mm)
    return winding_strip("chain ring", f"{wire_mm:.3f} mm bronze", coil, windings)


def marks(drawing: Drawing) -> dict[float, float]:
    """Where the scale's marks stand, from where the coil begins, and how long they are; the zero line left out."""
    lines = [mark for mark in drawing.marks if isinstance(mark, Line) and mark.role is Role.TICK]
    return {round(line.x1 - BEGIN_MM, 4): round(line.y1 - line.y2, 4) for line in lines if line.x1 > BEGIN_MM}


def arrows(drawing: Drawing) -> list[float]:
    return [mark.points[0][0] - BEGIN_MM for mark in drawing.marks if isinstance(mark, Polyline) and mark.filled]


def words(drawing: Drawing) -> str:
    return " ".join(mark.string for mark in drawing.marks if isinstance(mark, Text))


@pytest.mark.parametrize(("turn", "length"), [(1, 2.4), (5, 7.2), (10, 13.2), (16, 20.4)])
def test_turn_n_of_a_coil_that_touches_ends_at_n_wires_and_one_more(turn: int, length: float) -> None:
    # n x 1.2 + 1.2, outside to outside
    assert length in marks(strip())
    assert sorted(marks(strip()))[turn - 1] == length


def test_fives_are_longer_and_tens_the_longest() -> None:
    long = list(dict(sorted(marks(strip()).items())).values())
    assert long[9] > long[4] > long[0]
    assert long[0] == long[1] == long[10]


def test_figures_stand_at_their_marks() -> None:
    at = {mark.string: round(mark.x - BEGIN_MM, 4) for mark in strip().marks if isinstance(mark, Text)}
    assert at["10"] == 13.2
    assert at["30"] == 37.2
    assert at["0"] == 0.0


def test_arrows_stand_where_each_coil_is_wound() -> None:
    assert arrows(strip()) == pytest.approx([20.4, 12.0 - 1.2 + 1.2])  # 16 and 9 turns


def test_it_says_what_to_wind_and_what_to_expect() -> None:
    said = words(strip())
    assert "4 × 16 turns (15.6 once released), 13 good rings each; " in said
    assert "1 × 9 turns (8.8 once released), 6 good rings" in said
    assert "Turns must touch: pitch 1.2 mm." in said


def test_marks_of_thin_wire_stand_for_five_turns_and_it_says_so() -> None:
    thin = strip(0.3)
    assert sorted(marks(thin))[:2] == [1.8, 3.3]  # 5 x 0.3 + 0.3, 10 x 0.3 + 0.3
    assert "Each mark is 5 turns." in words(thin)


def test_a_coil_longer_than_the_strip_is_counted_in_parts() -> None:
    long = strip(windings=(wound(1, 300, 290.0, 288),))
    assert arrows(long) == []
    assert "tie a thread round at 60, start again there from 0 and add 60" in words(long)


def test_the_scale_stays_on_the_strip() -> None:
    for wire in (0.2, 0.35, 1.2, 4.0, 12.0):
        assert max(marks(strip(wire))) + BEGIN_MM <= WIDTH_MM - 1.9


def test_a_strip_is_framed_by_its_cut_line() -> None:
    frame = next(mark for mark in strip().marks if isinstance(mark, Polyline) and mark.role is Role.CUT)
    assert frame.points == ((0, 0), (WIDTH_MM, 0), (WIDTH_MM, 22.0), (0, 22.0))


def test_a_strip_with_nothing_to_wind_is_refused() -> None:
    with pytest.raises(OutOfRange, match="a winding strip for chain ring with nothing to wind; give one coil or more"):
        strip(windings=())


def test_the_strip_is_as_it_was() -> None:
    assert_drawn_as_golden("winding_strip.txt", [strip()])
