"""The layout of every sheet on every paper: what each page says, and that nothing lies over anything else."""

from __future__ import annotations

import itertools
import re

import pytest
from compare import marks
from every_sheet import NASTY, SHEETS, Case, every_case, pages
from hypothesis import given, settings
from hypothesis import strategies as st
from ink import buried_words, crossed_words, overlapping_words, strokes, word_box, word_boxes

from layouts.drawing import rulers
from layouts.drawing.marks import Draft, Drawing, Line, Mark, Text
from layouts.drawing.pens import Role
from layouts.drawing.turning import quarter_turned
from layouts.errors import DoesNotFit, OutOfRange
from layouts.lengths import said_in
from layouts.pages.frame import EDGE_RULE, PRINT_AT
from layouts.pages.page import Content, Field, Page, Placed, Setup
from layouts.pages.paper import find_paper
from layouts.pages.sheet import GAP_MM, _Shelves, compose, repeated

INCH = 127 / 5  # mm, exact
every = pytest.mark.parametrize("case", every_case(), ids=str)
LEAST_TYPE_MM = 2.2


def _words(page: Page) -> str:
    """All words of a page, in the order of their drawing, as one line."""
    return " ".join(mark.string for mark in marks(page) if isinstance(mark, Text))


def _ink(mark: Mark) -> tuple[float, float, float, float] | None:
    if not isinstance(mark, Text):
        return mark.inked
    box = word_box(mark)
    return box and box.extent


def _outside(marks: list[Mark], frame: tuple[float, float, float, float], slack: float) -> list[Mark]:
    left, bottom, right, top = frame
    boxes = [(mark, _ink(mark)) for mark in marks]
    return [
        mark
        for mark, box in boxes
        if box is not None
        and (box[0] < left - slack or box[1] < bottom - slack or box[2] > right + slack or box[3] > top + slack)
    ]


@every
def test_no_words_overlap(case: Case) -> None:
    assert [pair for page in pages(case) for pair in overlapping_words(word_boxes(marks(page)))] == []


@every
def test_no_stroke_runs_through_words(case: Case) -> None:
    found = [hit for page in pages(case) for hit in crossed_words(word_boxes(marks(page)), strokes(marks(page)))]
    assert found == []


@every
def test_no_words_lie_on_a_dark_shape(case: Case) -> None:
    assert [hit for page in pages(case) for hit in buried_words(word_boxes(marks(page)), marks(page))] == []


@every
def test_all_ink_lies_where_printers_print(case: Case) -> None:
    """Bench practice: 10 mm clear at the sides and the top, 18 mm at the bottom. Half a line may stand over."""
    for page in pages(case):
        assert _outside(list(marks(page)), page.paper.safe, slack=0.13) == []


@every
def test_every_drawing_keeps_its_frame(case: Case) -> None:
    """Within half a line, and the 0.05 em by which a bracket is taller than a letter: frames are 4 mm apart."""
    for page in pages(case):
        for placed in page.placed:
            frame = 0.0, 0.0, placed.drawing.width_mm, placed.drawing.height_mm
            assert _outside(list(placed.drawing.marks), frame, slack=0.2) == []


@every
def test_drawings_keep_apart_and_in_the_page(case: Case) -> None:
    for page in pages(case):
        frame, *others = page.placed
        assert frame.drawing.name == "the check bars"
        assert not _touching(others)


@every
def test_no_type_is_too_small_to_read(case: Case) -> None:
    small = [mark for page in pages(case) for mark in marks(page) if isinstance(mark, Text)]
    assert [mark.string for mark in small if mark.size_mm < LEAST_TYPE_MM] == []


@every
def test_every_page_has_a_bar_of_100_mm_and_4_in_each_way(case: Case) -> None:
    for page in pages(case):
        lines = [mark for mark in page.placed[0].drawing.marks if isinstance(mark, Line) and mark.role is Role.TICK]
        assert _ticks_each_way(lines, 100.0)
        assert _ticks_each_way(lines, 4 * INCH)
        words = {mark.string for mark in marks(page) if isinstance(mark, Text)}
        assert {"100 mm", "4 in"} <= words


def _ticks_each_way(lines: list[Line], apart: float) -> bool:
    """Whether a pair of level ticks, and one of upright ticks, stand so far apart at the ends of a base line."""
    upright = [line for line in lines if line.x1 == line.x2]
    level = [line for line in lines if line.y1 == line.y2]
    across = {(round(line.x1, 4), round(min(line.y1, line.y2), 1)) for line in upright}
    along = {(round(line.y1, 4), round(min(line.x1, line.x2), 1)) for line in level}
    return all(
        any((round(at + apart, 4), place) in ticks for at, place in ticks) and len(ticks) > 100
        for ticks in (across, along)
    )


def test_the_search_for_a_bar_can_fail() -> None:
    (page,) = pages(Case(sheet="frame", variant="every-mark", paper="a4"))
    lines = [mark for mark in page.placed[0].drawing.marks if isinstance(mark, Line) and mark.role is Role.TICK]
    assert not _ticks_each_way(lines, 103.0)
    assert not _ticks_each_way([line for line in lines if line.x1 == line.x2], 100.0)


@every
def test_every_page_says_how_to_print_and_what_counts(case: Case) -> None:
    for number, page in enumerate(pages(case), 1):
        words = _words(page)
        assert PRINT_AT in words
        assert "100 %, actual size" in words
        assert EDGE_RULE in words
        with said_in("inch" if case.variant.startswith("inch") else "mm"):
            assert page.paper.label in words
        assert "printer: uncorrected" in words
        assert (NASTY if case.variant != "usual" else "Tuesday class") in words
        assert ("2026-11-25" in words) == (case.variant != "usual")
        assert len(pages(case)) == 1 or f"page {number}/{len(pages(case))}" in words


@every
def test_no_page_has_an_empty_field(case: Case) -> None:
    assert all(len(page.placed) > 1 for page in pages(case))


@pytest.mark.parametrize(
    ("sheet", "wanted"),
    [
        ("dowel", (r"EN 166", r"Z87\.1", r"EN 510", r"local codes", r"[Cc]lamp", r"spring")),
        ("bench-pin", (r"EN 166", r"Z87\.1", r"local codes", r"dust")),
    ],
)
def test_sheets_for_sawing_and_drilling_carry_their_cautions(sheet: str, wanted: tuple[str, ...]) -> None:
    """The usual cautions: EN 166, ANSI Z87.1, EN 510; deferral to local codes."""
    for case in every_case():
        if case.sheet == sheet:
            for page in pages(case):
                bold = " ".join(m.string for m in page.placed[0].drawing.marks if isinstance(m, Text) and m.bold)
                assert "Care:" in bold
                assert [words for words in wanted if not re.search(words, bold)] == []


def test_every_sheet_is_here() -> None:
    assert set(SHEETS) <= {case.sheet for case in every_case()}


# --------------------------------------------------------------------------------------------- shelves and pages


def _touching(placed: list[Placed], gap: float = GAP_MM) -> list[tuple[int, int]]:
    boxes = [(p.x, p.y, p.x + p.drawing.width_mm, p.y + p.drawing.height_mm) for p in placed]
    near = gap - 1e-6
    return [
        (i, j)
        for i, one in enumerate(boxes)
        for j, other in enumerate(boxes[:i])
        if one[0] < other[2] + near
        and other[0] < one[2] + near
        and one[1] < other[3] + near
        and other[1] < one[3] + near
    ]


def _sized(width: float, height: float) -> Drawing:
    draft = Draft()
    draft.line(0, 0, width, height)
    return draft.drawing(width, height, "a block")


sizes = st.lists(st.tuples(st.floats(1, 180), st.floats(1, 220)), min_size=1, max_size=40)


@settings(max_examples=100, deadline=None)
@given(sizes)
def test_shelves_keep_every_drawing_once_apart_inside_and_in_reading_order(sizes: list[tuple[float, float]]) -> None:
    shelves = _Shelves((24.0, 50.0, 204.0, 270.0))
    drawings = [_sized(*size) for size in sizes]
    for drawing in drawings:
        shelves.put(drawing)
    assert drawings == [placed.drawing for page in shelves.pages for placed in page]
    for page in shelves.pages:
        assert page
        assert _touching(page) == []
        for placed in page:
            assert placed.x >= 24 - 1e-6
            assert placed.y >= 50 - 1e-6
            assert placed.x + placed.drawing.width_mm <= 204 + 1e-6
            assert placed.y + placed.drawing.height_mm <= 270 + 1e-6
        for one, after in itertools.pairwise(page):
            beside = after.x > one.x
            below = after.y + after.drawing.height_mm < one.y + 1e-6
            assert beside or below


def test_two_drawings_that_touch_are_found() -> None:
    one, other = Placed(drawing=_sized(10, 10)), Placed(drawing=_sized(10, 10), x=13.9)
    assert _touching([one, other]) == [(1, 0)]
    assert _touching([one, Placed(drawing=_sized(10, 10), x=14.0)]) == []


@pytest.mark.parametrize(("width", "height"), [(176.1, 10), (10, 250), (500, 500)])
def test_a_drawing_larger_than_the_field_is_refused_with_both_sizes(width: float, height: float) -> None:
    content = Content(title="Big", facts=(), draw=lambda field: [_sized(width, height)])
    with pytest.raises(DoesNotFit) as caught:
        compose(content, Setup(paper=find_paper("a4")))
    assert caught.value.needs_mm == (width, height)
    assert caught.value.has_mm == pytest.approx((176, 230), abs=12)
    assert f"a block needs {width:.1f} x {height:.1f} mm and the space is 176.0 x" in str(caught.value)
    assert "nothing is shrunk to fit; use a larger paper, turn the paper to landscape or split" in str(caught.value)


def test_a_drawing_as_large_as_the_field_fits() -> None:
    content = Content(title="Full", facts=(), draw=lambda field: [_sized(*field)])
    (page,) = compose(content, Setup(paper=find_paper("a4")))
    assert len(page.placed) == 2


def test_the_field_that_a_sheet_is_told_is_the_one_it_gets() -> None:
    told: list[Field] = []

    def draw(field: Field) -> list[Drawing]:
        told.append(field)
        return [_sized(*field), _sized(*field)]

    pages = compose(Content(title="Two", facts=(), draw=draw), Setup(paper=find_paper("a5")))
    assert len(pages) == 2
    assert len(told) == 1
    assert "page 2/2" in _words(pages[1])


def test_notes_that_leave_no_room_are_refused() -> None:
    content = Content(title="Long", facts=(), draw=lambda field: [], notes=("many words " * 400,))
    with pytest.raises(DoesNotFit, match=r"the frame of the sheet needs .*; use a larger paper"):
        compose(content, Setup(paper=find_paper("a5")))


def test_repeated_pages_are_the_same_objects() -> None:
    pages = compose(Content(title="One", facts=(), draw=lambda field: []), Setup(paper=find_paper("a5")))
    assert [id(page) for page in repeated(pages, 3)] == [id(pages[0])] * 3


def test_a_corrected_page_keeps_its_marks() -> None:
    from every_sheet import CORRECTION

    content, paper = Content(title="One", facts=(), draw=lambda field: []), find_paper("a5")
    (page,) = compose(content, Setup(paper=paper))
    (corrected,) = compose(content, Setup(paper=paper, correction=CORRECTION))
    assert list(marks(page)) == list(corrected.marks())
    assert corrected.correction == CORRECTION


# -------------------------------------------------------------------------------------------------------- rulers


@pytest.mark.parametrize(("length", "centimetres", "inches"), [(100, 10, 4), (99.9, 9, 3), (176, 17, 6), (30, 3, 1)])
def test_a_ruler_has_whole_centimetres_and_whole_inches(length: float, centimetres: int, inches: int) -> None:
    strings = [mark.string for mark in rulers.ruler(length).marks if isinstance(mark, Text)]
    assert {f"{10 * centimetres}", f"{10 * centimetres} mm"} & set(strings)
    assert f"{inches} in" in strings
    assert f"{inches + 1} in" not in strings


def test_an_upright_ruler_has_the_same_ticks_upright() -> None:
    flat, upright = rulers.ruler(100), quarter_turned(rulers.ruler(100))
    across = sorted(mark.x1 for mark in flat.marks if isinstance(mark, Line) and mark.x1 == mark.x2)
    along = sorted(mark.y1 for mark in upright.marks if isinstance(mark, Line) and mark.y1 == mark.y2)
    assert across == along


@pytest.mark.parametrize("length", [9.99, 0, -5])
def test_a_ruler_under_a_centimetre_is_refused(length: float) -> None:
    with pytest.raises(OutOfRange, match="give it 10 mm or more"):
        rulers.ruler(length)
