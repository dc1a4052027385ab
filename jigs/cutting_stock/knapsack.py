"""What fits into one length: the fullest set of pieces, and the set that is worth most. Exact, in whole numbers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from operator import mul

from jigs.cutting_stock.effort import Work

_STEP = 8  # steps of work for a turn of the inner loop
_MOST_TURNS = 60_000


def fullest(sizes: Sequence[int], needs: Sequence[int], length: int) -> tuple[int, ...]:
    """How many of each piece, at most what is needed, fill a length as full as can be; long pieces preferred.

    >>> fullest((500, 300), (1, 9), 1100)
    (1, 2)
    """
    if sum(map(mul, sizes, needs)) <= length:
        return tuple(needs)
    lots: list[tuple[int, int, int]] = []
    mask, reached = (1 << length + 1) - 1, [1]  # bit n of a reach: whether n can be filled exactly
    for lot in lots_of(sizes, needs, length):
        lots.append(lot)
        reached.append(reached[-1] | reached[-1] << lot[2] & mask)
        if reached[-1] >> length:  # full to the millimetre: more pieces cannot better it
            break
    filled, counts = reached[-1].bit_length() - 1, [0] * len(sizes)
    for (piece, many, size), before in zip(reversed(lots), reached[-2::-1], strict=True):
        if not before >> filled & 1:
            counts[piece] += many
            filled -= size
    return tuple(counts)


def fullest_mm(sizes: Sequence[int], needs: Sequence[int], length: int) -> int:
    """How full pieces can fill a length."""
    return sum(map(mul, sizes, fullest(sizes, needs, length)))


def lots_of(sizes: Sequence[int], needs: Sequence[int], length: int) -> Iterator[tuple[int, int, int]]:
    """(piece, how many, their length): lots of 1, 2, 4, ... from which every number needed can be put together."""
    for piece, (size, need) in enumerate(zip(sizes, needs, strict=True)):
        left, many = min(need, length // size), 1
        while left:
            lot = min(many, left)
            yield piece, lot, lot * size
            left, many = left - lot, many * 2


class Worth:
    """Pieces with a value each: the choice worth most for any length, by branch and bound over values per mm."""

    def __init__(self, sizes: Sequence[int], needs: Sequence[int], values: Sequence[int]) -> None:
        ranked = sorted(
            (piece for piece in range(len(sizes)) if values[piece] > 0 and needs[piece]),
            key=lambda piece: (-values[piece] / sizes[piece], piece),
        )
        self.pieces = ranked
        self.kinds = len(sizes)
        self.items = [(sizes[piece], values[piece], needs[piece]) for piece in ranked]
        self.least = [0] * len(ranked)  # the shortest of this piece and those after it
        shortest = 1 << 62
        for place in range(len(ranked) - 1, -1, -1):
            shortest = min(shortest, self.items[place][0])
            self.least[place] = shortest

    def most(self, length: int, floor: int, work: Work) -> tuple[int, tuple[int, ...] | None]:
        """What pieces in a length are worth at most, and the choice that is worth it, if that is more than `floor`.

        Where the work runs out the figure is an upper limit, and the choice the best that was found.

        >>> Worth((500, 300), (9, 9), (10, 7)).most(1000, 0, Work(10_000))
        (21, (0, 3))
        """
        items, least, last = self.items, self.least, len(self.items)
        counts, best, found = [0] * last, floor, None
        room, worth, place, turns = length, 0, 0, min(_MOST_TURNS, work.left // _STEP)
        allowed = turns
        while turns > 0:
            while place < last and room >= least[place]:
                turns -= 1
                size, value, need = items[place]
                if worth * size + room * value <= best * size:
                    break
                take = room // size
                if take > need:
                    take = need
                counts[place] = take
                room -= take * size
                worth += take * value
                place += 1
            if worth > best:
                best, found = worth, counts[:place] + [0] * (last - place)
            place -= 1
            while place >= 0 and not counts[place]:
                place -= 1
            if place < 0:
                break
            counts[place] -= 1
            room += items[place][0]
            worth -= items[place][1]
            place += 1
        work.spend((allowed - turns) * _STEP)
        if turns <= 0:
            best = max(best, self.limit(length))
        return best, None if found is None else self._by_piece(found)

    def limit(self, length: int) -> int:
        """An upper limit of what a length can hold: parts of pieces allowed."""
        worth, room = 0, length
        for size, value, need in self.items:
            if need * size >= room:
                return worth + -(-room * value // size)
            worth, room = worth + need * value, room - need * size
        return worth

    def _by_piece(self, counts: Sequence[int]) -> tuple[int, ...]:
        by_piece = [0] * self.kinds
        for piece, count in zip(self.pieces, counts, strict=True):
            by_piece[piece] = count
        return tuple(by_piece)
