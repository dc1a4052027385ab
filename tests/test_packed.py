"""Which sheets a pack has and what it says of them: every limit on both sides, worked by hand, without a page drawn."""

from __future__ import annotations

from functools import cache

import pytest
from orders import refusal_of

from jigs.guides.pieces.job import LEAST_WITH_PAIR_MM
from jigs.orders.reading import order_of
from jigs.packing import pack as packing
from jigs.packing.pack import make_pack
from jigs.packing.sheets import Sheets
from jigs.planning.plan import Plan, make_plan
from layouts.drawing import lettering
from layouts.drawing.marks import Drawing, Text
from layouts.pages.page import Page, Setup
from layouts.pages.paper import Paper, find_paper

SAWN = '[making]\ncut = "saw"\nspares = "0 %"\n'
A4 = Setup(paper=find_paper("a4"), tile=True)


def ring(name: str, count: int, inside: str = "5 mm", wire: str = "1 mm", more: str = "") -> str:
    """A copper ring of an order."""
    return (
        f'[[ring]]\nname = "{name}"\nwire = "{wire}"\nmetal = "copper"\ninside = "{inside}"\ncount = {count}\n{more}\n'
    )


@cache
def planned(*rings: str, head: str = SAWN) -> Plan:
    return make_plan(order_of(head + "".join(rings)))


def sheets(*rings: str, head: str = SAWN) -> Sheets:
    return Sheets(planned(*rings, head=head), "right", "")


def strings(drawing: Drawing) -> list[str]:
    return [mark.string for mark in drawing.marks if isinstance(mark, Text)]


# --- bench pins


@pytest.mark.parametrize(
    ("rings", "pins"),
    [
        # coils of 5, 8 and 12 mm rings share no groove; 20 rings are too few for a second pin, 21 are not
        ((ring("a", 100), ring("b", 20, "8 mm"), ring("c", 21, "12 mm")), [["a"], ["c"]]),
        ((ring("a", 20),), [["a"]]),  # the first pin is for however few
        ((ring("a", 3), ring("b", 1, "8 mm")), [["a"]]),
        ((ring("a", 50), ring("b", 11, "8 mm"), ring("c", 10, "8.4 mm")), [["a"], ["b", "c"]]),  # 21 of one groove
        ((ring("a", 50), ring("b", 10, "8 mm"), ring("c", 10, "8.4 mm")), [["a"]]),
        ((ring("a", 50), ring("b", 70, "8 mm")), [["b"], ["a"]]),  # the most rings first
    ],
)
def test_coils_of_a_pin_of_their_own(rings: tuple[str, ...], pins: list[list[str]]) -> None:
    made = list(sheets(*rings).pins())
    assert [[one.name for one in served] for served, _ in made] == pins
    # its groove is for the coil of the first, of which there are most
    assert [dict(pin.facts)["coil outside"] for _, pin in made] == [
        f"{round(served[0].batch.coil.outside_mm, 2):g} mm" for served, _ in made
    ]


@pytest.mark.parametrize(("count", "said"), [(1, "1 ring is too few"), (2, "2 rings are too few")])
def test_too_few_for_a_pin_is_said_with_what_to_do(count: int, said: str) -> None:
    made = sheets(ring("a", 30), ring("b", count, "8 mm"))
    list(made.pins())
    assert made.left_out[-1] == (
        f"b: no bench pin of its own. {said} for one: hold the coil at a starter kerf of the other pin."
    )


@pytest.mark.parametrize(("mandrel", "pins"), [("8.1 mm", 1), ("8.3 mm", 2), ("5.7 mm", 2), ("5.9 mm", 1)])
def test_coils_up_to_fifteen_in_a_hundred_larger_or_smaller_share_a_groove(mandrel: str, pins: int) -> None:
    # coils that do not open: 7 mm and a wire of 0.5 mm on each side are 8 mm; 15 % more are 9.2, less 6.8 mm outside,
    # 8.2 and 5.8 mm on the mandrel
    made = sheets(
        ring("a", 50, "7 mm", "0.5 mm", 'mandrel = "7 mm"\ntrial_mandrel = "5 mm"\ntrial_inside = "5 mm"'),
        ring("b", 40, "7 mm", "0.5 mm", f'mandrel = "{mandrel}"\ntrial_mandrel = "5 mm"\ntrial_inside = "5 mm"'),
    )
    assert len(list(made.pins())) == pins


@pytest.mark.parametrize(
    ("mandrel", "wood"),
    [
        # a finger is half of what a vee of 22 mm leaves: 26.5 of 75 mm; less 2.5 on each side a groove of 21.5, which
        # is 1.3 of a coil of 16.54 mm; of 95 mm 36.5, 31.5 and 24.23 mm. A wire of 1 mm: 2 mm less on the mandrel.
        ("14.5 mm", "120 × 75 × 19 mm"),
        ("14.6 mm", "120 × 95 × 25 mm"),
        ("22.2 mm", "120 × 95 × 25 mm"),
    ],
)
def test_the_wood_of_a_pin_is_the_smallest_that_takes_the_groove(mandrel: str, wood: str) -> None:
    [(_, pin)] = sheets(not_opening(mandrel)).pins()
    facts = dict(pin.facts)
    assert (facts["wood"], facts["layout"]) == (wood, "full")
    assert facts["coil outside"] == f"{float(mandrel[:-3]) + 2:g} mm"


def test_a_coil_too_large_for_any_groove_gets_a_pin_without_one() -> None:
    made = sheets(not_opening("22.3 mm"))
    [(_, pin)] = made.pins()
    assert (dict(pin.facts)["wood"], dict(pin.facts)["layout"]) == ("120 × 75 × 19 mm", "vee-hole, kerfs, guide")
    assert made.left_out == [
        "a: no groove in the bench pin. A coil of 24.3 mm does not suit one: hold it against the wood."
    ]


def not_opening(mandrel: str) -> str:
    trial = 'trial_mandrel = "5 mm"\ntrial_inside = "5 mm"\n'
    return ring("a", 30, "14 mm", more=f'mandrel = "{mandrel}"\n{trial}')


# --- ring cards


def test_large_rings_of_one_wire_and_tolerance_share_a_ring_card() -> None:
    made = sheets(
        ring("a", 30, "60 mm", "0.104 in"),
        ring("b", 30, "60 mm", "12 SWG"),  # the same wire, 0.104 in
        ring("c", 30, "60 mm", "2 mm"),
        ring("d", 30, "70 mm", "2 mm"),  # 2 % are 1.4 mm, not 1.2
        ring("e", 30, "30 mm", "1 mm"),  # on a pocket card
    )
    cards = [([one.name for one in rings], dict(content.facts)) for rings, content in made.ring_cards()]
    assert cards == [
        (["a", "b"], {"wire": "2.642 mm", "inside": "60.00 mm", "tolerance": "±1.2 mm"}),
        (["c"], {"wire": "2.000 mm", "inside": "60.00 mm", "tolerance": "±1.2 mm"}),
        (["d"], {"wire": "2.000 mm", "inside": "70.00 mm", "tolerance": "±1.4 mm"}),
    ]


@pytest.mark.parametrize(("inside", "discs"), [("1.00 mm", ["small 0.98", "large 1.02"]), ("0.99 mm", [])])
def test_a_ring_of_a_millimetre_has_a_small_and_a_large_disc(inside: str, discs: list[str]) -> None:
    assert LEAST_WITH_PAIR_MM == 1
    made = sheets(ring("a", 30, inside, "0.2 mm"))
    [(_, [job])] = [(group, list(made.jobs(group))) for group in made.plan.groups]
    assert [words for words in strings(made.pieces(job)[0]) if words.startswith(("small", "large"))] == discs


# --- labels of spools


@pytest.mark.parametrize(
    ("kinds", "said"), [(4, []), (5, ["and 1 more kind of ring"]), (6, ["and 2 more kinds of ring"])]
)
def test_a_spool_names_four_rings(kinds: int, said: list[str]) -> None:
    [label] = sheets(*(ring(f"r{number}", 10, f"{5 + number} mm") for number in range(kinds))).spools()
    words = strings(label)
    assert [word for word in words if word.startswith("and ")] == said
    assert [word[:2] for word in words if word.startswith("r")] == ["r0", "r1", "r2", "r3"]


# --- pages and their numbers


@pytest.mark.parametrize(("kinds", "said"), [(4, "r0, r1, r2, r3"), (5, "5 kinds of ring")])
def test_the_contents_name_four_rings_or_count_them(kinds: int, said: str) -> None:
    rings = planned(*(ring(f"r{number}", 10, f"{5 + number} mm") for number in range(kinds))).rings
    assert packing._named(rings) == said


def test_the_number_stands_in_the_lower_right_corner() -> None:
    # A4 prints 5 mm or so from its side: the words end where that begins, bold, 2.5 mm, 0.6 mm over the line
    made = make_pack(planned(ring("a", 30)), A4)
    count = len(made.pages)
    for number, page in enumerate(made.pages, 1):
        at = page.placed[-1]
        [words] = at.drawing.marks
        assert isinstance(words, Text)
        assert (words.string, words.size_mm, words.bold) == (f"page {number} of {count}", 2.5, True)
        width = lettering.width_mm(words.string, 2.5, bold=True)
        assert (words.x, words.y, words.anchor) == (0.0, 0.6, "start")
        assert (at.drawing.width_mm, at.drawing.height_mm) == (width, 3.0)
        _, bottom, right, _ = page.paper.safe
        assert (at.x, at.y) == (pytest.approx(right - width), bottom)


def test_what_the_paper_of_a_maker_alone_is_too_small_for_is_left_out_by_name() -> None:
    # A5: the strip of a dowel of 29.4 mm needs 133 mm with its head, a pin 122 x 151 mm, discs of 40 mm 185 mm across
    rings = ring("a", 30, "30 mm", "2 mm"), ring("b", 30, "40 mm", "2 mm")
    made = make_pack(planned(*rings), Setup(paper=find_paper("a5")))
    assert [words.partition(". ")[0] for words in made.left_out if "groove" not in words] == [
        "a: no bench pin",
        "b: no bench pin",
        "b: no ring card",
        "a, b: no dowels",
    ]
    assert [entry.what for entry in made.entries] == ["Job cards", "Ring cards, labels, winding strips"]
    front = made.pages[0].placed
    assert any("no dowels" in words for at in front for words in strings(at.drawing))
    assert not any("dowel" in at.drawing.name for at in front)


@pytest.mark.parametrize(
    ("seats", "count", "said"),
    [
        (5, 11, ["seat 1: a", "print 4 times, seats 2 to 5: a"]),
        (3, 5, ["print 2 times, seats 1 to 2: a", "seat 3: a"]),
    ],
)
def test_one_set_says_for_which_seats_it_is(seats: int, count: int, said: list[str]) -> None:
    made = make_pack(planned(ring("a", count), head=f"seats = {seats}\n{SAWN}"), A4, sets="once")
    assert [entry.use for entry in made.entries if entry.what == "Job cards"] == said


# --- too many


@pytest.mark.parametrize(
    ("seats", "sets", "said"),
    [
        # a job card and a ring card for each seat that makes rings
        (4, "each", ""),
        (5, "each", "10 job cards and ring cards are more than the 8 of a pack; split the order; make one set for all"),
        (5, "once", ""),
    ],
)
def test_so_many_cards_are_a_pack_and_one_more_is_not(
    monkeypatch: pytest.MonkeyPatch, seats: int, sets: str, said: str
) -> None:
    monkeypatch.setattr(packing, "MOST_CARDS", 8)
    plan = planned(ring("a", 10 * seats), head=f"seats = {seats}\n{SAWN}")
    assert refusal_of(lambda: make_pack(plan, A4, sets=sets)).startswith(said or "")
    assert bool(said) == bool(refusal_of(lambda: make_pack(plan, A4, sets=sets)))


def test_one_set_for_each_kind_of_seat_can_be_too_many_too(monkeypatch: pytest.MonkeyPatch) -> None:
    # five seats share 11 rings: one of three and four of two, two sets of a job card and a ring card
    plan = planned(ring("a", 11), head=f"seats = 5\n{SAWN}")
    monkeypatch.setattr(packing, "MOST_CARDS", 4)
    assert refusal_of(lambda: make_pack(plan, A4, sets="once")) == ""
    monkeypatch.setattr(packing, "MOST_CARDS", 3)
    assert refusal_of(lambda: make_pack(plan, A4, sets="once")) == (
        "4 job cards and ring cards are more than the 3 of a pack; split the order"
    )


def test_a_pack_has_two_thousand_cards_at_most() -> None:
    class Begun(Exception):
        pass

    def begun(done: int, total: int) -> None:
        raise Begun

    def packed(seats: int) -> str:
        plan = planned(ring("a", seats), head=f"seats = {seats}\n{SAWN}")
        return refusal_of(lambda: make_pack(plan, A4, report=begun))

    with pytest.raises(Begun):
        packed(1000)
    assert packed(1001).startswith("2002 job cards and ring cards are more than the 2000 of a pack")


@pytest.mark.parametrize(
    ("more_mm", "said"), [(0.01, "seat 1 · 2 of 9"), (-0.01, "2 of 9"), (-20.0, "2"), (-30.0, "2")]
)
def test_the_number_is_said_as_far_as_there_is_room_beside_the_check_bar(more_mm: float, said: str) -> None:
    # at its left the foot of a page has 14 mm of heading, a bar of 100 mm, and 6 mm between
    wide = 120.0 + lettering.width_mm("seat 1 · 2 of 9", 2.5, bold=True) + more_mm
    paper = Paper(name="slip", width_mm=wide + 10, height_mm=200, side_mm=5, top_mm=5, bottom_mm=5, source="a test")
    page = packing._numbered(Page(paper=paper, placed=(), title="slip"), 2, 9, "seat 1")
    [at] = page.placed
    assert strings(at.drawing) == [said]
    assert at.x + at.drawing.width_mm == pytest.approx(wide + 5)


@pytest.mark.parametrize(("paper", "hole"), [("a4", True), ("a5", False)])
def test_the_cover_of_a_maker_alone_has_the_dowels_with_their_caution_or_that_of_wire_alone(
    paper: str, hole: bool
) -> None:
    # a dowel of 29.4 mm: its strip is too long for A5
    made = make_pack(planned(ring("a", 30, "30 mm", "2 mm")), Setup(paper=find_paper(paper)))
    front = " ".join(words for at in made.pages[0].placed for words in strings(at.drawing))
    assert ("scrap under the exit" in front) == hole
    assert any("dowel" in at.drawing.name for at in made.pages[0].placed) == hole
    assert ("of diameter is 3.14 mm of strip" in front) == hole
    assert "protect your eyes" in front.lower()
