"""Least squares with nothing below zero: there is no negative dye."""

from collections.abc import Callable, Sequence

from ..colour.spectrum import dot

Columns = Sequence[Sequence[float]]
_Dot = Callable[[Sequence[float], Sequence[float]], float]

_COLOUR_AND_SUM = 4


def nonnegative_least_squares(columns: Columns, target: Sequence[float]) -> list[float]:
    """Return x ≥ 0 with the least |Σ x_j·column_j − target|².

    Lawson & Hanson, "Solving Least Squares Problems" (1974), chapter 23 (NNLS), by normal
    equations on the few columns in use; many columns of few rows are its home. A trace is
    added to the diagonal so that equal or empty columns do no harm.
    """
    four = len(target) == _COLOUR_AND_SUM
    times, along = (_dot_of_four, _along_four) if four else (dot, _along)
    x = [0.0] * len(columns)
    used: list[int] = []
    left = list(target)
    scale = 1.0 + max((times(c, c) for c in columns), default=0.0)
    for _ in range(3 * len(target) + 3):
        slopes = along(columns, left)
        for j in used:
            slopes[j] = -1.0
        entering = slopes.index(max(slopes))
        if entering in used or slopes[entering] <= 1e-10 * scale:
            break
        used.append(entering)
        while used:
            trial = _least_squares([columns[j] for j in used], target, 1e-12 * scale, times)
            if min(trial) > 0:
                for j, value in zip(used, trial, strict=True):
                    x[j] = value
                break
            # step towards the trial until the first of them reaches zero, and let that one go
            step = min(
                x[j] / (x[j] - value) if x[j] > value else 1.0
                for j, value in zip(used, trial, strict=True)
                if value <= 0
            )
            for j, value in zip(used, trial, strict=True):
                x[j] += step * (value - x[j])
            leaving = [j for j in used if x[j] <= 1e-14]
            for j in leaving or used[-1:]:
                x[j] = 0.0
                used.remove(j)
        left = list(target)
        for j in used:
            share = x[j]
            left = [rest - share * v for rest, v in zip(left, columns[j], strict=True)]
    return x


def nearest_mixture(points: Columns, weight_of_sum: float = 1000.0) -> list[float]:
    """Return shares ≥ 0 summing to 1 whose mixture of points lies nearest the origin.

    The sum is held by one more equation of this weight, then made exact.
    """
    dimensions = len(points[0])
    columns = [(*point, weight_of_sum) for point in points]
    shares = nonnegative_least_squares(columns, (0.0,) * dimensions + (weight_of_sum,))
    total = sum(shares)
    return [share / total for share in shares]


def _along(columns: Columns, direction: Sequence[float]) -> list[float]:
    return [dot(column, direction) for column in columns]


def _along_four(columns: Columns, direction: Sequence[float]) -> list[float]:
    """Return the same as `_along` for columns of four, in one pass."""
    x, y, z, s = direction
    return [a * x + b * y + c * z + d * s for a, b, c, d in columns]


def _dot_of_four(p: Sequence[float], q: Sequence[float]) -> float:
    """Return the sum of products; for so few, a third of the time that `dot` takes."""
    p0, p1, p2, p3 = p
    q0, q1, q2, q3 = q
    return p0 * q0 + p1 * q1 + p2 * q2 + p3 * q3


def _least_squares(
    columns: Columns, target: Sequence[float], ridge: float, times: _Dot
) -> list[float]:
    """Solve the normal equations."""
    if len(columns) == 1:
        return [times(columns[0], target) / (times(columns[0], columns[0]) + ridge)]
    size = len(columns)
    rows = [[0.0] * size + [times(p, target)] for p in columns]
    for i, p in enumerate(columns):
        rows[i][i] = times(p, p) + ridge
        for j in range(i):
            rows[i][j] = rows[j][i] = times(columns[j], p)
    return solved_rows(rows)


def solved_rows(rows: list[list[float]]) -> list[float]:
    """Return x with A·x = b, each row being one of A with its b; `rows` are used up.

    Gaussian elimination with row exchange.
    """
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
