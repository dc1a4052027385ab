"""The pack: read back from its PDF, laid out on every paper, complete, small, the same each time."""

from __future__ import annotations

from collections import Counter
from functools import cache
from itertools import combinations
from time import process_time

import pytest
from compare import marks, page_off_by
from every_sheet import NASTY
from hypothesis import given, settings
from hypothesis import strategies as st
from ink import buried_words, crossed_words, overlapping_words, strokes, word_box, word_boxes
from orders import orders, refusal_of
from pack_words import A4, PAPERS, PIECES, every, packed, pages_of, seats, words
from packs import CLASS, ODD, ORDERS, order_of, pack, pdf, plan
from pdf_reader import read_pdf
from readers import Path as Inked
from readers import Sheet

from jigs.guides.seat_leaf import seat_leaf
from jigs.packing.pack import MOST_CARDS, Pack, make_pack
from jigs.packing.sheets import Sheets
from jigs.planning.plan import make_plan
from layouts.affine import Affine
from layouts.drawing.marks import Mark, Text
from layouts.drawing.pens import PENS, Role
from layouts.pages.page import Setup
from layouts.pages.paper import find_paper
from layouts.pages.sheet import compose
from layouts.render.pdf import write_pdf

TRUE_MM = 0.0002


# --- measured in the file


@pytest.mark.parametrize("name", ["class", "odd"])
def test_every_mark_of_a_pack_is_true_in_its_pdf(name: str) -> None:
    found = read_pdf(pdf(name))
    assert len(pack(name).pages) == len(found)
    offs = [page_off_by(page, read) for page, read in zip(pack(name).pages, found, strict=True)]
    assert max(offs) < TRUE_MM


def cut_out(sheet: Sheet) -> list[tuple[float, float, float, float]]:
    """The rectangles drawn as cut lines on a page as read: left, bottom, right, top."""
    return [box for path in sheet.paths if (box := _rectangle(path)) is not None]


def _rectangle(path: Inked) -> tuple[float, float, float, float] | None:
    if path.filled or abs(path.width - PENS[Role.CUT].width_mm) > 1e-4 or len(path.subpaths) != 1:
        return None
    (sub,) = path.subpaths
    if not sub.closed or sub.curved or len(sub.points) != 4:
        return None
    xs, ys = sub.points.real, sub.points.imag
    return float(xs.min()), float(ys.min()), float(xs.max()), float(ys.max())


@cache
def nested_sheets(name: str, paper: str = "a4") -> list[Sheet]:
    """The pages of ring cards, labels and winding strips, as read back, once."""
    (entry,) = [entry for entry in pack(name, paper).entries if entry.what.startswith(PIECES)]
    return read_pdf(pdf(name, paper), pages=slice(entry.first - 1, entry.last))


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", ["dozen", "odd"])
def test_no_piece_overlaps_another_and_none_leaves_the_safe_area(name: str, paper: str) -> None:
    left, bottom, right, top = find_paper(paper).safe
    for sheet in nested_sheets(name, paper):
        boxes = cut_out(sheet)
        assert boxes
        for x1, y1, x2, y2 in boxes:
            assert left - TRUE_MM <= x1 < x2 <= right + TRUE_MM
            assert bottom - TRUE_MM <= y1 < y2 <= top + TRUE_MM
        for a, b in combinations(boxes, 2):
            across = min(a[2], b[2]) - max(a[0], b[0])
            along = min(a[3], b[3]) - max(a[1], b[1])
            assert min(across, along) < TRUE_MM


def test_a_leaf_for_very_many_kinds_says_each_caution_beside_its_ring_and_keeps_its_pages() -> None:
    # every ring of this wire has a caution, and those of twelve would fill the foot of each page
    rings = "".join(
        f'[[ring]]\nname = "kind {n}"\nwire = "1 mm"\nmetal = "phosphor bronze"\ninside = "{4 + n / 20:.2f} mm"\n'
        f'mandrel = "{3 + n / 20:.2f} mm"\ncount = 20\n'
        for n in range(12)
    )
    plan_ = make_plan(order_of(f'title = "many"\n{rings}'))
    cautions = [caution for ring in plan_.rings for caution in ring.cautions]
    assert len(cautions) >= 12
    jobs = tuple(Sheets(plan_, "right", "").jobs(plan_.groups[0]))
    said = [words(page) for page in compose(seat_leaf(jobs), A4)]
    assert 4 <= len(said) <= 6
    assert all("look out for what stands under the name of each ring" in page for page in said)
    whole = " ".join(said)
    assert all(whole.count(f"{ring.name}: ") == 1 for ring in plan_.rings)
    assert whole.count("Care: ") >= len(cautions)


def test_every_seat_gets_ring_card_label_and_winding_strip_of_each_ring_and_every_wire_a_label() -> None:
    widths = Counter(round(x2 - x1, 3) for sheet in nested_sheets("dozen") for x1, _, x2, _ in cut_out(sheet))
    assert widths == {88.0: 12 * 2 * 3 + 2}


def test_the_ring_on_a_label_is_true_in_the_file() -> None:
    """Class: toggle ring of 1.6 mm wire, wanted ID 9.8 (the mandrel gives 9.83): drawn from ID to OD = ID + 2 d.

    Twice for each of the eight seats: on the ring card and on the label.
    """
    found = [_two_circles(path) for sheet in nested_sheets("class") for path in sheet.paths]
    true = [both for both in found if both is not None and both == pytest.approx((9.8, 13.0), abs=2 * TRUE_MM)]
    assert len(true) == 2 * 8


def test_the_small_and_the_large_disc_of_a_ring_card_are_true_in_the_file() -> None:
    """Chain ring, ID 5.00: 2 % are 0.10; so discs of 4.90, 5.00 and 5.10, on the ring card of each of eight seats."""
    sizes = Counter(
        round(float(sub.points.real.max() - sub.points.real.min()), 2)
        for sheet in nested_sheets("class")
        for path in sheet.paths
        if path.filled and len(path.subpaths) == 1 and (sub := path.subpaths[0]).curved
    )
    assert [sizes[size] for size in (4.9, 5.0, 5.1)] == [8, 8, 8]


def _two_circles(path: Inked) -> tuple[float, float] | None:
    if not path.filled or len(path.subpaths) != 2:
        return None
    sizes = [float(sub.points.real.max() - sub.points.real.min()) for sub in path.subpaths]
    return min(sizes), max(sizes)


# --- laid out


@every
def test_no_words_touch_words_strokes_or_black(name: str, paper: str) -> None:
    for page in pages_of(name, paper):
        drawn = marks(page)
        boxes = word_boxes(drawn)
        assert overlapping_words(boxes) == []
        assert crossed_words(boxes, strokes(drawn)) == []
        assert buried_words(boxes, drawn) == []


@every
def test_all_ink_lies_where_printers_print_and_in_its_frame(name: str, paper: str) -> None:
    for page in pages_of(name, paper):
        assert [mark for mark in marks(page) if _leaves(mark, page.paper.safe, 0.13)] == []
        for placed in page.placed:
            frame = 0.0, 0.0, placed.drawing.width_mm, placed.drawing.height_mm
            assert [mark for mark in placed.drawing.marks if _leaves(mark, frame, 0.2)] == []


def _leaves(mark: Mark, frame: tuple[float, float, float, float], slack: float) -> bool:
    if isinstance(mark, Text):
        box = word_box(mark)
        if box is None:
            return False
        ink = box.extent
    else:
        ink = mark.inked
    low, high = min(ink[0] - frame[0], ink[1] - frame[1]), max(ink[2] - frame[2], ink[3] - frame[3])
    return low < -slack or high > slack


@pytest.mark.parametrize("name", [name for name in ORDERS if name != "odd"])
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_two_kinds_of_ring_of_a_seat_are_on_one_page(name: str, paper: str) -> None:
    made = pack(name, paper)
    (entry,) = [entry for entry in made.entries if entry.what == "Job cards"]
    if (name, paper) == ("alone", "letter"):
        return  # 37 coils to tick
    assert entry.last - entry.first + 1 == plan(name).order.seats


@pytest.mark.parametrize(("name", "most"), [("class", 18), ("ten", 22), ("dozen", 26), ("alone", 4)])
def test_a_pack_does_not_eat_paper(name: str, most: int) -> None:
    """Pages of A4 that an order of two kinds of ring may take."""
    made = packed(CLASS.replace("seats = 8 ", "seats = 10 ")) if name == "ten" else pack(name)
    assert len(made.pages) <= most


# --- small, quick, the same


def test_the_same_order_gives_the_same_bytes() -> None:
    assert write_pdf(packed(CLASS).pages) == write_pdf(packed(CLASS).pages)


def test_seats_share_their_drawings() -> None:
    pages = pack("dozen").pages
    (entry,) = [entry for entry in pack("dozen").entries if entry.what == "Job cards"]
    first, second = pages[entry.first - 1], pages[entry.first]  # seats 1 and 2
    assert all(a.drawing is b.drawing for a, b in zip(first.placed[:-1], second.placed[:-1], strict=True))
    alone = len(pdf("alone"))
    assert len(pdf("dozen")) < 2 * alone


def test_a_dozen_seats_take_few_pages_of_small_pieces() -> None:
    """Wanted: at most the area of the pieces over the field, x 1.10 + 1."""
    for paper in ("a4", "letter"):
        assert _pages_of_pieces(pack("dozen", paper)) <= _area_bound(pack("dozen", paper)) * 1.10 + 1


def test_two_thousand_pieces_take_few_pages_and_little_time() -> None:
    """500 seats: six pieces each on card."""
    start = process_time()
    made = packed(seats(CLASS, 500))
    data = write_pdf(made.pages)
    assert process_time() - start < 10
    assert _pages_of_pieces(made) <= _area_bound(made) * 1.10 + 1
    assert len(data) < 3_000_000


def _pages_of_pieces(made: Pack) -> int:
    (entry,) = [entry for entry in made.entries if entry.what.startswith(PIECES)]
    return entry.last - entry.first + 1


def _area_bound(made: Pack) -> float:
    """Area of all pieces over that of the field, in pages. The field: under the head's facts, over the foot's rule."""
    (entry,) = [entry for entry in made.entries if entry.what.startswith(PIECES)]
    pages = made.pages[entry.first - 1 : entry.last]
    drawings = [placed.drawing for page in pages for placed in page.placed[1:-1]]
    left, bottom, right, top = pages[0].paper.safe
    rule = next(m.y1 for m in reversed(pages[0].placed[0].drawing.marks[:9999]) if _is_foot_rule(m))
    head = min(m.y for m in pages[0].placed[0].drawing.marks if isinstance(m, Text) and m.string == "pieces")
    assert bottom < rule < head < top
    field = (right - left - 14.0) * (head - rule)
    return sum(drawing.width_mm * drawing.height_mm for drawing in drawings) / field


def _is_foot_rule(mark: Mark) -> bool:
    return getattr(mark, "role", None) is Role.AID and hasattr(mark, "y1")


def test_too_many_sets_are_refused_before_the_work_with_a_way_out() -> None:
    start = process_time()
    refusal = refusal_of(lambda: packed(seats(CLASS, 10_000)))
    assert process_time() - start < 10
    assert refusal.startswith(
        f"40000 job cards and ring cards are more than the {MOST_CARDS} of a pack; split the order; make one set"
    )


def test_one_set_serves_ten_thousand_seats_with_the_same_work() -> None:
    made = packed(seats(CLASS, 10_000), sets="once")
    (cards,) = [entry for entry in made.entries if entry.what == "Job cards"]
    assert cards.use == "print 10000 times, seats 1 to 10000: chain ring, toggle ring"
    assert len(made.pages) < 20


def test_an_unknown_way_of_making_sets_is_refused() -> None:
    assert refusal_of(lambda: packed(CLASS, sets="twice")).startswith("no way to make sets is called 'twice'")


def test_the_work_is_reported_step_by_step() -> None:
    steps: list[tuple[int, int]] = []
    make_pack(plan("class"), A4, report=lambda done, total: steps.append((done, total)))
    assert [done for done, _ in steps] == list(range(1, len(steps) + 1))
    assert {total for _, total in steps} == {len(steps)}


def test_paper_and_card_have_their_own_correction() -> None:
    paper, card = Affine(a=1.002, d=0.999), Affine(a=1.004, d=0.995)
    setups = [Setup(paper=find_paper("a4"), tile=True, correction=matrix) for matrix in (paper, card)]
    made = make_pack(plan("class"), *setups)
    wanted = [paper] + [{"paper": paper, "card": card}[e.on] for e in made.entries for _ in range(e.first, e.last + 1)]
    assert [page.correction for page in made.pages] == wanted


@settings(max_examples=40, deadline=None)
@given(text=orders(), paper=st.sampled_from(("a4", "letter")))
def test_any_good_order_has_a_pack_or_a_refusal(text: str, paper: str) -> None:
    def make() -> None:
        made = packed(text, Setup(paper=find_paper(paper), tile=True))
        assert made.entries[-1].last == len(made.pages)
        for page in made.pages:
            left, bottom, right, top = page.paper.safe
            for placed in page.placed[1:]:
                assert placed.x >= left - 1e-6
                assert placed.y >= bottom - 1e-6
                assert placed.x + placed.drawing.width_mm <= right + 1e-6
                assert placed.y + placed.drawing.height_mm <= top + 1e-6

    refusal_of(make)


def test_the_odd_order_carries_its_words_unharmed() -> None:
    assert NASTY[:38] in ODD.replace('\\"', '"').replace("\\\\", "\\")
    assert any(NASTY[:20] in words(page) for page in pack("odd").pages)
