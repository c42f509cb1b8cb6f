"""Arithmetic on small symmetric matrices, and least squares with some unknowns held at zero."""

from collections.abc import Sequence
from math import sqrt

from ..colour.spectrum import dot

Vector = Sequence[float]
Rows = list[list[float]]

_TINY = 1e-12


def root_of(matrix: Sequence[Vector]) -> Rows:
    """Return the rows of the lower-triangular L with L·Lᵀ the matrix, each up to its diagonal.

    Cholesky; the matrix must be positive definite.
    """
    root: Rows = []
    for place, given in enumerate(matrix):
        row: list[float] = []
        for column, above in enumerate(root):
            row.append((given[column] - dot(row, above[:column])) / above[column])
        row.append(sqrt(max(_TINY, given[place] - dot(row, row))))
        root.append(row)
    return root


def forward(root: Rows, vector: Vector) -> list[float]:
    """Return x with L·x the vector."""
    solved: list[float] = []
    for row, value in zip(root, vector, strict=True):
        solved.append((value - dot(row[:-1], solved)) / row[-1])
    return solved


def solved(root: Rows, vector: Vector) -> list[float]:
    """Return x with L·Lᵀ·x the vector."""
    left = forward(root, vector)
    for place in reversed(range(len(left))):
        left[place] /= root[place][-1]
        share = left[place]
        if share:
            for column in range(place):
                left[column] -= share * root[place][column]
    return left


def inverse(matrix: Sequence[Vector]) -> Rows:
    """Return the inverse of a positive definite matrix."""
    size = len(matrix)
    root = root_of(matrix)
    columns: Rows = []  # of the root's inverse
    for place in range(size):
        column = [0.0] * size
        column[place] = 1.0 / root[place][-1]
        for row in range(place + 1, size):
            column[row] = -dot(root[row][place:row], column[place:row]) / root[row][-1]
        columns.append(column)
    # row i of L⁻ᵀ is column i of L⁻¹, zero before its diagonal
    found: Rows = [[0.0] * size for _ in range(size)]
    for i in range(size):
        for j in range(i + 1):
            found[i][j] = found[j][i] = dot(columns[i][i:], columns[j][i:])
    return found


def times(matrix: Sequence[Vector], vector: Vector) -> list[float]:
    """Return the product of a matrix and a vector."""
    return [dot(row, vector) for row in matrix]


def bounded_minimum(matrix: Rows, aim: Vector, bounded: Sequence[bool]) -> list[float]:
    """Return the x that makes ½·xᵀ·A·x − aim·x least, where x is ≥ 0 wherever it is bounded.

    The active-set method of Lawson & Hanson, "Solving Least Squares Problems" (1974), chapter 23,
    on normal equations: start with all free, hold at zero what falls below it, and let go again
    what would rise.
    """
    size = len(aim)
    held: set[int] = set()
    x = [0.0] * size
    for _ in range(3 * size + 3):
        x = _with_held(matrix, aim, held)
        below = [i for i in range(size) if bounded[i] and x[i] < 0.0]
        if below:
            held.update(below)
            continue
        pull = {i: aim[i] - dot(matrix[i], x) for i in held}
        rising = [i for i in sorted(held) if pull[i] > 1e-9 * (1.0 + abs(aim[i]))]
        if not rising:
            return x
        # one at a time: several at once can go round in circles
        held.discard(max(rising, key=lambda i: (pull[i], -i)))
        x = _with_held(matrix, aim, held)
        if any(bounded[i] and x[i] < 0.0 for i in range(size)):
            return _walked(matrix, aim, bounded)
    return [max(0.0, v) if b else v for v, b in zip(x, bounded, strict=True)]


def _with_held(matrix: Rows, aim: Vector, held: set[int]) -> list[float]:
    free = [i for i in range(len(aim)) if i not in held]
    x = [0.0] * len(aim)
    if free:
        root = root_of([[matrix[i][j] for j in free] for i in free])
        for i, value in zip(free, solved(root, [aim[i] for i in free]), strict=True):
            x[i] = value
    return x


def _walked(matrix: Rows, aim: Vector, bounded: Sequence[bool]) -> list[float]:
    """Return the same by steps that stay feasible: slower, and never in circles."""
    size = len(aim)
    held = {i for i in range(size) if bounded[i]}
    x = _with_held(matrix, aim, held)
    for _ in range(10 * size + 10):
        pull = {i: aim[i] - dot(matrix[i], x) for i in held}
        entering = max(pull, key=lambda i: (pull[i], -i), default=None)
        if entering is None or pull[entering] <= 1e-9 * (1.0 + abs(aim[entering])):
            break
        held.discard(entering)
        while True:
            trial = _with_held(matrix, aim, held)
            below = [i for i in range(size) if bounded[i] and i not in held and trial[i] < 0.0]
            if not below:
                x = trial
                break
            step = min(x[i] / (x[i] - trial[i]) if x[i] > trial[i] else 0.0 for i in below)
            x = [a + step * (b - a) for a, b in zip(x, trial, strict=True)]
            for i in below:
                if x[i] <= _TINY:
                    x[i] = 0.0
                    held.add(i)
    return x
