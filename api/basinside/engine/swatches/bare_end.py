"""Swatch hair from a reading of its bare end: level and warmth, and how sure they are.

A reading may be a photo's, and pale hair hardly shows its warmth. So what hair usually is counts as
well as the reading: the likeliest level and warmth of both, not those nearest to the reading alone.
"""

from collections.abc import Sequence
from functools import lru_cache
from math import exp, log

import msgspec

from ...contract.hair import Hair, Sure
from ..colour.lab import LabTuple
from ..hair.fibre import PALEST_LEVEL
from ..hair.head import Head, head_of
from ..hair.reading import bare_lab
from ..hair.unsure import UNKNOWNS, moved
from .matrices import Rows, inverse, root_of, solved

# Assumptions, no published source: how far the painted end differs from the bare end of the same
# piece, in levels, log warmth and log-odds of porosity (0.05 at porosity 0.5).
_UNEVEN = (0.05, 0.05, 0.2)
_UNREAD_LEVEL_SD = 3.0  # what is believed of an unread level before its reading: hardly anything
_STEP = 0.02
_ROUNDS = 12
_SETTLED = 1e-4
_LADDER = tuple(1.0 + 0.25 * step for step in range(39))
_LOG_WARMTH_RIM = log(5.0)


@lru_cache(maxsize=4)
def _ladder(lifted: bool, white_share: float, state: str) -> list[tuple[LabTuple, float]]:
    plain = head_of(Hair(level=10.0, lifted=lifted, white_share=white_share))
    return [
        (bare_lab(moved(plain, (level - 10.0, 0.0, 0.0, 0.0, 0.0)), state), level)
        for level in _LADDER
    ]


def read_bare_end(hair: Hair, sd: float) -> tuple[Hair, Rows]:
    """Return the hair with the likeliest level and warmth, and the covariance of the painted end.

    `hair` has a reading; `sd` is how far off it may be on each CIELAB axis. A level that is stated
    as well counts as it does for a client's hair. The covariance is of the five unknowns of
    `hair/unsure.py`.
    """
    if hair.reading is None:
        raise ValueError("hair without a reading: only a read end goes here")
    usual = Sure()
    lab, state = hair.reading.lab, hair.reading.state
    stated, level_sd = hair.level, usual.level_sd
    if stated is None:
        level_sd = _UNREAD_LEVEL_SD
        stated = min(
            _ladder(hair.lifted, hair.white_share, state),
            key=lambda rung: sum((p - q) ** 2 for p, q in zip(rung[0], lab, strict=True)),
        )[1]
    centre = head_of(msgspec.structs.replace(hair, level=stated))
    sds = (level_sd, usual.log_warmth_sd)

    def miss(at: Sequence[float]) -> list[float]:
        shown = bare_lab(_at(centre, at), state)
        told = [(s - r) / sd for s, r in zip(shown, lab, strict=True)]
        return [*told, at[0] / sds[0], at[1] / sds[1]]

    at, missed = [0.0, 0.0], miss([0.0, 0.0])
    cost, matrix = _square(missed), [[1.0, 0.0], [0.0, 1.0]]
    for _ in range(_ROUNDS):
        slopes = [
            [(m - t) / _STEP for m, t in zip(missed, miss(there), strict=True)]
            for there in ([at[0] - _STEP, at[1]], [at[0], at[1] - _STEP])
        ]
        matrix = [[sum(p * q for p, q in zip(a, b, strict=True)) for b in slopes] for a in slopes]
        down = [-sum(s * m for s, m in zip(row, missed, strict=True)) for row in slopes]
        step, scale = solved(root_of(matrix), down), 1.0
        while scale > 0.01:
            trial = [
                min(PALEST_LEVEL, max(1.0, stated + at[0] + scale * step[0])) - stated,
                min(_LOG_WARMTH_RIM, max(-_LOG_WARMTH_RIM, at[1] + scale * step[1])),
            ]
            missed_there = miss(trial)
            if _square(missed_there) < cost:
                break
            scale *= 0.4
        else:
            break
        gain = cost - _square(missed_there)
        at, missed, cost = trial, missed_there, cost - gain
        if gain < _SETTLED:
            break
    read = msgspec.structs.replace(
        hair, level=stated + at[0], warmth=min(5.0, max(0.2, hair.warmth * exp(at[1])))
    )
    return read, _with_unevenness(inverse(matrix))


def uneven() -> Rows:
    """Return the covariance of swatch hair whose bare end is known exactly."""
    return _with_unevenness([[0.0, 0.0], [0.0, 0.0]])


def _with_unevenness(read: Rows) -> Rows:
    covariance = [[0.0] * UNKNOWNS for _ in range(UNKNOWNS)]
    for i, row in enumerate(read):
        covariance[i][:2] = row
    for i, sd in enumerate(_UNEVEN):
        covariance[i][i] += sd * sd
    return covariance


def _at(centre: Head, at: Sequence[float]) -> Head:
    return moved(centre, (at[0], at[1], 0.0, 0.0, 0.0))


def _square(vector: Sequence[float]) -> float:
    return sum(v * v for v in vector)
