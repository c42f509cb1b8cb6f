"""How unsure a head is: five unknowns, how they hang together, and the heads it may be.

The unknowns are level, log warmth, log-odds of porosity, log rate and log uptake. The unscented
transform (Julier & Uhlmann, Proc. IEEE 92 (2004) 401) with five unknowns puts one pair of heads
on each column of a root of their covariance, ±√5 out, weight 1/10.
"""

from collections.abc import Sequence
from dataclasses import replace
from math import exp, log, sqrt

from ...contract.hair import Sure
from .head import Head

UNKNOWNS = 5
POROSITY_SLOPE = 0.25  # of porosity by its log-odds, at porosity 0.5
SPREAD = sqrt(5.0)
_POROSITY_RIM = 0.02
# How unsure the strength of a tube is that only its label describes: one deviation of its
# logarithm (assumption).
LABEL_DOUBT = 0.2

Vector = Sequence[float]
Rows = list[list[float]]


def lower_root(matrix: Sequence[Vector]) -> Rows:
    """Return the lower-triangular L with L·Lᵀ the matrix (Cholesky).

    A pivot that vanishes leaves its column empty: nothing varies that way. One that is negative
    is taken for one that vanishes; `contradicts_itself` says when it is more than rounding.
    """
    root: Rows = [[0.0] * len(matrix) for _ in matrix]
    for row, given in enumerate(matrix):
        for column in range(row):
            pivot = root[column][column]
            left = given[column] - sum(root[row][k] * root[column][k] for k in range(column))
            root[row][column] = left / pivot if pivot > 0 else 0.0
        root[row][row] = sqrt(max(0.0, given[row] - sum(v * v for v in root[row][:row])))
        if root[row][row] < 1e-9:
            root[row][row] = 0.0
    return root


def _correlated(sure: Sure) -> Rows:
    """Return the unknowns' correlation matrix."""
    matrix = [[float(i == j) for j in range(UNKNOWNS)] for i in range(UNKNOWNS)]
    given = iter(sure.correlations or ())
    for row in range(1, UNKNOWNS):
        for column in range(row):
            matrix[row][column] = matrix[column][row] = next(given, 0.0)
    return matrix


def contradicts_itself(sure: Sure) -> bool:
    """Return whether no five unknowns could have these correlations."""
    matrix = _correlated(sure)
    root = lower_root(matrix)
    return any(
        abs(sum(p * q for p, q in zip(root[i], root[j], strict=True)) - matrix[i][j]) > 0.01
        for i in range(UNKNOWNS)
        for j in range(i + 1)
    )


def deviations_of(sure: Sure) -> list[float]:
    """Return the standard deviations of the unknowns, porosity's in log-odds."""
    return [
        sure.level_sd,
        sure.log_warmth_sd,
        sure.porosity_sd / POROSITY_SLOPE,
        sure.log_rate_sd,
        sure.log_uptake_sd,
    ]


def spread_of(sure: Sure) -> Rows:
    """Return the lower-triangular root of the covariance of the unknowns."""
    return [
        [sd * value for value in row]
        for sd, row in zip(deviations_of(sure), lower_root(_correlated(sure)), strict=True)
    ]


def moved_porosity(porosity: float, log_odds_step: float) -> float:
    """Return porosity moved by a step in log-odds, kept within 0.02–0.98."""
    kept = min(1 - _POROSITY_RIM, max(_POROSITY_RIM, porosity))
    odds = log(kept / (1 - kept)) + log_odds_step
    moved = 1 / (1 + exp(-odds))
    return min(1 - _POROSITY_RIM, max(_POROSITY_RIM, moved))


def moved(head: Head, steps: Vector) -> Head:
    """Return a head moved by a step in each unknown."""
    level, log_warmth, log_odds, log_rate, log_uptake = steps
    return replace(
        head,
        level=head.level + level,
        warmth=head.warmth * exp(log_warmth),
        porosity=moved_porosity(head.porosity, log_odds) if log_odds else head.porosity,
        rate=head.rate * exp(log_rate),
        uptake=head.uptake * exp(log_uptake),
    )


def possible_heads(centre: Head, sure: Sure) -> list[Head]:
    """Return the ten heads around the described one that stand for how unsure it is."""
    return heads_around(centre, spread_of(sure), 0.0 if sure.seen else LABEL_DOUBT)


def heads_around(centre: Head, spread: Sequence[Vector], label_doubt: float = 0.0) -> list[Head]:
    """Return the ten heads ±√5 along the columns of a root of the unknowns' covariance.

    The root is lower triangular, so its last column moves uptake alone. A stronger tube and hair
    that takes up more look the same, so `label_doubt` widens that pair, bowl by bowl.
    """
    *columns, last = zip(*spread, strict=True)
    heads = []
    for sign in (SPREAD, -SPREAD):
        heads += [moved(centre, [sign * step for step in column]) for column in columns]
        heads.append(
            replace(
                moved(centre, [sign * step for step in last]),
                uptake_steps=sign,
                uptake_sd=last[-1],
                label_doubt=label_doubt,
            )
        )
    return heads
