"""The fit: the dyes, speeds and shared errors that swatches and labels together make likeliest.

Swatches miss by Student's t of four degrees of freedom, so that one that is wrong hardly counts
(Lange, Little & Taylor, J. Am. Stat. Assoc. 84 (1989) 881: weights (ν + 3) / (ν + d²) for three
axes). Amounts never fall below zero. Each step solves the linear least squares of that moment, as
Gauss and Newton do. How unsure a swatch's hair is, is part of how far off its reading may be.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import log

from ..colour.difference import residual_from, slopes_at
from ..colour.lab import LabTuple
from ..colour.spectrum import dot
from ..hair.unsure import UNKNOWNS
from .matrices import Rows, bounded_minimum, forward, inverse, root_of
from .painted import Painted
from .unknowns import Unknowns

_FREEDOM = 4.0
_AXES = 3.0
# What the model itself may be off by on a swatch, CIEDE2000 on each axis (assumption).
MODEL_SD = 0.2
_ROUNDS = 30
_AGAIN_UNTIL = 2  # rounds in which doubts are measured again
_SETTLED = 1e-5


@dataclass
class Seen:
    """A swatch in a fit, in units of its own doubt: how far off, and its slopes by the unknowns.

    `slopes` are three rows over `places`. `root` is the root of its covariance in CIEDE2000.
    """

    places: list[int]
    slopes: Rows
    miss: list[float]
    root: Rows
    by_hair: Rows  # CIEDE2000 by each unknown of the hair, three rows
    off: LabTuple  # in CIEDE2000, predicted from read

    @property
    def square(self) -> float:
        """Return the squared distance in deviations."""
        return dot(self.miss, self.miss)

    @property
    def weight(self) -> float:
        """Return how much it counts against one that misses by nothing, 0–1."""
        return _FREEDOM / (_FREEDOM + self.square)


@dataclass
class Fit:
    """What is likeliest, how unsure that still is, and how each swatch fits."""

    unknowns: Unknowns
    row: list[float]
    covariance: Rows
    seen: list[Seen]


def fitted(unknowns: Unknowns, painted: Sequence[Painted]) -> Fit:
    """Return the likeliest unknowns, with their covariance."""
    row = list(unknowns.mean)
    roots = _roots(unknowns, painted, row)
    here = _cost(unknowns, painted, roots, row)
    for at in range(_ROUNDS):
        seen = [_seen(unknowns, p, row, r) for p, r in zip(painted, roots, strict=True)]
        # the first step counts all alike: the label alone is no judge of what is odd
        matrix, pull = _normal(unknowns, seen, row, robust=at > 0)
        aim = [dot(line, row) + p for line, p in zip(matrix, pull, strict=True)]
        goal = bounded_minimum(matrix, aim, unknowns.bounded)
        step, there = 1.0, here
        while step > 1e-3:
            trial = [r + step * (g - r) for r, g in zip(row, goal, strict=True)]
            there = _cost(unknowns, painted, roots, trial)
            if there < here or at == 0:
                break
            step *= 0.4
        else:
            break
        gain, row, here = here - there, trial, there
        if at < _AGAIN_UNTIL:
            roots = _roots(unknowns, painted, row)
            here = _cost(unknowns, painted, roots, row)
        elif gain < _SETTLED:
            break
    seen = [_seen(unknowns, p, row, r) for p, r in zip(painted, roots, strict=True)]
    matrix, _ = _normal(unknowns, seen, row, robust=True)
    return Fit(unknowns, row, inverse(matrix), seen)


def off_by(unknowns: Unknowns, painted: Painted, row: Sequence[float]) -> LabTuple:
    """Return the CIEDE2000 vector from what was read to what was to be read, shared error in."""
    l, a, b = painted.dried(unknowns.amounts(painted, row), unknowns.rate(painted, row))
    dl, da, db = unknowns.offset(painted, row)
    return residual_from(painted.lab)((l + dl, a + da, b + db))


def doubt_root(
    by_lab: Rows, by_hair: Rows, covariance: Rows, sd: float, model_sd: float = MODEL_SD
) -> Rows:
    """Return the root of a swatch's covariance in CIEDE2000: reading, model and hair."""
    unsure = [u for u in range(UNKNOWNS) if covariance[u][u] > 0]
    spread = [
        [dot([axis[u] for u in unsure], [covariance[v][u] for u in unsure]) for v in unsure]
        for axis in by_hair
    ]
    found = []
    for i in range(3):
        line = []
        for j in range(3):
            value = sd * sd * dot(by_lab[i], by_lab[j]) + (model_sd * model_sd if i == j else 0.0)
            value += dot(spread[i], [by_hair[j][v] for v in unsure])
            line.append(value)
        found.append(line)
    return root_of(found)


@dataclass
class _Doubt:
    root: Rows
    by_hair: Rows


def _roots(unknowns: Unknowns, painted: Sequence[Painted], row: Sequence[float]) -> list[_Doubt]:
    doubts = []
    for swatch in painted:
        amounts, rate = unknowns.amounts(swatch, row), unknowns.rate(swatch, row)
        by_lab = slopes_at(residual_from(swatch.lab), swatch.lab)
        by_hair_lab = swatch.by_hair(amounts, rate)
        by_hair = [[dot(axis, slope) for slope in by_hair_lab] for axis in by_lab]
        sd = (swatch.sd**2 + swatch.known_sd**2) ** 0.5 if swatch.known_lab else swatch.sd
        model_sd = 0.0 if swatch.known_lab else MODEL_SD
        doubts.append(_Doubt(doubt_root(by_lab, by_hair, swatch.covariance, sd, model_sd), by_hair))
    return doubts


def _cost(
    unknowns: Unknowns, painted: Sequence[Painted], doubts: Sequence[_Doubt], row: Sequence[float]
) -> float:
    cost = sum(((x - m) / s) ** 2 for x, m, s in zip(row, unknowns.mean, unknowns.sd, strict=True))
    for swatch, doubt in zip(painted, doubts, strict=True):
        miss = forward(doubt.root, off_by(unknowns, swatch, row))
        cost += (_FREEDOM + _AXES) * log(1.0 + dot(miss, miss) / _FREEDOM)
    return cost


def slopes_of(
    unknowns: Unknowns, painted: Painted, row: Sequence[float]
) -> tuple[LabTuple, list[int], list[LabTuple]]:
    """Return the dry colour, and its CIELAB derivatives by the unknowns at these places."""
    amounts, rate = unknowns.amounts(painted, row), unknowns.rate(painted, row)
    used = sorted(
        {
            place
            for product, _ in painted.parts
            if product in unknowns.priors
            for place in unknowns.priors[product].places
        }
    )
    lab, by_dye, by_rate = painted.slopes(amounts, rate, used)
    moves = dict(zip(used, by_dye, strict=True))
    places: list[int] = []
    slopes: list[LabTuple] = []
    for product, share in painted.parts:
        if product in unknowns.priors:
            for at, place in zip(
                unknowns.block(product), unknowns.priors[product].places, strict=False
            ):
                l, a, b = moves[place]
                places.append(at)
                slopes.append((share * l, share * a, share * b))
    for at, share in unknowns.speeds(painted, row):
        l, a, b = by_rate
        places.append(at)
        slopes.append((share * l, share * a, share * b))
    return lab, places, slopes


def _seen(unknowns: Unknowns, painted: Painted, row: Sequence[float], doubt: _Doubt) -> Seen:
    (l, a, b), places, slopes = slopes_of(unknowns, painted, row)
    dl, da, db = unknowns.offset(painted, row)
    shown = (l + dl, a + da, b + db)
    residual = residual_from(painted.lab)
    if painted.group is not None:
        at = unknowns.group_at[painted.group]
        places = [*places, at, at + 1, at + 2]
        slopes = [*slopes, (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)]
    by_lab = slopes_at(residual, shown)
    columns = [forward(doubt.root, [dot(axis, slope) for axis in by_lab]) for slope in slopes]
    off = residual(shown)
    return Seen(
        places=places,
        slopes=[[column[axis] for column in columns] for axis in range(3)],
        miss=forward(doubt.root, off),
        root=doubt.root,
        by_hair=doubt.by_hair,
        off=off,
    )


def _normal(
    unknowns: Unknowns, seen: Sequence[Seen], row: Sequence[float], *, robust: bool
) -> tuple[Rows, list[float]]:
    """Return the normal matrix and the pull from here: what a step δ solves is A·δ = pull."""
    size = len(row)
    matrix = [[0.0] * size for _ in range(size)]
    pull = [0.0] * size
    for i in range(size):
        precision = unknowns.sd[i] ** -2
        matrix[i][i] = precision
        pull[i] = precision * (unknowns.mean[i] - row[i])
    for swatch in seen:
        weight = (_FREEDOM + _AXES) / (_FREEDOM + swatch.square) if robust else 1.0
        columns = list(zip(*swatch.slopes, strict=True))
        for i, p in zip(swatch.places, columns, strict=True):
            line = matrix[i]
            pull[i] -= weight * dot(p, swatch.miss)
            w0, w1, w2 = weight * p[0], weight * p[1], weight * p[2]
            for j, q in zip(swatch.places, columns, strict=True):
                line[j] += w0 * q[0] + w1 * q[1] + w2 * q[2]
    return matrix, pull
