"""Where outcomes lie when the hair is not known exactly.

Ten possible heads give ten colours. Each outcome is a difference vector whose length is CIEDE2000
from a reference (see `residual_from`). The unscented moments make a normal distribution. A fixed
set of points over it gives shares, means and quantiles. They move smoothly with the question and
never by chance.
"""

from bisect import bisect_right
from collections.abc import Sequence
from math import sqrt
from operator import add, sub

from .lab import LabTuple
from .normal import value_at
from .spectrum import dot

POINTS = 256
_LIKELY_SHARE = 0.8
_TINY = 1e-12
_POWER_STEPS = 16


def _normal_points() -> list[LabTuple]:
    """Return half of evenly spread points of the three-dimensional standard normal.

    The additive recurrence on the plastic-type constant of three dimensions (root of x⁴ = x + 1),
    through the inverse normal. A scale makes each variance 1. The other half lies opposite, which
    makes the mean exact.
    """
    root = 1.0
    for _ in range(60):
        root = (1.0 + root) ** 0.25
    half = [
        [value_at((0.5 + k / root**axis) % 1.0) for axis in (1, 2, 3)]
        for k in range(1, POINTS // 2 + 1)
    ]
    scale = [sqrt(len(half) / sum(p[axis] ** 2 for p in half)) for axis in range(3)]
    return [(p[0] * scale[0], p[1] * scale[1], p[2] * scale[2]) for p in half]


_HALF = _normal_points()

Covariance = tuple[LabTuple, LabTuple, LabTuple]


def moments(vectors: Sequence[LabTuple]) -> tuple[LabTuple, Covariance]:
    """Return mean and covariance of equally likely vectors (n in the denominator)."""
    n = len(vectors)
    columns = list(zip(*vectors, strict=True))
    m0, m1, m2 = (sum(column) / n for column in columns)
    x, y, z = (
        [v - mean for v in column] for column, mean in zip(columns, (m0, m1, m2), strict=True)
    )
    s00, s10, s11 = dot(x, x) / n, dot(x, y) / n, dot(y, y) / n
    s20, s21, s22 = dot(x, z) / n, dot(y, z) / n, dot(z, z) / n
    return (m0, m1, m2), ((s00, s10, s20), (s10, s11, s21), (s20, s21, s22))


def distances(vectors: Sequence[LabTuple], doubt: float = 0.0) -> list[float]:
    """Return the lengths, ascending, over the normal distribution of these vectors' moments.

    `doubt` is a deviation that comes to it on each axis, independent of what the vectors show.
    """
    (m0, m1, m2), ((s00, s10, s20), (_, s11, s21), (_, _, s22)) = moments(vectors)
    s00, s11, s22 = s00 + doubt * doubt, s11 + doubt * doubt, s22 + doubt * doubt
    # lower-triangular root of the covariance; a vanishing pivot means no spread that way
    l00 = sqrt(max(s00, 0.0))
    l10, l20 = (s10 / l00, s20 / l00) if l00 > _TINY else (0.0, 0.0)
    l11 = sqrt(max(s11 - l10 * l10, 0.0))
    l21 = (s21 - l20 * l10) / l11 if l11 > _TINY else 0.0
    l22 = sqrt(max(s22 - l20 * l20 - l21 * l21, 0.0))
    # |m + Lz|² = (|m|² + |Lz|²) + 2·m·Lz, and each point's opposite has the same two terms
    apart = m0 * m0 + m1 * m1 + m2 * m2
    along0 = 2 * (m0 * l00 + m1 * l10 + m2 * l20)
    along1, along2 = 2 * (m1 * l11 + m2 * l21), 2 * m2 * l22
    g00, g11, g22 = l00 * l00 + l10 * l10 + l20 * l20, l11 * l11 + l21 * l21, l22 * l22
    g01, g02, g12 = 2 * (l10 * l11 + l20 * l21), 2 * l20 * l22, 2 * l21 * l22
    even = [
        apart + x * (g00 * x + g01 * y + g02 * z) + y * (g11 * y + g12 * z) + g22 * z * z
        for x, y, z in _HALF
    ]
    odd = [along0 * x + along1 * y + along2 * z for x, y, z in _HALF]
    squares = [*map(add, even, odd), *map(sub, even, odd)]
    squares.sort()
    # rounding may leave a square of nothing a hair below zero
    if squares[0] < 0.0:
        squares = [max(s, 0.0) for s in squares]
    return list(map(sqrt, squares))


def share_within(ascending: Sequence[float], limit: float) -> float:
    """Return the share of distances up to `limit`, straight between neighbouring points."""
    below = bisect_right(ascending, limit)
    if below == 0:
        # from nothing at zero distance up to the first point's half weight
        first = ascending[0]
        return 0.5 / len(ascending) * (limit / first) ** 3 if first > 0 else 0.0
    if below == len(ascending):
        return 1.0
    low, high = ascending[below - 1], ascending[below]
    return (below - 0.5 + (limit - low) / (high - low)) / len(ascending)


def likely_distance(ascending: Sequence[float]) -> float:
    """Return the distance 80 % of outcomes stay within."""
    place = _LIKELY_SHARE * len(ascending) - 0.5
    below = int(place)
    low, high = ascending[below], ascending[below + 1]
    return low + (place - below) * (high - low)


def mean_distance(ascending: Sequence[float]) -> float:
    """Return the expected distance."""
    return sum(ascending) / len(ascending)


def widest_direction(covariance: Covariance) -> LabTuple:
    """Return the direction of greatest variance, one standard deviation long; zeros if none."""
    (s00, _, _), (_, s11, _), (_, _, s22) = covariance
    if s00 + s11 + s22 < _TINY:
        return 0.0, 0.0, 0.0
    # power iteration, from the column of the axis that varies most
    (a, b, c), (_, d, e), (_, _, f) = covariance
    x, y, z = max(covariance, key=lambda row: max(row[0], row[1], row[2]))
    for _ in range(_POWER_STEPS):
        x, y, z = a * x + b * y + c * z, b * x + d * y + e * z, c * x + e * y + f * z
        size = sqrt(x * x + y * y + z * z)
        x, y, z = x / size, y / size, z / size
    variance = a * x * x + d * y * y + f * z * z + 2 * (b * x * y + c * x * z + e * y * z)
    deviation = sqrt(max(variance, 0.0))
    return x * deviation, y * deviation, z * deviation
