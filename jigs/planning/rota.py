"""A class with fewer saws than seats: in which turns the seats wind and saw, from the teacher's own minutes."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import accumulate

from jigs.orders.order import SharedSaws


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """Seats `first` to `last` (from 1), the minutes between which they wind, and those between which they saw."""

    first: int
    last: int
    winds: tuple[int, int]
    saws: tuple[int, int]


def rota(seats: int, shared: SharedSaws) -> tuple[Turn, ...]:
    """The turns at the saws, the fewest there can be and as even as can be; minutes count from the start.

    Each turn begins to wind when the one before it begins to saw, or earlier where winding takes longer than sawing,
    so that its coils are ready when the saws are free: in all, wind + turns x saw.

    >>> [(turn.last, turn.winds, turn.saws) for turn in rota(8, SharedSaws(saws=3, wind_min=20, saw_min=45))]
    [(3, (0, 20), (20, 65)), (6, (20, 40), (65, 110)), (8, (65, 85), (110, 155))]
    """
    count = -(-seats // shared.saws)
    each, more = divmod(seats, count)
    ends = accumulate(each + (number < more) for number in range(count))
    turns: list[Turn] = []
    for number, last in enumerate(ends):
        saws = shared.wind_min + number * shared.saw_min
        winds = max(0, saws - max(shared.wind_min, shared.saw_min))
        turns.append(
            Turn(
                first=turns[-1].last + 1 if turns else 1,
                last=last,
                winds=(winds, winds + shared.wind_min),
                saws=(saws, saws + shared.saw_min),
            )
        )
    return tuple(turns)
