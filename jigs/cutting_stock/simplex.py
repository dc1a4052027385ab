"""The linear programme of a cutting problem: at least the needs, for the least cost, columns given one by one."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Generic, TypeVar

Name = TypeVar("Name")

_EPS = 1e-9


class Master(Generic[Name]):
    """Revised simplex with the inverse of its basis kept. Column j gives `counts` at `cost`; surplus costs nothing.

    A row with a negative need is a limit: its columns give -1, and the sum may not pass it.
    """

    def __init__(self, needs: Sequence[int]) -> None:
        rows = range(len(needs))
        self._inverse = [[float(i == j) for j in rows] for i in rows]
        self._amounts = [float(need) for need in needs]
        self._costs = [0.0 for _ in rows]
        self._names: list[Name | None] = [None for _ in rows]
        self.prices = [0.0 for _ in rows]
        for row, need in enumerate(needs):
            if need < 0:
                self._inverse[row][row], self._amounts[row] = -1.0, float(-need)
        self.pivots = 0

    def start_with(self, row: int, name: Name | None, count: int, cost: float) -> None:
        """The first basis: a column that serves this row alone. No name: nothing can, and it only marks the lack."""
        self._amounts[row] /= count
        self._inverse[row][row] = 1 / count
        self._names[row], self._costs[row] = name, cost
        self.prices[row] = cost / count

    def improve(self, name: Name, entries: Sequence[tuple[int, int]], cost: float) -> bool:
        """Takes a column, its (row, count) where it is not 0, in if that lowers the cost; whether it did."""
        entered = self._enter(name, entries, cost)
        if entered:
            self._drop_negative_prices()
        return entered

    @property
    def cost(self) -> float:
        """What the best mixture costs so far."""
        return sum(cost * amount for cost, amount in zip(self._costs, self._amounts, strict=True))

    def solution(self) -> list[tuple[Name, float]]:
        """The columns in use and how much of each."""
        pairs = zip(self._names, self._amounts, strict=True)
        return [(name, amount) for name, amount in pairs if name is not None and amount > _EPS]

    def _drop_negative_prices(self) -> None:
        """A need whose price is below zero is better over-filled: its surplus enters."""
        for _ in range(4 * len(self._costs)):
            worst = min(range(len(self.prices)), key=self.prices.__getitem__)
            if self.prices[worst] >= -_EPS or not self._enter(None, ((worst, -1),), 0.0):
                return

    def _enter(self, name: Name | None, entries: Sequence[tuple[int, int]], cost: float) -> bool:
        gain = sum(self.prices[row] * count for row, count in entries) - cost
        if gain <= max(1e-7 * cost, 1e-9):
            return False
        if len(entries) == 1:
            at, count = entries[0]
            step = [line[at] * count for line in self._inverse]
        else:
            step = [sum(line[row] * count for row, count in entries) for line in self._inverse]
        rows = [i for i, s in enumerate(step) if s > _EPS]
        if not rows:
            return False
        row = min(rows, key=lambda i: (self._amounts[i] / step[i], i))
        self._pivot(row, step, gain)
        self._names[row], self._costs[row] = name, cost
        return True

    def _pivot(self, row: int, step: list[float], gain: float) -> None:
        line, amount = [a / step[row] for a in self._inverse[row]], self._amounts[row] / step[row]
        for i, s in enumerate(step):
            if i != row and s:
                self._inverse[i] = [a - s * b for a, b in zip(self._inverse[i], line, strict=True)]
                self._amounts[i] = max(0.0, self._amounts[i] - s * amount)
        self._inverse[row], self._amounts[row] = line, amount
        self.prices = [price - gain * b for price, b in zip(self.prices, line, strict=True)]
        self.pivots += 1
