"""Pages of few large pieces made fewer: a few pages at a time emptied and filled again, in orders drawn by lot.

What comes of it is kept when it takes fewer pages, or leaves them filled less evenly: a page that empties will go.
The lots come from a fixed seed and there are so many trials for each page, so that the same pieces have one answer.
"""

from __future__ import annotations

import random
from collections import defaultdict
from collections.abc import Callable, Collection, Sequence
from math import ceil, floor, fsum
from typing import NamedTuple

from layouts.pages.skyline import SLACK_MM, Cell, Spot, across, filled

_MOST_A_PAGE = 8  # pieces smaller than that fill the gaps by themselves
_TRIALS_A_PAGE = 60
_MOST_TRIALS = 2_000
_TOGETHER = (2, 2, 2, 3, 3, 4)  # pages emptied at once, drawn from these
_FILLS = 3  # ways tried to fill a page, of which the best counts: more trials did better than more ways
_UPSET = (0.0, 0.2, 0.5, 1.0)  # how far lots may upset an order of sizes, drawn from these

_SIZES: tuple[Callable[[Cell], float], ...] = (
    lambda cell: cell.width,
    lambda cell: cell.height,
    lambda cell: cell.width * cell.height,
    lambda cell: cell.width + cell.height,
)


class _Page(NamedTuple):
    """A page and what its pieces cover, mm2."""

    covered: float
    spots: list[Spot]


def regrouped(
    pages: Sequence[list[Spot]],
    cells: Sequence[Cell],
    size: tuple[float, float],
    worth: Callable[[Sequence[Spot]], float],
) -> list[list[Spot]]:
    """The pages, or fewer with the same pieces. cells: every way a piece may lie; size: of the field, mm."""
    ways = defaultdict(list)
    for cell in cells:
        ways[cell.piece].append(cell)
    kept = list(map(_page, pages))
    if len(ways) > _MOST_A_PAGE * len(kept):
        return list(pages)
    least, lots = _at_least(ways.values(), size), random.Random(0)
    for _ in range(min(_MOST_TRIALS, _TRIALS_A_PAGE * len(kept))):
        if len(kept) <= least:
            break
        chosen = _chosen(kept, lots)
        left = [cell for page in chosen for spot in page.spots for cell in ways[spot.piece]]
        new: list[_Page] = []
        while left and len(new) < len(chosen):
            fills = [_filled_by_lot(left, size, lots) for _ in range(_FILLS)]
            spots, left = max(fills, key=lambda fill: worth(fill[0]))
            new.append(_page(spots))
        if not left and (len(new) < len(chosen) or _unevenness(new) >= _unevenness(chosen) * (1 - SLACK_MM)):
            taken = set(map(id, chosen))
            kept = [page for page in kept if id(page) not in taken] + new
    return [page.spots for page in kept]


def _page(spots: list[Spot]) -> _Page:
    return _Page(fsum(spot.cell.width * spot.cell.height for spot in spots), spots)


def _unevenness(pages: Sequence[_Page]) -> float:
    """Of pages that cover as much in all, higher the more is on some and the less on others."""
    return fsum(page.covered**2 for page in pages)


def _chosen(pages: Sequence[_Page], lots: random.Random) -> list[_Page]:
    """A few pages, the emptiest mostly among them."""
    chosen = lots.sample(pages, min(lots.choice(_TOGETHER), len(pages)))
    emptiest = min(pages, key=lambda page: page.covered)
    if lots.random() < 0.7 and not any(page is emptiest for page in chosen):
        chosen[0] = emptiest
    return chosen


def _filled_by_lot(
    cells: Sequence[Cell], size: tuple[float, float], lots: random.Random
) -> tuple[list[Spot], list[Cell]]:
    """One page in rows or columns, by an order of sizes that lots have upset; and the cells that are left."""
    in_columns, key, upset = lots.random() < 0.5, lots.choice(_SIZES), lots.choice(_UPSET)
    width, height = size[::-1] if in_columns else size
    given = map(across, cells) if in_columns else cells
    left = sorted(given, key=lambda cell: -key(cell) * (1 - upset * lots.random()))

    def pop(width: float, height: float) -> Cell | None:
        nonlocal left
        width, height = width + SLACK_MM, height + SLACK_MM
        for cell in left:
            if cell[0] <= width and cell[1] <= height:
                piece = cell.piece
                left = [cell for cell in left if cell[2] != piece]
                return cell
        return None

    spots = filled(pop, width, height)
    if not in_columns:
        return spots, left
    return [Spot(spot.y, spot.x, across(spot.cell)) for spot in spots], list(map(across, left))


def _at_least(pieces: Collection[Sequence[Cell]], size: tuple[float, float]) -> int:
    """Pages that no nesting can do without, each piece as it asks least: a good answer need not be sought for better.

    A part of a side is taken as it is, or of k + 1 parts as so many whole k-ths: a page holds no more than 1 x 1 of
    these either (dual feasible functions, Fekete & Schepers 2001).
    """

    def part(share: float, k: int) -> float:
        share = min(1.0, share)
        # rounding may not lift a share over a step: what looks like a whole step counts as it is, and that is less
        return share if not k or abs(share * (k + 1) - round(share * (k + 1))) < 1e-9 else floor(share * (k + 1)) / k

    width, height = size
    most = 0.0
    for across_k in range(4):
        for up_k in range(4):
            asked = fsum(
                min(part(cell.width / width, across_k) * part(cell.height / height, up_k) for cell in ways)
                for ways in pieces
            )
            most = max(most, asked)
    return ceil(most - 1e-6)  # a bound that rounding lifts over a whole page would be wrong
