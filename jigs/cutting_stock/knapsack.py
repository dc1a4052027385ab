"""What fits into one length: the fullest set of pieces, and the set that is worth most. Exact, in whole numbers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass


@dataclass(slots=True)
class Work:
    """Inner steps that may still be spent: a limit that, unlike a clock, is the same on every machine."""

    left: int

    def allows(self, steps: int) -> bool:
        """Whether so many steps are left."""
        return steps <= self.left

    def spend(self, steps: int) -> None:
        """Counts steps as done."""
        self.left -= steps

    @property
    def is_spent(self) -> bool:
        """Whether nothing is left."""
        return self.left <= 0


def fullest(sizes: tuple[int, ...], needs: tuple[int, ...], length: int) -> tuple[int, ...]:
    """How many of each piece, at most what is needed, fill a length as full as can be; long pieces preferred.

    >>> fullest((500, 300), (1, 9), 1100)
    (1, 2)
    """
    lots = list(_lots(sizes, needs, length))
    mask, reached = (1 << length + 1) - 1, [1]  # bit n of a reach: whether n can be filled exactly
    for _, _, size in lots:
        reached.append(reached[-1] | reached[-1] << size & mask)
    filled, counts = reached[-1].bit_length() - 1, [0] * len(sizes)
    for (piece, many, size), before in zip(reversed(lots), reversed(reached[:-1]), strict=True):
        if not before >> filled & 1:
            counts[piece] += many
            filled -= size
    return tuple(counts)


def most_worth(
    sizes: tuple[int, ...], needs: tuple[int, ...], values: tuple[int, ...], length: int, work: Work
) -> tuple[int, ...]:
    """How many of each piece, at most what is needed, are worth most together in a length.

    >>> most_worth((500, 300), (9, 9), (10, 7), 1000, Work(10_000))
    (0, 3)
    """
    lots = [lot for lot in _lots(sizes, needs, length) if values[lot[0]]]
    work.spend(length * len(lots))
    best, taken = [0] * (length + 1), []
    for piece, many, size in lots:
        best, chosen = _with(best, many * values[piece], size)
        taken.append(chosen)
    at, counts = length, [0] * len(sizes)
    for (piece, many, size), chosen in zip(reversed(lots), reversed(taken), strict=True):
        if chosen[at]:
            counts[piece] += many
            at -= size
    return tuple(counts)


def _with(best: list[int], value: int, size: int) -> tuple[list[int], list[bool]]:
    """The best worth in every length when one more lot may be taken, and where it is."""
    grown = [worth + value for worth in best[: len(best) - size]]
    chosen = [False] * size + [new > old for new, old in zip(grown, best[size:], strict=True)]
    return best[:size] + [max(new, old) for new, old in zip(grown, best[size:], strict=True)], chosen


def _lots(sizes: tuple[int, ...], needs: tuple[int, ...], length: int) -> Iterator[tuple[int, int, int]]:
    """(piece, how many, their length): lots of 1, 2, 4, ... from which every number needed can be put together."""
    for piece, (size, need) in enumerate(zip(sizes, needs, strict=True)):
        left, many = min(need, length // size), 1
        while left:
            lot = min(many, left)
            yield piece, lot, lot * size
            left, many = left - lot, many * 2
