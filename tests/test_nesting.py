"""Nesting: nothing overlaps, nothing is lost or turned against its will, and few pages are used."""

from __future__ import annotations

import math
import random
import tracemalloc
from collections import Counter
from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from nesting_bound import FAMILIES, cases, pages_at_least

from layouts.drawing.marks import Arc, Draft, Drawing, Line, Text
from layouts.drawing.pens import Role
from layouts.drawing.turning import quarter_turned
from layouts.errors import DoesNotFit, OutOfRange
from layouts.pages import nesting
from layouts.pages.nesting import Piece, nest
from layouts.pages.page import Field, Placed
from layouts.pages.skyline import Cell

A4 = Field(176.0, 225.0)
SEAT = ((85.0, 45.0), (55.0, 62.0), (110.0, 14.0), (75.0, 120.0), (62.0, 29.0), (62.0, 29.0))  # one seat's pieces


def cut_out(width: float, height: float, name: str = "piece") -> Drawing:
    """A piece whose frame is its cut line."""
    draft = Draft()
    draft.rectangle(0.0, 0.0, width, height, Role.CUT)
    return draft.drawing(width, height, name)


def loose(width: float, height: float) -> Drawing:
    """A piece without a cut line of its own."""
    draft = Draft()
    draft.disc(width / 2, height / 2, min(width, height) / 2)
    return draft.drawing(width, height, "loose")


def seeded(count: int) -> list[tuple[float, float]]:
    rng = random.Random(count)
    return [(rng.uniform(15, 70), rng.uniform(8, 35)) for _ in range(count)]


def area_bound(sizes: Sequence[tuple[float, float]], field: Field = A4) -> int:
    return math.ceil(math.fsum(w * h for w, h in sizes) / (field.width_mm * field.height_mm))


def clear(one: Placed, other: Placed) -> float:
    """How far two pieces are apart across or along, whichever is more; below zero when they overlap."""
    across = max(one.x - other.x - other.drawing.width_mm, other.x - one.x - one.drawing.width_mm)
    along = max(one.y - other.y - other.drawing.height_mm, other.y - one.y - one.drawing.height_mm)
    return max(across, along)


def least_clear(page: Sequence[Placed]) -> float:
    return min((clear(a, b) for i, a in enumerate(page) for b in page[:i]), default=math.inf)


def is_inside(placed: Placed, field: Field) -> bool:
    right, top = placed.x + placed.drawing.width_mm, placed.y + placed.drawing.height_mm
    return min(placed.x, placed.y) >= -1e-6 and right <= field.width_mm + 1e-6 and top <= field.height_mm + 1e-6


sizes = st.lists(st.tuples(st.floats(1, 176), st.floats(1, 176), st.booleans(), st.booleans()), max_size=40)


@settings(max_examples=150, deadline=None)
@given(sizes, st.floats(0, 12))
def test_every_piece_is_once_on_a_page_inside_and_over_no_other(
    sizes: list[tuple[float, float, bool, bool]], gap: float
) -> None:
    pieces = [Piece(drawing=(cut_out if cut else loose)(w, h), may_turn=turn) for w, h, turn, cut in sizes]
    pages = nest(pieces, A4, gap)
    placed = [each for page in pages for each in page]
    either_way = Counter(tuple(sorted((p.drawing.width_mm, p.drawing.height_mm))) for p in placed)
    assert either_way == Counter(tuple(sorted(size[:2])) for size in sizes)
    assert all(page for page in pages)
    assert all(is_inside(each, A4) for each in placed)
    assert all(least_clear(page) >= -1e-6 for page in pages)


@settings(max_examples=50, deadline=None)
@given(sizes)
def test_a_piece_that_may_not_turn_is_the_drawing_that_was_given(sizes: list[tuple[float, float, bool, bool]]) -> None:
    drawings = [cut_out(*size[:2]) for size in sizes]
    pages = nest([Piece(drawing=drawing) for drawing in drawings], A4)
    assert Counter(id(each.drawing) for page in pages for each in page) == Counter(map(id, drawings))


@settings(max_examples=50, deadline=None)
@given(sizes, st.randoms(use_true_random=False))
def test_the_order_of_the_pieces_does_not_change_the_pages(
    sizes: list[tuple[float, float, bool, bool]], rng: random.Random
) -> None:
    pieces = [Piece(drawing=cut_out(w, h), may_turn=turn) for w, h, turn, _ in sizes]
    shuffled = rng.sample(pieces, len(pieces))
    places = [
        [sorted((p.x, p.y, p.drawing.width_mm, p.drawing.height_mm) for p in page) for page in nest(given, A4)]
        for given in (pieces, shuffled)
    ]
    assert places[0] == places[1]


def test_the_same_pieces_give_the_same_pages() -> None:
    pieces = [Piece(drawing=cut_out(*size), may_turn=True) for size in seeded(200)]
    assert nest(pieces, A4) == nest(pieces, A4)


def test_no_pieces_need_no_page() -> None:
    assert nest([], A4) == ()


def test_labels_that_share_their_cuts_fill_a_page_to_the_edge() -> None:
    """4 x 9 labels of 44 x 25 mm are 176 x 225 mm."""
    (page,) = nest([Piece(drawing=cut_out(44, 25))] * 36, A4)
    assert {(each.x, each.y) for each in page} == {(44.0 * i, 25.0 * j) for i in range(4) for j in range(9)}


def test_pieces_without_a_common_cut_keep_the_gap_and_reach_the_edges() -> None:
    """3 x 40 mm and 2 gaps of 8 mm are 136 mm."""
    (page,) = nest([Piece(drawing=loose(40, 40))] * 9, Field(136.0, 136.0), 8.0)
    assert {(round(each.x, 9), round(each.y, 9)) for each in page} == {
        (48.0 * i, 48.0 * j) for i in range(3) for j in range(3)
    }


def test_a_piece_that_shares_and_one_that_does_not_keep_half_the_gap() -> None:
    (page,) = nest([Piece(drawing=cut_out(50, 50)), Piece(drawing=loose(50, 50))], A4, 6.0)
    assert least_clear(page) == pytest.approx(3.0)


@pytest.mark.parametrize(("drawing", "shares"), [(cut_out(30, 20), True), (loose(30, 20), False)])
def test_a_piece_shares_its_cut_when_its_frame_is_its_cut_line(drawing: Drawing, shares: bool) -> None:
    assert Piece(drawing=drawing).shares_cut is shares


def test_a_cut_line_inside_the_frame_is_not_shared() -> None:
    draft = Draft()
    draft.rectangle(1.0, 1.0, 28.0, 18.0, Role.CUT)
    assert not Piece(drawing=draft.drawing(30, 20)).shares_cut


def test_a_piece_too_long_to_lie_across_is_turned_if_it_may_be() -> None:
    ((placed,),) = nest([Piece(drawing=cut_out(200, 20), may_turn=True)], A4)
    assert (placed.drawing.width_mm, placed.drawing.height_mm) == (20, 200)


def test_a_piece_too_long_to_lie_across_is_refused_if_it_may_not_turn() -> None:
    with pytest.raises(
        DoesNotFit, match=r"strip needs 200\.0 x 20\.0 mm and the space is 176\.0 x 225\.0 mm"
    ) as caught:
        nest([Piece(drawing=cut_out(200, 20, "strip"))], A4)
    assert "use a larger paper or turn the paper to landscape" in str(caught.value)


def test_a_piece_as_large_as_the_field_fits_whatever_the_gap() -> None:
    for drawing in (cut_out(*A4), loose(*A4)):
        pages = nest([Piece(drawing=drawing), Piece(drawing=cut_out(5, 5))], A4, 10.0)
        (placed,) = next(page for page in pages if page[0].drawing is drawing)
        assert (placed.x, placed.y) == pytest.approx((0, 0), abs=1e-9)


@pytest.mark.parametrize("gap", [-0.1, math.nan, math.inf])
def test_a_gap_that_is_none_is_refused(gap: float) -> None:
    with pytest.raises(OutOfRange, match="give 0 mm or more"):
        nest([], A4, gap)


def test_a_turned_drawing_that_comes_twice_is_one_object() -> None:
    drawing = cut_out(200, 20)
    (page,) = nest([Piece(drawing=drawing, may_turn=True)] * 4, A4)
    assert len({id(placed.drawing) for placed in page}) == 1


# ------------------------------------------------------------------------------------------------ turned drawings


def test_four_quarter_turns_bring_a_drawing_back() -> None:
    draft = Draft()
    draft.line(1, 2, 30, 4)
    draft.polyline(((1, 1), (5, 9), (20, 3)), Role.FOLD)
    draft.disc(10, 10, 3)
    draft.annulus(20, 10, 4, 2)
    draft.arc(30, 10, 5, 20, 100, Role.AID)
    draft.text(5, 15, "words", 2.5, anchor="middle")
    drawing = draft.drawing(40, 20)
    turned = drawing
    for _ in range(4):
        turned = quarter_turned(turned)
    assert (turned.width_mm, turned.height_mm) == (40, 20)
    for mark, other in zip(drawing.marks, turned.marks, strict=True):
        assert other.box == pytest.approx(mark.box)


def test_a_quarter_turn_is_counter_clockwise() -> None:
    draft = Draft()
    draft.line(0, 0, 40, 5)
    draft.arc(30, 10, 5, 0, 90, Role.AID)
    draft.text(40, 0, "up", 2.5)
    line, arc, text = quarter_turned(draft.drawing(40, 20)).marks
    assert isinstance(line, Line)
    assert isinstance(arc, Arc)
    assert isinstance(text, Text)
    assert (line.x1, line.y1, line.x2, line.y2) == (20, 0, 15, 40)
    assert arc.at(0) == pytest.approx((10, 35))  # was at the right, is at the top
    assert (text.x, text.y, text.angle_deg) == (20, 40, 90)


# ------------------------------------------------------------------------------------------------- few pages, soon


def test_twelve_seats_of_six_pieces_need_a_tenth_over_the_area_and_a_page() -> None:
    sizes = SEAT * 12
    for turn in (False, True):
        pages = nest([Piece(drawing=cut_out(*size), may_turn=turn) for size in sizes], A4)
        assert len(pages) <= area_bound(sizes) * 1.10 + 1


@pytest.mark.parametrize("turn", [False, True])
def test_two_thousand_small_pieces_need_a_tenth_over_the_area_and_a_page(turn: bool) -> None:
    sizes = seeded(2000)
    pages = nest([Piece(drawing=cut_out(*size), may_turn=turn) for size in sizes], A4)
    assert len(pages) <= area_bound(sizes) * 1.10 + 1


@pytest.mark.parametrize(
    ("size", "count", "pages"), [((100, 120), 5, 5), ((100, 100), 5, 3), ((70, 120), 5, 3), ((60, 80), 5, 2)]
)
def test_the_bound_for_large_pieces_is_worked_by_hand(size: tuple[int, int], count: int, pages: int) -> None:
    """Of 176 x 225 mm: over half both ways, one a page; over half across, two; over half up, two; else two by two."""
    assert pages_at_least([size] * count) == pages


def test_large_pieces_that_may_not_turn_need_a_twentieth_over_the_bound() -> None:
    needed = least = 0
    for family in FAMILIES:
        sizes = cases(family)[0]
        needed += len(nest([Piece(drawing=cut_out(*map(float, size))) for size in sizes], A4))
        least += pages_at_least(sizes)
    assert least <= needed <= 1.05 * least


class _Counted(list[float]):
    """A list that counts how often it is read."""

    reads = 0

    def __getitem__(self, place):  # type: ignore[no-untyped-def]
        _Counted.reads += 1
        return super().__getitem__(place)


class _CountedPool(nesting._Pool):
    def __init__(self, cells: Sequence[Cell], order: nesting.Order) -> None:
        super().__init__(cells, order)
        self.widths = _Counted(self.widths)


def _work(count: int) -> int:
    """How often the tree is read for so many pieces: a clock would say less."""
    _Counted.reads = 0
    nest([Piece(drawing=cut_out(*size)) for size in seeded(count)], A4)
    return _Counted.reads


def test_the_work_grows_as_n_log_n(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(nesting, "_Pool", _CountedPool)
    few, many = 500, 4000
    growth = many * math.log(many) / (few * math.log(few))
    assert 0 < _work(many) <= growth * _work(few)


def test_two_thousand_pieces_take_little_memory() -> None:
    pieces = [Piece(drawing=cut_out(*size)) for size in seeded(2000)]
    tracemalloc.start()
    nest(pieces, A4)
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert most < 20 * 2**20
