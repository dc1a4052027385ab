"""Paper and card in the tray: found by their grams, and in no other way."""

from __future__ import annotations

import doctest

import pytest

from layouts.errors import Refusal
from layouts.pages import tray
from layouts.pages.tray import TrayPaper, grams_in, thickness_of, tray_papers


@pytest.mark.parametrize(
    ("words", "grams"),
    [
        ("plain 80 g", 80),
        ("card 160 g", 160),
        ("Card, 160g/m2", 160),
        ("250 g/m² card, matt", 250),
        ("80gsm", 80),
        ("80 GSM copier", 80),
        ("plain", None),
        ("", None),
        ("80", None),
        ("80 glossy", None),
        ("1.80 g", None),
        ("80 g on one side, 160 g on the other", None),
        ("20 lb bond", None),
    ],
)
def test_grams_are_read_from_words(words: str, grams: int | None) -> None:
    assert grams_in(words) == grams


def test_a_paper_is_found_by_its_grams_whatever_it_is_called() -> None:
    assert [getattr(thickness_of(words), "name", None) for words in ("thin card 80 g", "paper, 160 g", "card")] == [
        "plain 80 g",
        "card 160 g",
        None,
    ]
    assert thickness_of("plain 90 g") is None


def test_the_thickness_is_the_middle_of_the_span() -> None:
    plain, card = thickness_of("plain 80 g"), thickness_of("card 250 g")
    assert plain
    assert card
    assert plain.thickness_mm == pytest.approx(0.10)
    assert (card.thin_mm, card.thickness_mm, card.thick_mm) == pytest.approx((0.25, 0.28, 0.31))


def test_every_row_has_its_grams_in_its_name_a_source_and_a_thickness_that_grows_with_its_weight() -> None:
    papers = tray_papers()
    assert [grams_in(paper.name) for paper in papers] == [paper.grams for paper in papers]
    assert all(paper.source for paper in papers)
    assert [paper.thin_mm for paper in papers] == sorted(paper.thin_mm for paper in papers)
    assert len({paper.grams for paper in papers}) == len(papers)


@pytest.mark.parametrize("bad", [{"grams": 0}, {"thin_mm": -1.0}, {"thin_mm": 0.2}, {"thick_mm": float("nan")}])
def test_a_paper_that_cannot_be_is_refused(bad: dict[str, float]) -> None:
    given = {"name": "x", "grams": 80, "thin_mm": 0.1, "thick_mm": 0.1, "source": "s"}
    with pytest.raises(Refusal):
        TrayPaper(**{**given, **bad})  # type: ignore[arg-type]


def test_the_examples_are_so() -> None:
    assert doctest.testmod(tray) == (0, 2)
