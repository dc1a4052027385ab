"""Refusals: what is wrong and what would help, as data and in words, behind any door and at the command line."""

from __future__ import annotations

import re

import pytest

from jigs.cli.refusals import WORDS, said
from layouts.errors import DoesNotFit, Give, Refusal, Remedy, listed


def test_a_refusal_says_the_problem_then_what_would_be_right() -> None:
    assert str(Refusal("a wire of 0 mm", "give it more than 0 mm")) == "a wire of 0 mm; give it more than 0 mm"
    assert str(Refusal("a wire of 0 mm")) == "a wire of 0 mm"


def test_remedies_are_said_without_a_door() -> None:
    refusal = DoesNotFit("a ruler", (310.0, 10.0), (190.0, 250.0), remedies=(Remedy.LARGER_PAPER, Remedy.TURN_PAPER))
    text = "use a larger paper or turn the paper to landscape"
    assert str(refusal) == f"a ruler needs 310.0 x 10.0 mm and the space is 190.0 x 250.0 mm; {text}"
    assert refusal.remedies == (Remedy.LARGER_PAPER, Remedy.TURN_PAPER)


def test_the_command_line_says_them_by_its_options() -> None:
    refusal = Refusal("it is too wide", "nothing is shrunk to fit", (Remedy.LARGER_PAPER, Remedy.SPLIT_OVER_PAGES))
    text = "take a larger --paper or split it over several pages with --tile"
    assert said(refusal) == f"it is too wide; nothing is shrunk to fit; {text}"


def test_a_field_to_give_is_an_option_with_its_values() -> None:
    two = Refusal("two of them", remedies=(Give(field="tray", values=("plain 80 g", "card")),))
    assert str(two) == "two of them; choose the tray: plain 80 g or card"
    assert said(two) == 'two of them; choose --tray "plain 80 g" or --tray card'
    assert said(Refusal("none", remedies=(Give(field="slot_length"),))) == "none; give --slot-length"
    assert str(Give(field="slot_length")) == "give the slot length"


@pytest.mark.parametrize("remedy", Remedy)
def test_every_remedy_has_words_of_its_own_at_the_command_line(remedy: Remedy) -> None:
    assert WORDS[remedy]
    assert not re.search(r"--|coilwright", remedy)


def test_words_are_listed_as_one_says_them() -> None:
    assert [listed("a"), listed("ab"), listed("abc"), listed("")] == ["a", "a or b", "a, b or c", ""]
