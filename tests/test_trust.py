"""What a sheet says that its gauges are good for."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from printing import Press, measured

from layouts.drawing.marks import Draft, Drawing, Text
from layouts.pages.page import Content, Field, Setup, Sized
from layouts.pages.paper import find_paper
from layouts.pages.sheet import compose
from layouts.printing.trust import good_for

LOUPE = measured(Press(), instrument="loupe")


def test_each_gauge_says_what_it_is_good_for() -> None:
    (note,) = good_for([Sized("disc", 5.0)], LOUPE)
    assert note == "Good for (k = 2): 5.0 mm disc: ±0.09 mm."
    assert math.ceil(100 * LOUPE.budget(5.0).expanded) == 9


def test_sizes_that_share_a_figure_stand_together_by_kind() -> None:
    gauges = [Sized("disc", size / 2) for size in range(6, 17)] + [Sized("ring", 7.9375), Sized("ring", 80.0)]
    (note,) = good_for(gauges, LOUPE)
    assert note == "Good for (k = 2): 3.0 to 8.0 mm disc: ±0.09 mm; 7.94 mm ring: ±0.09 mm; 80.0 mm ring: ±0.19 mm."


@pytest.mark.parametrize(
    ("tolerance", "needs_caliper"),
    [(0.0, False), (0.05, True), (0.09, True), (0.1, False), (0.11, False)],
)
def test_a_tolerance_closer_than_trust_or_two_percent_wants_a_caliper(tolerance: float, needs_caliper: bool) -> None:
    notes = good_for([Sized("disc", 5.0, tolerance)], LOUPE)
    assert (len(notes) == 2) is needs_caliper
    if needs_caliper:
        assert notes[1] == f"Use a caliper for 5.0 mm: ±{tolerance:g} mm is closer than a printed gauge can be trusted."


def test_two_percent_of_a_large_size_wants_a_caliper_too() -> None:
    assert len(good_for([Sized("disc", 20.0, 0.35)], LOUPE)) == 2
    assert len(good_for([Sized("disc", 20.0, 0.41)], LOUPE)) == 1


def test_without_gauges_nothing_is_said() -> None:
    assert good_for([], LOUPE) == ()


def test_a_sheet_that_is_not_corrected_says_that_it_is_not_known() -> None:
    def draw(field: Field) -> list[Drawing]:
        draft = Draft()
        draft.disc(5, 5, 5)
        return [draft.drawing(10, 10)]

    content = Content(title="Discs", facts=(), draw=draw, gauges=(Sized("disc", 10.0),))
    setup = Setup(paper=find_paper("a4"))
    unknown, known = (
        " ".join(mark.string for mark in compose(content, each)[0].marks() if isinstance(mark, Text))
        for each in (setup, replace(setup, printer=LOUPE))
    )
    assert "how good the gauges are is unknown until you measure both check bars" in unknown
    assert "Good for" not in unknown
    assert "10.0 mm disc: ±0.09 mm." in known
