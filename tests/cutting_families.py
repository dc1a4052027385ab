"""How well wire is cut: seeded families of cutting problems, the share proved, the gaps and the time. No test.

    python tests/cutting_families.py [family ...]

The families were fixed before the solver was first run on them. Pieces and lengths are whole mm, and what is sold is
what a shop sells: one to three of 300 mm to 10 m. `few`: up to 8 kinds. `ordinary`: 10 to 60 pieces of up to 30
kinds, 1 to 3 lengths. `hard`: 30 to 60 pieces of 8 to 22 kinds, three lengths. `odd`: as ordinary, but lengths to
the millimetre and pieces of any size, so that sums of lengths lie close together. `hand`: as ordinary, with up to
three lengths at hand. `many`: thousands of pieces, up to 100 kinds and ten lengths.
"""

from __future__ import annotations

import random
import sys
import time
from collections.abc import Callable
from typing import NamedTuple

from jigs.cutting_stock.solve import cut_stock

SHOP_MM = (300, 305, 500, 600, 914, 1000, 1500, 1524, 2000, 2500, 3000, 3048, 5000, 7620, 10_000)


class Case(NamedTuple):
    """Pieces {length mm: how many}, lengths sold, lengths at hand."""

    pieces: dict[int, int]
    sold: list[int]
    owned: list[int]


def _pieces(rng: random.Random, kinds: int, count: int, least: int, most: int) -> dict[int, int]:
    sizes = rng.sample(range(least, most + 1), min(kinds, most - least + 1))
    pieces = dict.fromkeys(sizes, 1)
    for _ in range(count - len(sizes)):
        pieces[rng.choice(sizes)] += 1
    return pieces


def _few(rng: random.Random) -> Case:
    sold = rng.sample(SHOP_MM, rng.randint(1, 3))
    kinds = rng.randint(1, 8)
    pieces = _pieces(rng, kinds, rng.randint(max(10, kinds), 60), max(40, max(sold) // 25), int(max(sold) * 0.7))
    return Case(pieces, sold, [])


def _ordinary(rng: random.Random) -> Case:
    sold = rng.sample(SHOP_MM, rng.randint(1, 3))
    count = rng.randint(10, 60)
    kinds = rng.randint(1, min(count, 30))
    return Case(_pieces(rng, kinds, count, max(40, max(sold) // 25), int(max(sold) * 0.7)), sold, [])


def _hard(rng: random.Random) -> Case:
    sold = rng.sample(SHOP_MM, 3)
    longest = max(sold)
    kinds = rng.randint(8, 22)
    return Case(_pieces(rng, kinds, rng.randint(30, 60), longest // 20, int(longest * 0.6)), sold, [])


def _odd(rng: random.Random) -> Case:
    sold = rng.sample(range(700, 4000), rng.randint(1, 3))
    count = rng.randint(10, 60)
    return Case(_pieces(rng, rng.randint(1, min(count, 30)), count, 50, max(sold)), sold, [])


def _hand(rng: random.Random) -> Case:
    case = _ordinary(rng)
    return case._replace(owned=[rng.randint(100, max(case.sold)) for _ in range(rng.randint(1, 3))])


def _many(rng: random.Random) -> Case:
    sold = rng.sample(SHOP_MM, rng.randint(1, 10))
    kinds = rng.randint(2, 100)
    return Case(_pieces(rng, kinds, rng.randint(500, 5000), max(40, max(sold) // 25), int(max(sold) * 0.6)), sold, [])


FAMILIES: dict[str, tuple[int, Callable[[random.Random], Case]]] = {
    "few": (100, _few),
    "ordinary": (100, _ordinary),
    "hard": (40, _hard),
    "odd": (60, _odd),
    "hand": (40, _hand),
    "many": (20, _many),
}


def cases(family: str) -> list[Case]:
    """The cases of a family: the seed is the family's name and the number of the case."""
    count, make = FAMILIES[family]
    return [make(random.Random(f"{family} {number}")) for number in range(count)]


def main(families: list[str]) -> None:
    """Runs the families and prints a line for each."""
    for family in families or FAMILIES:
        proved, worst_gap, times, over = 0, 0.0, [], []
        for number, case in enumerate(cases(family)):
            start = time.process_time()
            plan = cut_stock(case.pieces, case.sold, case.owned)
            times.append(time.process_time() - start)
            gap = plan.bought_mm - plan.bound_mm
            proved += plan.is_proved
            worst_gap = max(worst_gap, gap / min(case.sold))
            if gap:
                over.append(f"{number}: {len(case.pieces)} kinds, {gap} of {plan.bought_mm} mm")
        share = f"{proved} of {len(times)} proved ({100 * proved / len(times):.0f} %)"
        print(f"{family}: {share}; worst gap {worst_gap:.2f} shortest lengths; ", end="")
        print(f"seconds: median {sorted(times)[len(times) // 2]:.3f}, most {max(times):.2f}")
        if over:
            print("   not proved:", "; ".join(over[:12]))


if __name__ == "__main__":
    main(sys.argv[1:])
