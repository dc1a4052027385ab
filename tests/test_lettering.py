"""The lettering: every character of every sheet is in the embedded fonts, and the table of widths is theirs."""

from __future__ import annotations

import itertools
from functools import cache

import pytest
from compare import marks
from every_sheet import Case, every_case, from_pdf, pages
from fontTools.ttLib import TTFont
from hypothesis import given, settings
from hypothesis import strategies as st

from layouts.drawing import lettering
from layouts.drawing.marks import Text
from layouts.errors import Unprintable

both = pytest.mark.parametrize("bold", [False, True])
WORDS = "Ø × ± ½ ¼ ¾ ⅛ ″ ′ → ← ↑ ↓ ° π µ ≤ ≥ − · abc ABC 0123456789 äöüßéñ Ωλ Жя"


@cache
def _font(bold: bool) -> TTFont:
    return TTFont(lettering.font_path(bold=bold))


@cache
def _cmap(bold: bool) -> dict[int, str]:
    return dict(_font(bold).getBestCmap())


def _table(bold: bool) -> dict[str, int]:
    path = lettering.font_path(bold=bold).with_name("widths.txt")
    rows = [line.split("\t") for line in path.read_text(encoding="utf-8").splitlines()]
    return {character: int(thick if bold else plain) for character, plain, thick in rows}


@both
@pytest.mark.parametrize("case", every_case(), ids=str)
def test_every_character_of_every_sheet_is_in_the_font(case: Case, bold: bool) -> None:
    cmap = _cmap(bold)
    drawn = (mark for page in pages(case) for mark in marks(page))
    used = {c for mark in drawn if isinstance(mark, Text) and mark.bold == bold for c in mark.string}
    assert {c for c in used if ord(c) not in cmap} == set()
    assert len(used) > 10


@both
def test_the_search_for_missing_characters_can_fail(bold: bool) -> None:
    assert ord("⌀") not in _font(bold).getBestCmap()


@pytest.mark.parametrize("case", [case for case in every_case() if case.paper in ("a4", "letter")], ids=str)
def test_every_string_comes_back_from_the_pdf_by_its_own_map(case: Case) -> None:
    for page, read in zip(pages(case), from_pdf(case), strict=True):
        wanted = [mark.string for mark in marks(page) if isinstance(mark, Text)]
        assert wanted == [said.string for said in read.words]


@both
def test_the_table_of_widths_is_that_of_the_font(bold: bool) -> None:
    font = _font(bold)
    cmap, widths = font.getBestCmap(), font["hmtx"]
    assert _table(bold) == {c: widths[cmap[ord(c)]][0] for c in _table(bold)}
    assert font["head"].unitsPerEm == lettering.UNITS_PER_EM


def test_both_fonts_have_the_same_characters() -> None:
    assert set(_table(False)) == set(_table(True))
    assert set(WORDS) <= set(_table(False))


@both
def test_every_character_but_a_space_has_an_outline(bold: bool) -> None:
    empty = {c for c in _table(bold) if not lettering.outline(c, bold=bold)}
    assert {c for c in empty if not c.isspace()} == set()


@both
def test_letters_stand_within_the_heights_that_are_reckoned_with(bold: bool) -> None:
    font = _font(bold)
    glyphs, cmap = font["glyf"], font.getBestCmap()
    usual = [glyphs[cmap[ord(c)]] for c in "AHOXdhklbf0123456789gpqy"]
    assert max(glyph.yMax for glyph in usual) / 2000 == pytest.approx(lettering.ASCENT, abs=0.01)
    assert min(glyph.yMin for glyph in usual) / 2000 >= -lettering.DESCENT
    assert glyphs[cmap[ord("H")]].yMax / 2000 == pytest.approx(lettering.CAP_HEIGHT, abs=0.01)


BAD = {
    "nul": "a\0b",
    "escape": "a\x1b[31m",
    "newline": "a\nb",
    "tab": "a\tb",
    "delete": "a\x7f",
    "separator": "a\x1cb",
    "c1": "a\x85b",
    "not a character": "a\ufffe",
    "lone surrogate": "a\ud800b",
    "emoji": "a💍",
    "right to left": "a\u202eb",
    "no width": "a\u200bb",
    "not in the font": "⌀ 5",
    "tick": "✓",
    "combining": "e\u0301\u0489",
}


@pytest.mark.parametrize("string", BAD.values(), ids=BAD)
def test_a_character_that_the_lettering_lacks_is_refused_in_one_line(string: str) -> None:
    with pytest.raises(
        Unprintable, match=r"has a character that the lettering lacks, .* \(U\+[0-9A-F]{4,}\)"
    ) as caught:
        Text(x=0, y=0, string=string, size_mm=3)
    assert str(caught.value).isprintable()


printable = st.text(st.sampled_from(sorted(_table(False))), max_size=60)
sizes = st.floats(2.2, 7)


@settings(max_examples=100, deadline=None)
@given(printable, printable, sizes, st.booleans())
def test_widths_add_up(one: str, other: str, size: float, bold: bool) -> None:
    total = lettering.width_mm(one, size, bold=bold) + lettering.width_mm(other, size, bold=bold)
    assert lettering.width_mm(one + other, size, bold=bold) == pytest.approx(total)


@settings(max_examples=150, deadline=None)
@given(st.text(st.sampled_from("abcdefgh iWØ½ "), max_size=200), sizes, st.floats(1, 200), st.booleans())
def test_wrapping_keeps_every_word_and_keeps_within(string: str, size: float, within: float, bold: bool) -> None:
    lines = lettering.wrap(string, size, within, bold=bold)
    assert [word for line in lines for word in line.split(" ")] == string.split()
    for line in lines:
        assert lettering.width_mm(line, size, bold=bold) <= within + 1e-9 or " " not in line


@settings(max_examples=100, deadline=None)
@given(st.text(st.sampled_from("abcdefgh iW "), max_size=200), sizes, st.floats(1, 200))
def test_wrapping_fills_each_line(string: str, size: float, within: float) -> None:
    lines = lettering.wrap(string, size, within)
    for line, after in itertools.pairwise(lines):
        assert lettering.width_mm(f"{line} {after.split(' ')[0]}", size) > within


def test_advances_start_at_nought_and_end_at_the_width() -> None:
    (first, start), *_, (last, at) = lettering.advances("Ring 5", bold=True)
    assert (first, start, last) == ("R", 0, "5")
    assert (at + _table(True)["5"]) * 3 / 2000 == pytest.approx(lettering.width_mm("Ring 5", 3, bold=True))
