"""The pack: read back from its PDF, laid out on every paper, complete, small, the same each time."""

from __future__ import annotations

from collections import Counter
from functools import cache
from itertools import combinations
from time import process_time

import pytest
from compare import page_off_by
from every_sheet import NASTY, marks
from hypothesis import given, settings
from hypothesis import strategies as st
from ink import buried_words, crossed_words, overlapping_words, strokes, word_box, word_boxes
from orders import orders, refusal_of
from packs import CLASS, ODD, ORDERS, UNEVEN, order_of, pack, pdf, plan
from readers import Path as Inked
from readers import Sheet, read_pdf

from jigs.bench.bench import Bench, Mandrel
from jigs.guides.seat_leaf import seat_leaf
from jigs.packing.pack import MOST_CARDS, Pack, make_pack
from jigs.packing.sheets import Sheets
from jigs.planning.plan import make_plan
from jigs.stock.drill import Drill
from layouts.affine import Affine
from layouts.drawing.marks import Mark, Text
from layouts.drawing.pens import PENS, Role
from layouts.pages.page import Page, Setup
from layouts.pages.paper import find_paper
from layouts.pages.sheet import compose
from layouts.render.pdf import write_pdf

TRUE_MM = 0.0002
PIECES = "Ring cards, labels"
PAPERS = ("a4", "letter", "a5", "a3")
A4 = Setup(paper=find_paper("a4"), tile=True)
every = pytest.mark.parametrize(("name", "paper"), [(name, paper) for name in ORDERS for paper in PAPERS])


def pages_of(name: str, paper: str = "a4") -> list[Page]:
    """The pages of a pack, each kind once: seats share theirs but for the number."""
    kinds = {tuple(id(placed.drawing) for placed in page.placed[:-1]): page for page in pack(name, paper).pages}
    return list(kinds.values())


def packed(text: str, setup: Setup = A4, sets: str = "each") -> Pack:
    return make_pack(make_plan(order_of(text)), setup, sets=sets)


def words(page: Page) -> str:
    return " ".join(mark.string for mark in marks(page) if isinstance(mark, Text))


def title(page: Page) -> str:
    return next(mark.string for mark in marks(page) if isinstance(mark, Text))


def seats(text: str, count: int) -> str:
    return text.replace("seats = 8 ", f"seats = {count} ").replace("count = 400 ", "each_seat = 50 ")


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
        xs, ys = box.corners.real, box.corners.imag
        ink = float(xs.min()), float(ys.min()), float(xs.max()), float(ys.max())
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


# --- complete


@every
def test_the_cover_says_what_is_where(name: str, paper: str) -> None:
    made = pack(name, paper)
    front = made.entries[0].first - 1
    cover = " ".join(words(page) for page in made.pages[:front])
    at = front + 1
    for entry in made.entries:
        assert entry.first == at
        assert entry.pages in cover
        assert name != "alone" or f"{entry.pages} ({entry.what.lower()})" in cover
        at = entry.last + 1
        for page in made.pages[entry.first - 1 : entry.last]:
            assert title(page).rstrip("s") == entry.what.rstrip("s")
    assert len(made.pages) == at - 1


@every
def test_pages_for_card_come_last(name: str, paper: str) -> None:
    stocks = [entry.on for entry in pack(name, paper).entries]
    assert stocks == sorted(stocks, reverse=True)


def test_every_page_is_numbered_and_a_job_card_says_whose_it_is() -> None:
    made = pack("class")
    last = [words(page).rpartition("4 in ")[2] for page in made.pages]
    assert "page 1 of 18" in words(made.pages[0])
    assert "seat 1 · 5 of 18" in words(made.pages[4])
    assert "seat 8 · 12 of 18" in words(made.pages[11])
    assert all(f"{number} of 18" in words(page) for number, page in enumerate(made.pages, 1))
    assert len(last) == 18


LARGE = CLASS.split("[[supply]]")[0].replace('inside = "9.8 mm"', 'inside = "60 mm"')  # too large for a pocket card


def ring_cards(made: Pack) -> list[Page]:
    return [page for page in made.pages if title(page) == "Ring card"]


def names(made: Pack, kind: str) -> list[str]:
    return [p.drawing.name for page in made.pages for p in page.placed if p.drawing.name.startswith(kind)]


def test_every_seat_has_its_ring_cards_and_the_room_its_bench_pin_once() -> None:
    made = pack("class")
    assert Counter(names(made, "the ring card of")) == {
        "the ring card of chain ring": 8,
        "the ring card of toggle ring": 8,
    }
    assert len([entry for entry in made.entries if entry.what == "Bench pin"]) == 1


def test_few_rings_get_no_bench_pin_of_their_own_and_the_cover_says_why() -> None:
    """Class: 16 toggle rings beside 464 chain rings; a dozen seats make 24."""
    assert any(
        "toggle ring: no bench pin of its own. 16 rings are too few for one" in words
        for words in pack("class").left_out
    )
    assert len([entry for entry in pack("dozen").entries if entry.what == "Bench pin"]) == 2


def test_a_ring_too_large_for_a_pocket_card_has_a_sheet_for_each_seat() -> None:
    made = packed(LARGE)
    cards = ring_cards(made)
    assert len(cards) == 8
    assert all(a.drawing is b.drawing for a, b in zip(cards[0].placed[:-1], cards[1].placed[:-1], strict=True))
    assert [f"seat {number} · " in words(page) for number, page in enumerate(cards, 1)] == [True] * 8
    assert len(ring_cards(packed(LARGE, sets="once"))) == 1


def test_one_set_for_all_says_how_often_each_part_is_printed() -> None:
    made = pack("class", sets="once")
    for entry in made.entries:
        if entry.what in ("Job cards", "Dowel strips") or entry.what.startswith(PIECES):
            assert entry.use.startswith("print 8 times, seats 1 to 8: ")
            assert "print 8 times, seats 1 to 8 · " in words(made.pages[entry.first - 1])
    assert names(made, "the ring card of") == ["the ring card of toggle ring", "the ring card of chain ring"]
    spools = made.entries[-1]
    assert (spools.what, spools.use) == ("Labels of spools", "print once: to cut out, one for each wire")


def test_a_seat_without_a_ring_of_a_kind_has_no_ring_card_for_it() -> None:
    """Odd: three kinds; two rings of the last kind for three seats."""
    assert len(names(pack("odd"), "the ring card of")) == 3 + 3 + 2


def test_the_leaves_say_who_winds_for_all_and_who_gets_rings_from_there() -> None:
    said = [words(page) for page in pack("uneven").pages if title(page) == "Job card"]
    assert "Hand out 1 and 1 spare each (toggle ring)." in said[0]
    assert "toggle ring 14 for all" in said[0]
    for page in said[1:]:
        assert "Seat 1 winds the toggle ring for all; fetch 1 and 1 spare there." in page
        assert "1.600 mm" not in page  # no wire, no mandrel, no gauge of it
    assert len(said) == 7
    unlike = UNEVEN.replace("each_seat = 1", "count = 10").replace('"100 %"', '"0 %"')
    [first, *_] = [words(page) for page in packed(unlike).pages if title(page) == "Job card"]
    assert "Hand out to seat 1: 2; to seats 2 to 3: 2 each; to seats 4 to 7: 1 each (toggle ring)." in first


def test_for_a_maker_alone_one_set_is_the_same_as_one_for_each() -> None:
    assert write_pdf(pack("alone", sets="once").pages) == write_pdf(pack("alone").pages)


def test_a_maker_alone_has_no_seats_and_no_teacher() -> None:
    made = pack("alone")
    assert [entry.what for entry in made.entries] == ["Bench pin", "Job cards", "Ring cards, labels, winding strips"]
    assert "Cost, EUR" in words(made.pages[0])
    assert not any("seat" in words(page) for page in made.pages)


def test_a_mandrel_that_is_not_drilled_gets_no_dowel_sheet_and_the_cover_says_why() -> None:
    made = pack("class")
    assert made.left_out[0] == (
        "chain ring: no dowel sheet. Ground rod 4.9 mm is ground steel: bend the tail and clamp it with the mandrel."
    )
    assert "no dowel sheet" in words(made.pages[0])


def test_what_is_drilled_or_wound_from_a_page_of_pieces_has_its_caution() -> None:
    made = pack("class")
    text = {entry.what: words(made.pages[entry.last - 1]) for entry in made.entries}
    assert "Care: clamp the dowel on a vee" in text["Dowel strips"]
    assert "Care: a wound coil is a spring and cut ends fly" in text["Ring cards, labels, winding strips"]


def test_a_mandrel_that_nobody_measured_is_nominal_on_the_dowel_sheet() -> None:
    made = pack("class")
    (entry,) = [entry for entry in made.entries if entry.what == "Dowels"]
    assert "Ø 9.50 mm is nominal: measure it" in words(made.pages[entry.first - 1])


def test_a_spool_says_in_which_lengths_its_wire_comes() -> None:
    """By the plan of the class: 464 chain rings of 10.20 m in lengths of 8 and 4 m."""
    assert any("8 m + 4 m; 10.2 m to cut" in words(page) for page in pack("class").pages)


@pytest.mark.parametrize(
    ("kerf", "why"), [("1.5 mm", "over 2 times the 0.5 mm of blade 8"), ("0.1 mm", "under the 0.16")]
)
def test_a_kerf_that_no_blade_cuts_has_no_bench_pin(kerf: str, why: str) -> None:
    ring = 'name = "disc"\nwire = "1.2 mm"\nmetal = "copper"\ninside = "8 mm"\ncount = 20\ncut = "saw"'
    made = packed(f'[[ring]]\n{ring}\nkerf = "{kerf}"\n')
    (left_out,) = [words for words in made.left_out if "pin" in words]
    assert left_out.startswith("disc: no bench pin. A kerf of")
    assert why in left_out


def test_an_owned_wooden_mandrel_gets_a_dowel_sheet_with_the_owned_drill() -> None:
    bench = Bench(
        mandrels=(Mandrel(name="oak", measured_mm=9.48, kind="wood"),),
        drills=(Drill(name="old 1.9", series="owned", diameter_mm=1.9),),
    )
    text = CLASS.replace('wire = "1.2 mm"', 'wire = "1.6 mm"').split("[[supply]]")[0]
    made = make_pack(make_plan(order_of(text), bench), A4)
    (entry,) = [entry for entry in made.entries if entry.what == "Dowels"]
    assert "old 1.9 (1.900 mm)" in words(made.pages[entry.first - 1])
    assert "drills yours" in words(made.pages[entry.first - 1])


def test_ring_card_and_job_card_accept_the_same_rings() -> None:
    # 5.00: 2 % are 0.10; 9.80: 0.196, rounded down 0.19
    cards = " ".join(words(page) for page in pack("class").pages if title(page).startswith(PIECES))
    jobs = " ".join(words(page) for page in pack("class").pages if title(page) == "Job card")
    for low, high in (("4.90", "5.10"), ("9.61", "9.99")):
        assert f"small {low} large {high}" in cards
        assert f"ID {low} to {high} mm" in cards  # the label
        assert f"{low} to {high} passes" in cards  # the ring card
        assert f"small {low} large {high}" in jobs
        assert f"good ring ID {low} to {high} mm" in jobs


def test_what_the_mandrel_gives_stands_beside_what_is_wanted() -> None:
    """Toggle ring: ID 9.80 wanted; a rod of 9.5 mm gives 9.84."""
    text = " ".join(words(page) for page in pack("class").pages)
    for said in ("ring ID 9.80, OD 13.00 mm, AR 6.12", "gives ID 9.84 mm", "wanted: ID 9.80 mm", "Wanted ID 9.80 mm"):
        assert said in text


def test_coils_of_nearly_one_size_share_a_bench_pin() -> None:
    text = CLASS.replace('inside = "9.8 mm"', 'inside = "5.2 mm"').replace('wire = "1.6 mm"', 'wire = "1.2 mm"')
    text = text.rpartition("[[supply]]")[0]
    pins = [entry for entry in packed(text).entries if entry.what == "Bench pin"]
    assert [pin.use for pin in pins] == ["to glue on wood, saw and drill; for coils of: chain ring, toggle ring"]


def test_what_is_too_large_for_the_paper_is_left_out_and_named() -> None:
    assert any("no bench pin" in words for words in pack("class", "a5").left_out)


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
