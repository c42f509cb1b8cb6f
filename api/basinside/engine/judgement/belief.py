"""What is believed of a head, and how evidence moves it.

Steps are counted in standard deviations of the description, along the columns of the root of
its covariance, so that before any evidence they are independent and of variance 1. The first
step is the level's alone.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from math import exp, hypot, log, sqrt

import msgspec

from ...contract.hair import Hair, Sure
from ..hair.fibre import PALEST_LEVEL
from ..hair.head import Head, Heads
from ..hair.unsure import (
    LABEL_DOUBT,
    POROSITY_SLOPE,
    SPREAD,
    UNKNOWNS,
    Rows,
    Vector,
    heads_around,
    lower_root,
    moved,
    spread_of,
)

# From a head as the mix goes on: residuals of mean 0 and variance 1 if it is the true one.
Evidence = Callable[[Head], Vector]

_PROBE = 0.02
_ROUNDS = 25
_GAIN = 1e-5
_NARROWEST, _WIDEST = 0.5, 1.1
_FACTOR_RIM = log(5.0)  # the contract's bounds on warmth, rate and uptake: 0.2 to 5


@dataclass(frozen=True)
class Belief:
    """A head that is not known exactly: as described, the steps away from it, and their spread.

    `wear` puts on a head what is already on it.
    """

    hair: Hair
    described: Head
    wear: Callable[[Head], Head]
    spread: Rows
    steps: tuple[float, ...] = (0.0,) * UNKNOWNS
    root: Sequence[Vector] = tuple(
        tuple(float(i == j) for j in range(UNKNOWNS)) for i in range(UNKNOWNS)
    )
    seen: bool = False  # whether a look is in it

    def bare(self, steps: Vector) -> Head:
        """Return the head these steps away from the described one, before anything is on it."""
        return moved(self.described, _times(self.spread, steps))

    def worn(self, steps: Vector) -> Head:
        """Return the head these steps away from the described one, as the mix goes on."""
        return self.wear(self.bare(steps))

    def heads(self) -> Heads:
        """Return the likeliest head and the heads it may be, as the mix goes on."""
        centre = self.bare(self.steps)
        around = heads_around(centre, self._covariance_root())
        return Heads(self.wear(centre), [self.wear(head) for head in around], self.seen)

    def judged(self) -> Hair:
        """Return the likeliest head as hair, with how sure that is."""
        head = self.bare(self.steps)
        root = self._covariance_root()
        deviations = [sum(v * v for v in row) ** 0.5 for row in root]
        correlations = [
            _ratio(
                sum(p * q for p, q in zip(root[i], root[j], strict=True)),
                deviations[i] * deviations[j],
            )
            for i in range(1, UNKNOWNS)
            for j in range(i)
        ]
        level_sd, warmth_sd, log_odds_sd, rate_sd, uptake_sd = deviations
        return msgspec.structs.replace(
            self.hair,
            level=min(PALEST_LEVEL, max(1.0, head.level)),
            warmth=_kept(head.warmth),
            porosity=head.porosity,
            rate=_kept(head.rate),
            uptake=_kept(head.uptake),
            reading=None,
            sure=Sure(
                level_sd=level_sd,
                log_warmth_sd=warmth_sd,
                porosity_sd=min(0.5, POROSITY_SLOPE * log_odds_sd),
                log_rate_sd=rate_sd,
                log_uptake_sd=uptake_sd,
                correlations=correlations if any(correlations) else None,
                seen=self.seen,
            ),
        )

    def _covariance_root(self) -> Rows:
        # both triangular, so their product is the one root a judged hair's `sure` gives again
        columns = list(zip(*self.root, strict=True))
        return [
            [sum(p * q for p, q in zip(row, column, strict=True)) for column in columns]
            for row in self.spread
        ]


def described_as(
    hair: Hair, described: Head, wear: Callable[[Head], Head], by_label: float = 0.0
) -> Belief:
    """Return the belief before any evidence.

    `by_label` is how much of one label's doubt is in the bowl. Nothing that is seen of one bowl
    tells a strong tube from hair that takes up more, so it is part of the uptake.
    """
    label_sd = 0.0 if hair.sure.seen else LABEL_DOUBT * by_label
    uptake_sd = min(2.0, hypot(hair.sure.log_uptake_sd, label_sd))
    sure = msgspec.structs.replace(hair.sure, log_uptake_sd=uptake_sd)
    return Belief(hair, described, wear, spread_of(sure), seen=hair.sure.seen)


def updated(belief: Belief, evidence: Sequence[Evidence]) -> Belief:
    """Return the belief after evidence: the likeliest steps and the spread around them.

    Maximum a posteriori by damped Gauss–Newton (Levenberg, Q. Appl. Math. 2 (1944) 164), the
    spread by how steep it is around. `evidence` is all there is; `belief.steps` only starts it.
    The level stays within what hair can be.
    """

    def residuals(steps: Vector) -> list[float]:
        head = belief.worn(steps)
        return [r for clue in evidence for r in clue(head)]

    low, high = _level_steps(belief)
    steps = list(belief.steps)
    missed = residuals(steps)
    cost = _square(steps) + _square(missed)
    damping = 1e-3
    for _ in range(_ROUNDS):
        slopes = _slopes(residuals, steps, missed, high)
        curvature = _curvature(slopes)
        downhill = [
            -s - sum(c * m for c, m in zip(column, missed, strict=True))
            for s, column in zip(steps, slopes, strict=True)
        ]
        held = (steps[0] >= high and downhill[0] > 0) or (steps[0] <= low and downhill[0] < 0)
        gain = 0.0
        while damping < 1e6:
            trial = [
                s + d
                for s, d in zip(steps, _solved(curvature, downhill, damping, held), strict=True)
            ]
            trial[0] = min(high, max(low, trial[0]))
            missed_there = residuals(trial)
            gain = cost - _square(trial) - _square(missed_there)
            if gain > 0:
                break
            damping = max(1e-3, 6 * damping)
        if gain <= 0:
            break
        steps, missed, cost, damping = trial, missed_there, cost - gain, damping / 8
        if gain < _GAIN:
            break
    root = lower_root(_inverse(_curvature(_slopes(residuals, steps, missed, high))))

    def rise(by: Vector) -> float:
        there = [s + b for s, b in zip(steps, by, strict=True)]
        return _square(there) + _square(residuals(there)) - cost

    return replace(belief, steps=tuple(steps), root=_as_steep(root, rise), seen=True)


def _as_steep(root: Rows, rise: Callable[[Vector], float]) -> Rows:
    """Return the root with each column as long as the misfit is really steep along it.

    At ±√5 standard deviations, where the heads it may be will stand, a normal distribution's
    misfit has risen by 5. Curvature at the bottom alone makes a curved valley too wide, so that
    86 of 100 heads fell inside the 80 % set. Along each column as in the split-normal of Geweke,
    Econometrica 57 (1989) 1317, both sides alike.
    """
    columns = []
    for column in zip(*root, strict=True):
        risen = [rise([sign * SPREAD * v for v in column]) for sign in (1, -1)]
        steep = sum(risen) / 2
        scale = SPREAD / sqrt(steep) if steep > 0 else 1.0
        columns.append([min(_WIDEST, max(_NARROWEST, scale)) * v for v in column])
    return [list(row) for row in zip(*columns, strict=True)]


def _level_steps(belief: Belief) -> tuple[float, float]:
    """Return the least and greatest first step for which the level is one hair can have."""
    level_sd, level = belief.spread[0][0], belief.described.level
    if level_sd == 0:
        return 0.0, 0.0
    return (1.0 - level) / level_sd, (PALEST_LEVEL - level) / level_sd


def slope_of(measure: Callable[[Head], float], belief: Belief) -> tuple[float, list[float]]:
    """Return a measure of the likeliest head and its derivative by each step."""
    here = measure(belief.worn(belief.steps))
    slopes = _slopes(
        lambda steps: [measure(belief.worn(steps))],
        belief.steps,
        [here],
        _level_steps(belief)[1],
    )
    return here, [column[0] for column in slopes]


def _slopes(
    residuals: Callable[[Vector], Vector], steps: Vector, missed: Vector, high: float
) -> Rows:
    """Return the derivative of the residuals by each step, a list for each step."""
    columns = []
    for i in range(UNKNOWNS):
        by = -_PROBE if i == 0 and steps[0] + _PROBE > high else _PROBE
        there = residuals([s + by * (i == j) for j, s in enumerate(steps)])
        columns.append([(m - n) / by for m, n in zip(there, missed, strict=True)])
    return columns


def _curvature(slopes: Rows) -> Rows:
    """Return I + JᵀJ: what description and evidence together know of the steps."""
    return [
        [(i == j) + sum(p * q for p, q in zip(a, b, strict=True)) for j, b in enumerate(slopes)]
        for i, a in enumerate(slopes)
    ]


def _solved(curvature: Rows, downhill: Vector, damping: float, level_held: bool) -> list[float]:
    """Return the damped step down; with the level held the others step without it."""
    first = 1 if level_held else 0
    inner = [
        [value * (1 + damping * (i == j)) for j, value in enumerate(row[first:])]
        for i, row in enumerate(curvature[first:])
    ]
    step = _times(_inverse(inner), downhill[first:])
    return [0.0] * first + step


def _inverse(matrix: Rows) -> Rows:
    """Return the inverse of a symmetric positive definite matrix, by its lower root."""
    n = len(matrix)
    root = lower_root(matrix)
    inner: Rows = [[0.0] * n for _ in range(n)]  # the root's inverse
    for row in range(n):
        inner[row][row] = 1.0 / root[row][row]
        for column in range(row):
            carried = sum(root[row][k] * inner[k][column] for k in range(column, row))
            inner[row][column] = -carried / root[row][row]
    return [[sum(inner[k][i] * inner[k][j] for k in range(n)) for j in range(n)] for i in range(n)]


def _times(matrix: Sequence[Vector], vector: Vector) -> list[float]:
    return [sum(a * v for a, v in zip(row, vector, strict=True)) for row in matrix]


def _square(vector: Vector) -> float:
    return sum(v * v for v in vector)


def _ratio(top: float, bottom: float) -> float:
    return min(1.0, max(-1.0, top / bottom)) if bottom > 0 else 0.0


def _kept(factor: float) -> float:
    return min(exp(_FACTOR_RIM), max(exp(-_FACTOR_RIM), factor))
