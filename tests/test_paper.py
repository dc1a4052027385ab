"""Reference: sheet sizes against ISO 216 and ASME Y14.1."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from layouts.errors import OutOfRange, UnknownName
from layouts.pages.paper import Paper, find_paper, papers

INCH = 127 / 5  # mm, exact
NAMES = tuple(papers())


@pytest.mark.parametrize(("name", "size"), [("a5", (148, 210)), ("a4", (210, 297)), ("a3", (297, 420))])
def test_iso_sizes(name: str, size: tuple[float, float]) -> None:
    paper = find_paper(name)
    assert size == (paper.width_mm, paper.height_mm)
    assert paper.source == "ISO 216"


@pytest.mark.parametrize(("name", "inches"), [("letter", (8.5, 11)), ("legal", (8.5, 14))])
def test_inch_sizes(name: str, inches: tuple[float, float]) -> None:
    """ASME Y14.1 size A; legal is custom."""
    paper = find_paper(name)
    assert [INCH * side for side in inches] == pytest.approx([paper.width_mm, paper.height_mm], abs=1e-9)


def test_an_a_size_is_half_the_next_within_a_millimetre() -> None:
    """ISO 216: each is the one before, halved across and rounded down."""
    for larger, smaller in (("a3", "a4"), ("a4", "a5")):
        assert find_paper(smaller).height_mm == find_paper(larger).width_mm
        assert find_paper(smaller).width_mm == math.floor(find_paper(larger).height_mm / 2)


def test_the_papers_are_those_that_the_sheets_promise() -> None:
    assert {"a3", "a4", "a5", "legal", "letter"} <= {*NAMES}
    assert all(paper.source for paper in papers().values())


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("landscape", [False, True])
def test_ten_millimetres_are_kept_clear_and_eighteen_at_the_bottom(name: str, landscape: bool) -> None:
    """Bench practice, no source."""
    paper = find_paper(name, landscape=landscape)
    assert paper.safe == (10, 18, paper.width_mm - 10, paper.height_mm - 10)
    assert (paper.width_mm > paper.height_mm) == landscape == paper.landscape


@pytest.mark.parametrize("name", NAMES)
def test_turned_twice_is_the_same_paper(name: str) -> None:
    assert find_paper(name).turned().turned() == find_paper(name)


def test_the_label_has_name_way_and_size() -> None:
    assert find_paper("a4").label == "A4 portrait, 210 x 297 mm"
    assert find_paper("letter", landscape=True).label == "letter landscape, 279.4 x 215.9 mm"


def test_a_label_writes_a_name_as_its_row_has_it_and_not_by_how_it_begins() -> None:
    assert [paper.in_words for paper in papers().values() if paper.called] == ["A3", "A4", "A5"]
    assert replace(find_paper("letter"), name="atlas").label == "atlas portrait, 215.9 x 279.4 mm"
    assert replace(find_paper("letter"), called="B5").label == "B5 portrait, 215.9 x 279.4 mm"


def test_a_name_in_capitals_is_known() -> None:
    assert find_paper("A4") is find_paper("a4")


def test_an_unknown_paper_is_refused_with_the_nearest_first() -> None:
    with pytest.raises(UnknownName, match="no paper is called 'lettre'; known: letter, "):
        find_paper("lettre")


@pytest.mark.parametrize("bad", [0, -1, math.nan, math.inf])
def test_a_paper_without_a_size_is_refused(bad: float) -> None:
    with pytest.raises(OutOfRange, match="a paper size"):
        Paper(name="odd", width_mm=bad, height_mm=200, side_mm=10, top_mm=10, bottom_mm=18, source="none")
