"""Pages that no nesting can do without, and seeded families of large pieces to hold the nesting against. No test.

    python tests/nesting_bound.py [family ...]

The families were fixed before the nesting was first run on them. Pieces are whole mm, may not be turned, share their
cuts and go into a field of 176 x 225 mm; their sides are drawn evenly from parts of the field's. The seed of a case is
the family's name and the number of the case; 20 cases a family, of 20 to 100 pieces.

The bound is by dual feasible functions (Fekete & Schepers 2001, A general framework for bounds for higher-dimensional
orthogonal packing problems): a function f of a part x of a side, with f summing to 1 at most over parts that sum to 1
at most. Whatever two of them are taken for width and height, the sum of f(w) g(h) is at most 1 on every page, so that
no fewer pages do than the sum over all pieces. It shares nothing with the nesting.
"""

from __future__ import annotations

import random
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from math import ceil, floor

FIELD_MM = (176, 225)
CASES = 20
# parts of the field's sides in hundredths: width from, to, height from, to
FAMILIES: dict[str, tuple[tuple[int, int, int, int], ...]] = {
    "quarters": ((25, 75, 25, 75),),
    "halves": ((40, 90, 40, 90),),
    "thirds": ((28, 52, 28, 52),),
    "flat": ((45, 95, 10, 40),),
    "upright": ((10, 40, 45, 95),),
    "any": ((10, 100, 10, 100),),
    "mixed": ((50, 95, 15, 50), (15, 50, 50, 95), (45, 70, 45, 70), (20, 45, 20, 45)),
}

Function = Callable[[Fraction], Fraction]
_HALF = Fraction(1, 2)


def cases(family: str) -> list[list[tuple[int, int]]]:
    """The pieces (width, height) of each case, mm."""
    made = []
    for number in range(CASES):
        rng = random.Random(f"{family} {number}")
        pieces = []
        for _ in range(rng.randint(20, 100)):
            wide, wider, high, higher = rng.choice(FAMILIES[family])
            across, up = FIELD_MM
            pieces.append(
                (
                    rng.randint(ceil(across * wide / 100), across * wider // 100),
                    rng.randint(ceil(up * high / 100), up * higher // 100),
                )
            )
        made.append(pieces)
    return made


def stepped(k: int) -> Function:
    """u(k): a part between two (k + 1)-ths counts as the lower one, in k-ths."""
    return lambda x: x if (x * (k + 1)).denominator == 1 else Fraction(floor(x * (k + 1)), k)


def cut_off(least: Fraction) -> Function:
    """U(least): what leaves less than `least` counts as a whole, what is less as nothing; least to a half."""
    return lambda x: Fraction(1) if x > 1 - least else Fraction(0) if x < least else x


def counted(least: Fraction) -> Function:
    """phi(least): how many pieces of at least `least` still fit beside a large one; least to a half."""
    many = floor(1 / least)

    def function(x: Fraction) -> Fraction:
        if x > _HALF:
            return 1 - Fraction(floor((1 - x) / least), many)
        return Fraction(0) if x < least else Fraction(1, many) if x < _HALF else x

    return function


def _functions(parts: Sequence[Fraction]) -> Iterator[Function]:
    """The functions that differ on these parts, for up to four pieces side by side."""
    yield lambda x: x
    yield from (stepped(k) for k in range(1, 5))
    for least in sorted({part for each in parts for part in (each, 1 - each) if 0 < part <= _HALF}):
        yield cut_off(least)
        yield counted(least)


def pages_at_least(pieces: Sequence[tuple[int, int]], field: tuple[int, int] = FIELD_MM) -> int:
    """The pages that pieces (width, height), whole mm and not turned, need at least."""
    tables: list[set[tuple[Fraction, ...]]] = []
    for side in (0, 1):
        parts = [Fraction(piece[side], field[side]) for piece in pieces]
        tables.append({tuple(map(function, parts)) for function in _functions(parts)})
    # floats find the best pair, fractions work it out
    rows = [[(tuple(map(float, exact)), exact) for exact in table] for table in tables]
    pairs = (
        (sum(a * b for a, b in zip(f, g, strict=True)), f_exact, g_exact)
        for f, f_exact in rows[0]
        for g, g_exact in rows[1]
    )
    _, widths, heights = max(pairs, key=lambda pair: pair[0])
    return ceil(sum(a * b for a, b in zip(widths, heights, strict=True)))


def main(families: list[str]) -> None:
    """Nests the families and prints a line for each."""
    from layouts.drawing.marks import Draft
    from layouts.drawing.pens import Role
    from layouts.pages.nesting import Piece, nest
    from layouts.pages.page import Field

    def piece(width: int, height: int) -> Piece:
        draft = Draft()
        draft.rectangle(0.0, 0.0, float(width), float(height), Role.CUT)
        return Piece(drawing=draft.drawing(float(width), float(height), "piece"))

    field = Field(float(FIELD_MM[0]), float(FIELD_MM[1]))
    for family in families or FAMILIES:
        pages, bound, times = 0, 0, []
        for sizes in cases(family):
            pieces = [piece(*size) for size in sizes]
            start = time.process_time()
            pages += len(nest(pieces, field))
            times.append(time.process_time() - start)
            bound += pages_at_least(sizes)
        print(f"{family}: {pages} pages, bound {bound}: {pages / bound:.3f}; ", end="")
        print(f"seconds: median {sorted(times)[len(times) // 2]:.3f}, most {max(times):.2f}", flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
