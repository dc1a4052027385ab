"""How much work a search may still do."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass


@dataclass(slots=True)
class Work:
    """Inner steps that may still be spent: a limit that, unlike a clock, is the same on every machine.

    A step is about a tenth of a microsecond of plain Python.
    """

    left: int

    def spend(self, steps: int) -> None:
        """Counts steps as done."""
        self.left -= steps

    @contextmanager
    def lend(self, part: float) -> Iterator[Work]:
        """A part of what is left, to be spent by itself; what it does not spend comes back."""
        lent = max(0, int(self.left * part))
        borrowed = Work(lent)
        yield borrowed
        self.left -= lent - borrowed.left

    @property
    def is_spent(self) -> bool:
        """Whether nothing is left."""
        return self.left <= 0
