"""Cutting stock: published instances with their optima, bounds, and plans that cut exactly what is needed."""

from __future__ import annotations

import random
from collections import Counter
from itertools import product

import pytest
from cutting_families import cases
from hypothesis import given, settings
from hypothesis import strategies as st

from jigs.cutting_stock.effort import Work
from jigs.cutting_stock.knapsack import Worth, fullest
from jigs.cutting_stock.plan import CuttingPlan
from jigs.cutting_stock.solve import cut_from_one, cut_stock
from layouts.errors import OutOfRange


def pieces_of(plan: CuttingPlan) -> Counter[int]:
    pieces: Counter[int] = Counter()
    for pattern in plan.patterns:
        assert pattern.used_mm <= pattern.stock_mm
        for length, count in pattern.pieces:
            pieces[length] += count * pattern.times
    return pieces


def test_the_paper_mill_instance_takes_73_rolls() -> None:
    # The paper machine example of the encyclopedia article "Cutting stock problem": rolls of 5600 mm, 13 widths, an
    # optimum of 73 rolls with 0.401 % waste. Figures from memory; they check themselves: the pieces are 407,160 mm,
    # 407,160 / 5600 = 72.7, so 73 is a lower bound, and (73 x 5600 - 407,160) / 408,800 = 0.401 %.
    needs = {1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20}
    needs |= {2000: 10, 2050: 12, 2100: 14, 2140: 16, 2150: 18, 2200: 20}
    plan = cut_stock(needs, [5600])
    assert plan.lengths == ((5600, 73),)
    assert plan.is_proved
    assert plan.left_mm / plan.bought_mm == pytest.approx(0.00401, abs=5e-6)
    assert pieces_of(plan) == needs


def test_chvatal_s_instance_takes_453_rolls() -> None:
    # V. Chvatal, Linear Programming (1983), chapter 13: rolls of 100 in, 97 of 45, 610 of 36, 395 of 31, 211 of 14;
    # the relaxed optimum is 452.25, so 453. Figures from memory.
    plan = cut_stock({45: 97, 36: 610, 31: 395, 14: 211}, [100])
    assert plan.lengths == ((100, 453),)
    assert plan.is_proved


def test_a_bound_by_values_proves_what_the_lengths_alone_cannot() -> None:
    # 9 pieces of 501 from 1000: only one fits into each; the lengths alone say 4509 / 501 = 9 as the fullest is 501
    assert cut_stock({501: 9}, [1000]).bound_mm == 9000
    # 3 of 600 and 3 of 500 and 1 of 400: 3700 mm say 4; no two of the long ones share a length: 5
    plan = cut_stock({600: 3, 500: 3, 400: 1}, [1000])
    assert (plan.bought_mm, plan.bound_mm) == (5000, 5000)


def test_first_fit_decreasing_is_beaten_where_it_wastes() -> None:
    # from 12: first fit decreasing cuts 8 3 / 7 2 2 / 2 and takes three; 8 2 2 / 7 3 2 are two
    assert cut_stock({8: 1, 7: 1, 3: 1, 2: 3}, [12]).lengths == ((12, 2),)


def test_column_generation_closes_a_gap_that_filling_leaves() -> None:
    # 17 of each fill 17 lengths of 100 exactly as 51 + 27 + 22, and fullest first goes astray on them
    assert cut_stock({51: 17, 27: 17, 22: 17, 26: 16, 23: 16}, [100]).is_proved


def test_a_bound_counts_what_each_length_can_hold() -> None:
    # 480 and 520 fill 1000; alone 900 holds one of them: 3 x 480 and 3 x 520 from 1000 and 900 take 3000, not 2800
    plan = cut_stock({480: 3, 520: 3}, [1000, 900])
    assert (plan.bought_mm, plan.bound_mm) == (3000, 3000)


def test_a_length_beyond_what_is_needed_is_not_bought() -> None:
    assert cut_stock({312: 64, 145: 8}, [900_000, 5000]).lengths == ((5000, 5),)


def test_a_remainder_comes_from_the_shortest_length_that_holds_it() -> None:
    assert cut_stock({400: 12, 150: 2}, [5000, 1000]).lengths == ((5000, 1), (1000, 1))
    assert cut_stock({900: 1}, [5000, 1000]).lengths == ((1000, 1),)


def test_what_is_at_hand_is_filled_before_anything_is_bought() -> None:
    plan = cut_stock({300: 10}, [1000], [650, 1250])
    assert plan.owned_used_mm == 1800
    assert plan.lengths == ((1000, 2),)
    assert plan.is_proved


def test_what_is_at_hand_serves_where_it_serves_best() -> None:
    # filled first, the 1837 at hand takes 764 + 2 x 469 and spoils the others; 3 x 2000 hold 2 x 764 + 469 each, and
    # it takes the last two of 764
    plan = cut_stock({469: 3, 764: 8}, [2000, 700], [1837])
    assert (plan.bought_mm, plan.is_proved) == (6000, True)


def test_enough_at_hand_means_nothing_is_bought() -> None:
    plan = cut_stock({300: 2}, [1000], [700])
    assert (plan.bought_mm, plan.bound_mm, plan.is_proved) == (0, 0, True)
    assert plan.offcuts == ((100, 1),)


def test_wire_without_lengths_is_bought_in_one_piece() -> None:
    plan = cut_from_one({300: 4, 200: 1}, [650])
    assert plan.lengths == ((800, 1),)
    assert (plan.owned_used_mm, plan.left_mm, plan.is_proved) == (600, 0, True)


def test_a_piece_longer_than_every_length_is_refused() -> None:
    with pytest.raises(OutOfRange, match="a piece of 1200 mm is longer than the longest length sold, 1000 mm; cut"):
        cut_stock({1200: 1}, [1000])
    assert cut_stock({1200: 1}, [1000], [1300]).bought_mm == 0


@pytest.mark.parametrize(
    ("pieces", "sold", "message"),
    [
        ({0: 1}, [10], "a piece without a length"),
        ({3: 0}, [10], "a piece without a length"),
        ({3: 5_000_000}, [10], "5000000 pieces are too many"),
        ({3: 1}, [], "no length to cut from is given"),
        ({3: 1}, [10**8], "no length to cut from is given"),
    ],
)
def test_what_cannot_be_cut_is_refused(pieces: dict[int, int], sold: list[int], message: str) -> None:
    with pytest.raises(OutOfRange, match=message):
        cut_stock(pieces, sold)


NEEDS = st.dictionaries(st.integers(5, 60), st.integers(1, 9), min_size=1, max_size=5)


@settings(max_examples=150, deadline=None)
@given(NEEDS, st.lists(st.integers(60, 150), min_size=1, max_size=3), st.lists(st.integers(1, 90), max_size=3))
def test_every_plan_cuts_what_is_needed_and_never_beats_its_bound(
    needs: dict[int, int], sold: list[int], owned: list[int]
) -> None:
    plan = cut_stock(needs, sold, owned)
    assert pieces_of(plan) == needs
    assert plan.bought_mm >= plan.bound_mm
    assert plan.bought_mm + plan.owned_used_mm == plan.cut_mm + plan.left_mm
    used = Counter({p.stock_mm: p.times for p in plan.patterns if p.owned})
    assert all(used[length] <= owned.count(length) for length in used)


@settings(max_examples=60, deadline=None)
@given(st.dictionaries(st.integers(2, 9), st.integers(1, 3), min_size=1, max_size=3))
def test_small_plans_are_as_good_as_trying_everything(needs: dict[int, int]) -> None:
    loads = [size for size, count in needs.items() for _ in range(count)]
    assert cut_stock(needs, [12]).bought_mm == 12 * fewest_bars(sorted(loads, reverse=True), 12)


PRICES = st.dictionaries(st.integers(6, 14), st.integers(1, 9), min_size=1, max_size=3)


@settings(max_examples=100, deadline=None)
@given(st.dictionaries(st.integers(2, 6), st.integers(1, 3), min_size=1, max_size=3), PRICES, st.booleans())
def test_small_plans_with_prices_pay_least_and_then_buy_least(
    needs: dict[int, int], prices: dict[int, int], has_owned: bool
) -> None:
    owned = [7, 4] if has_owned else []
    plan = cut_stock(needs, prices, owned)
    assert pieces_of(plan) == needs
    assert (plan.paid, plan.bought_mm) == least_paid(needs, prices, owned)
    assert (plan.bound_paid, plan.bound_mm) <= (plan.paid, plan.bought_mm)


def least_paid(needs: dict[int, int], prices: dict[int, int], owned: list[int]) -> tuple[int, int]:
    """By trying every place for every piece: in a length begun, at hand or bought, or in a new one."""
    loads = sorted((size for size, count in needs.items() for _ in range(count)), reverse=True)
    states = {tuple(sorted(owned)): (0, 0)}
    for load in loads:
        grown: dict[tuple[int, ...], tuple[int, int]] = {}
        for rooms, (paid, bought) in states.items():
            ways: list[tuple[tuple[int, ...], int, int]] = []
            for at, room in enumerate(rooms):
                if room >= load:
                    ways.append(((*rooms[:at], room - load, *rooms[at + 1 :]), 0, 0))
            for mm, price in prices.items():
                if mm >= load:
                    ways.append(((*rooms, mm - load), price, mm))
            for after, price, mm in ways:
                key = tuple(sorted(after))
                grown[key] = min(grown.get(key, (10**9, 0)), (paid + price, bought + mm))
        states = grown
    return min(states.values())


def test_prices_decide_before_lengths() -> None:
    # two of 600 from 1200 at 30, or from two of 700 at 12 each: 24 is less, though 1400 mm are more
    plan = cut_stock({600: 2}, {1200: 30, 700: 12})
    assert (plan.lengths, plan.paid, plan.is_proved) == (((700, 2),), 24, True)


def test_of_plans_that_pay_alike_the_one_that_buys_less_is_taken() -> None:
    assert cut_stock({600: 2}, {1300: 24, 700: 12}).lengths == ((1300, 1),)
    assert cut_stock({600: 2}, {1500: 24, 700: 12}).lengths == ((700, 2),)


def fewest_bars(loads: list[int], length: int) -> int:
    """By trying every place for every piece, bars alike taken once."""
    states = {()}
    for load in loads:
        grown = set()
        for state in states:
            grown.add(tuple(sorted((*state, load))))
            for at, used in enumerate(state):
                if used + load <= length:
                    grown.add(tuple(sorted((*state[:at], used + load, *state[at + 1 :]))))
        states = grown
    return min(len(state) for state in states)


@settings(max_examples=100, deadline=None)
@given(st.dictionaries(st.integers(2, 30), st.integers(1, 4), min_size=1, max_size=4), st.integers(5, 70))
def test_the_knapsacks_find_the_best_of_all_choices(needs: dict[int, int], length: int) -> None:
    sizes, counts = tuple(needs), tuple(needs.values())
    values = tuple(3 * size + (size % 5) for size in sizes)
    choices = [c for c in product(*(range(n + 1) for n in counts)) if dot(c, sizes) <= length]
    assert dot(fullest(sizes, counts, length), sizes) == max(dot(c, sizes) for c in choices)
    best = max(dot(c, values) for c in choices)
    worth, choice = Worth(sizes, counts, values).most(length, -1, Work(10**7))
    assert choice is not None
    assert (worth, dot(choice, values)) == (best, best)
    assert dot(choice, sizes) <= length
    assert Worth(sizes, counts, values).limit(length) >= best


def dot(one: tuple[int, ...], other: tuple[int, ...]) -> int:
    return sum(a * b for a, b in zip(one, other, strict=True))


def test_little_effort_still_gives_a_plan_with_an_honest_bound() -> None:
    plan = cut_stock({44: 6, 24: 6, 30: 12, 52: 3, 22: 6, 38: 5}, [100], work=Work(0))
    assert plan.bought_mm >= plan.bound_mm > 0
    if not plan.is_proved:
        assert plan.proof == f"no plan buys less than {plan.bound_mm} mm"


@pytest.mark.parametrize(("family", "count"), [("few", 25), ("ordinary", 8), ("hard", 6), ("odd", 8), ("hand", 6)])
def test_the_first_of_each_family_are_cut_whole_and_proved(family: str, count: int) -> None:
    for case in cases(family)[:count]:
        plan = cut_stock(case.pieces, case.sold, case.owned)
        assert pieces_of(plan) == case.pieces
        assert plan.is_proved


def test_the_same_input_has_the_same_plan_though_the_work_runs_out() -> None:
    case = cases("hard")[0]
    once, again = (cut_stock(case.pieces, case.sold, work=Work(300_000)) for _ in range(2))
    assert once == again
    assert once.bought_mm - once.bound_mm >= 0


def test_thousands_of_pieces_of_few_kinds_are_proved_with_little_work() -> None:
    work = Work(2_000_000)
    plan = cut_stock({312: 6000, 145: 1}, [5000, 7620, 914], work=work)
    # 16 of 312 fill 4992 of 5000: 375 lengths hold 6000; the 145 needs one length more, the shortest
    assert plan.lengths == ((5000, 375), (914, 1))
    assert plan.is_proved
    assert work.left > 0


@pytest.mark.parametrize("seed", range(2))
def test_many_kinds_from_ten_lengths_leave_a_gap_of_one_shortest_length_at_most(seed: int) -> None:
    rng = random.Random(f"ten lengths {seed}")
    pieces = Counter(rng.randint(180, 3750) for _ in range(140))
    pieces.update(rng.choices(list(pieces), k=140))
    sold = [300, 500, 900, 1000, 1500, 2000, 2500, 3000, 5000, 10_000]
    plan = cut_stock(pieces, sold)
    assert pieces_of(plan) == pieces
    assert plan.bought_mm - plan.bound_mm <= min(sold)
