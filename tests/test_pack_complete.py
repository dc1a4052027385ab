"""What is in a pack: all that each seat needs, once, named on its cover; and what is left out, with the reason."""

from __future__ import annotations

from collections import Counter

import pytest
from pack_words import A4, LARGE, PIECES, every, names, packed, ring_cards, title, words
from packs import CLASS, UNEVEN, order_of, pack

from jigs.bench.bench import Bench, Mandrel
from jigs.packing.pack import make_pack
from jigs.planning.plan import make_plan
from jigs.stock.drill import Drill
from layouts.render.pdf import write_pdf

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


def test_a_ring_called_ring_card_makes_no_ring_card() -> None:
    made = packed(LARGE.split("[[ring]]\n", 1)[0] + _only_large())
    assert names(made, "the ring card of") == []
    assert "Labels, winding strips" in [entry.what for entry in made.entries]


def _only_large() -> str:
    """A ring too large for a pocket card, with a name that says otherwise."""
    return '[[ring]]\nname = "ring card"\nwire = "1.6 mm"\nmetal = "phosphor bronze"\ninside = "60 mm"\neach_seat = 2\n'


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
    assert any("8 m + 4 m; 10200 mm to cut" in words(page) for page in pack("class").pages)


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
