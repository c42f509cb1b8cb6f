"""Least squares with nothing below zero: there is no negative dye."""

from collections.abc import Sequence
from math import sqrt

Columns = Sequence[Sequence[float]]


def nonnegative_least_squares(columns: Columns, target: Sequence[float]) -> list[float]:
    """Return x ≥ 0 with the least |Σ x_j·column_j − target|².

    Lawson & Hanson, "Solving Least Squares Problems" (1974), chapter 23 (NNLS), by normal
    equations; meant for a handful of columns. A trace of the diagonal is added so that equal
    or empty columns do no harm.
    """
    n = len(columns)
    gram = [[_dot(p, q) for q in columns] for p in columns]
    ridge = 1e-12 * (1.0 + max((gram[i][i] for i in range(n)), default=0.0))
    right = [_dot(p, target) for p in columns]
    x = [0.0] * n
    passive: list[int] = []
    for _ in range(3 * n):
        slope = [right[j] - sum(gram[j][k] * x[k] for k in passive) for j in range(n)]
        entering = max(
            (j for j in range(n) if j not in passive), key=lambda j: slope[j], default=None
        )
        if entering is None or slope[entering] <= 1e-10 * (1.0 + sqrt(gram[entering][entering])):
            break
        passive.append(entering)
        while passive:
            trial = _solve_subset(gram, right, passive, ridge)
            if min(trial) > 0:
                for j, value in zip(passive, trial, strict=True):
                    x[j] = value
                break
            # step towards the trial until the first of them reaches zero, and let that one go
            step = min(
                x[j] / (x[j] - value) if x[j] > value else 1.0
                for j, value in zip(passive, trial, strict=True)
                if value <= 0
            )
            for j, value in zip(passive, trial, strict=True):
                x[j] += step * (value - x[j])
            leaving = [j for j in passive if x[j] <= 1e-14]
            for j in leaving or passive[-1:]:
                x[j] = 0.0
                passive.remove(j)
    return x


def _dot(p: Sequence[float], q: Sequence[float]) -> float:
    return sum(a * b for a, b in zip(p, q, strict=True))


def _solve_subset(
    gram: list[list[float]], right: list[float], subset: list[int], ridge: float
) -> list[float]:
    """Solve the normal equations of a subset by Gaussian elimination with row exchange."""
    rows = [
        [gram[i][j] + (ridge if i == j else 0.0) for j in subset] + [right[i]] for i in subset
    ]
    size = len(rows)
    for i in range(size):
        pivot = max(range(i, size), key=lambda r: abs(rows[r][i]))
        rows[i], rows[pivot] = rows[pivot], rows[i]
        for r in range(i + 1, size):
            factor = rows[r][i] / rows[i][i]
            rows[r] = [a - factor * b for a, b in zip(rows[r], rows[i], strict=True)]
    solution = [0.0] * size
    for i in reversed(range(size)):
        known = sum(rows[i][j] * solution[j] for j in range(i + 1, size))
        solution[i] = (rows[i][size] - known) / rows[i][i]
    return solution
