"""The measure of a page's ink can fail: each check finds the fault that it is for, and no other."""

from __future__ import annotations

import pytest
from ink import buried_words, crossed_words, overlapping_words, strokes, word_box, word_boxes

from layouts.drawing.marks import Annulus, Arc, Circle, Line, Mark, Polyline, Text
from layouts.drawing.pens import Role


def _text(x: float, y: float, string: str = "Hxn", **more: object) -> Text:
    return Text(x=x, y=y, string=string, size_mm=3, **more)  # type: ignore[arg-type]


def test_the_tight_box_is_that_of_the_outlines() -> None:
    box = word_box(_text(10, 20, "H"))
    assert box is not None
    left, bottom, right, top = box.box
    assert pytest.approx((bottom, top), abs=0.15) == (0.0, 2.2)  # capitals stand on the line, 0.73 em high
    assert 0 < left < right < _text(10, 20, "H").width_mm


def test_a_space_has_no_ink() -> None:
    assert word_box(_text(0, 0, "  ")) is None


@pytest.mark.parametrize(
    ("other", "overlap"),
    [
        (_text(10, 12), True),
        (_text(10, 13.5), False),
        (_text(14, 10), True),
        (_text(18, 10), False),
        (_text(12, 6, angle_deg=90), True),
        (_text(9.5, 8, angle_deg=90), False),
        (_text(8, 6, angle_deg=45), True),
        (_text(3, 8.5, angle_deg=45), False),
    ],
)
def test_words_that_overlap_are_found(other: Text, overlap: bool) -> None:
    assert overlap == bool(overlapping_words(word_boxes([_text(10, 10), other])))


@pytest.mark.parametrize(
    ("mark", "crossed"),
    [
        (Line(x1=8, y1=11, x2=20, y2=11, role=Role.CUT), True),
        (Line(x1=8, y1=9.8, x2=20, y2=9.8, role=Role.CUT), False),
        (Line(x1=8, y1=9.9, x2=20, y2=9.9, role=Role.CUT), True),  # half of 0.25 mm reaches the letters
        (Line(x1=8, y1=8, x2=13, y2=14, role=Role.AID), True),
        (Polyline(points=((9, 9), (17, 9), (17, 13), (9, 13)), role=Role.AID, closed=True), False),
        (Polyline(points=((9, 9), (12, 9), (12, 13), (9, 13)), role=Role.AID, closed=True), True),
        (Circle(x=12, y=11, r=6, role=Role.AID), False),
        (Circle(x=12, y=15, r=4, role=Role.AID), True),
        (Circle(x=12, y=15, r=4, role=Role.TINT, filled=True), False),
        (Circle(x=12, y=15, r=4, role=Role.GAUGE, filled=True), True),
        (Arc(x=12, y=15, r=4, start_deg=10, sweep_deg=160, role=Role.AID), False),
        (Arc(x=12, y=15, r=4, start_deg=190, sweep_deg=160, role=Role.AID), True),
        (Annulus(x=12, y=11, r_outer=9, r_inner=6, role=Role.GAUGE), False),
        (Annulus(x=12, y=11, r_outer=9, r_inner=1, role=Role.GAUGE), True),
    ],
)
def test_a_stroke_through_words_is_found(mark: Mark, crossed: bool) -> None:
    assert crossed == bool(crossed_words(word_boxes([_text(10, 10)]), strokes([mark])))


def test_words_turned_upright_are_crossed_by_a_level_stroke() -> None:
    upright = word_boxes([_text(10, 10, angle_deg=90)])
    assert crossed_words(upright, strokes([Line(x1=5, y1=12, x2=15, y2=12, role=Role.AID)]))
    assert not crossed_words(upright, strokes([Line(x1=11, y1=5, x2=11, y2=15, role=Role.AID)]))


@pytest.mark.parametrize(
    ("mark", "buried"),
    [
        (Circle(x=12, y=11, r=9, role=Role.GAUGE, filled=True), True),
        (Circle(x=12, y=11, r=9, role=Role.TINT, filled=True), False),
        (Circle(x=32, y=11, r=9, role=Role.GAUGE, filled=True), False),
        (Annulus(x=12, y=11, r_outer=9, r_inner=6, role=Role.GAUGE), False),
        (Annulus(x=22, y=11, r_outer=14, r_inner=3, role=Role.GAUGE), True),
        (Polyline(points=((0, 0), (50, 0), (50, 50)), role=Role.GAUGE, closed=True, filled=True), True),
    ],
)
def test_words_in_a_dark_shape_are_found(mark: Mark, buried: bool) -> None:
    assert buried == bool(buried_words(word_boxes([_text(10, 10)]), [mark]))
