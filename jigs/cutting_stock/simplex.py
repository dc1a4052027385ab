"""The linear programme of a cutting problem: at least the needs, for the least cost, columns given one by one."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Generic, TypeVar

Name = TypeVar("Name")

_EPS = 1e-9


class Master(Generic[Name]):
    """Revised simplex with the inverse of its basis kept. Column j gives `counts` at `cost`; surplus costs nothing."""

    def __init__(self, needs: Sequence[int]) -> None:
        rows = range(len(needs))
        self._inverse = [[float(i == j) for j in rows] for i in rows]
        self._amounts = [float(need) for need in needs]
        self._costs = [0.0 for _ in rows]
        self._names: list[Name | None] = [None for _ in rows]

    def start_with(self, row: int, name: Name, counts: Sequence[int], cost: float) -> None:
        """The first basis: a column that serves this row alone, once."""
        self._amounts[row] /= counts[row]
        self._inverse[row][row] = 1 / counts[row]
        self._names[row], self._costs[row] = name, cost

    @property
    def prices(self) -> list[float]:
        """What one more of each need would cost."""
        return [
            sum(cost * line[i] for cost, line in zip(self._costs, self._inverse, strict=True))
            for i in range(len(self._costs))
        ]

    def improve(self, name: Name, counts: Sequence[int], cost: float) -> bool:
        """Takes a column in if that lowers the cost, with any surplus that then does; whether it did."""
        entered = self._enter(name, counts, cost)
        if entered:
            self._drop_negative_prices()
        return entered

    def solution(self) -> list[tuple[Name, float]]:
        """The columns in use and how much of each."""
        pairs = zip(self._names, self._amounts, strict=True)
        return [(name, amount) for name, amount in pairs if name is not None and amount > _EPS]

    def _drop_negative_prices(self) -> None:
        """A need whose price is below zero is better over-filled: its surplus enters."""
        for _ in range(4 * len(self._costs)):
            prices = self.prices
            worst = min(range(len(prices)), key=prices.__getitem__)
            surplus = [-1 if i == worst else 0 for i in range(len(prices))]
            if prices[worst] >= -_EPS or not self._enter(None, surplus, 0.0):
                return

    def _enter(self, name: Name | None, counts: Sequence[int], cost: float) -> bool:
        worth = sum(price * count for price, count in zip(self.prices, counts, strict=True))
        if cost - worth > -1e-6 * max(1.0, cost):
            return False
        step = [sum(a * c for a, c in zip(line, counts, strict=True)) for line in self._inverse]
        rows = [i for i, s in enumerate(step) if s > _EPS]
        if not rows:
            return False
        row = min(rows, key=lambda i: (self._amounts[i] / step[i], i))
        self._pivot(row, step)
        self._names[row], self._costs[row] = name, cost
        return True

    def _pivot(self, row: int, step: list[float]) -> None:
        line, amount = [a / step[row] for a in self._inverse[row]], self._amounts[row] / step[row]
        for i, s in enumerate(step):
            if i != row and s:
                self._inverse[i] = [a - s * b for a, b in zip(self._inverse[i], line, strict=True)]
                self._amounts[i] = max(0.0, self._amounts[i] - s * amount)
        self._inverse[row], self._amounts[row] = line, amount
