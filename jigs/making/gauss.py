"""Many unknowns and what was seen of them, all normal: solved together by a Cholesky factor. Standard library only."""

from __future__ import annotations

import math
from collections.abc import Sequence
from operator import mul

Row = dict[int, float]
"""What one reading answers to: the place of each unknown, and by how much the reading moves with it."""


def factor(matrix: Sequence[Sequence[float]]) -> list[list[float]]:
    """The lower triangle L with L L^T the matrix, row by row; of the matrix its lower triangle is read."""
    rows: list[list[float]] = []
    for i, given in enumerate(matrix):
        row: list[float] = []
        for j in range(i):
            other = rows[j]
            row.append((given[j] - sum(map(mul, row, other))) / other[j])
        row.append(math.sqrt(given[i] - sum(map(mul, row, row))))
        rows.append(row)
    return rows


def half_solved(lower: Sequence[Sequence[float]], right: Sequence[float]) -> list[float]:
    """x of L x = b; the scalar product of two such is b^T A^-1 b'."""
    found: list[float] = []
    for row, value in zip(lower, right, strict=True):
        found.append((value - sum(map(mul, row, found))) / row[-1])
    return found


def solved(lower: Sequence[Sequence[float]], right: Sequence[float]) -> list[float]:
    """x of L L^T x = b."""
    found = half_solved(lower, right)
    for i in range(len(found) - 1, -1, -1):
        row = lower[i]
        value = found[i] = found[i] / row[-1]
        for j in range(i):
            found[j] -= row[j] * value
    return found


def inverse(matrix: Sequence[Sequence[float]]) -> list[list[float]]:
    """The inverse of a small matrix."""
    lower, size = factor(matrix), len(matrix)
    return [solved(lower, [1.0 if i == j else 0.0 for j in range(size)]) for i in range(size)]


def products(first: Sequence[Sequence[float]], second: Sequence[Sequence[float]]) -> list[list[float]]:
    """first x second^T: every row of the one by every row of the other."""
    return [[sum(map(mul, row, other)) for other in second] for row in first]
