"""From a measured colour of bare hair to its level and warmth."""

from collections.abc import Callable
from math import exp

import msgspec

from ...contract.hair import Hair
from ..colour.difference import residual_from
from ..colour.lab import LabTuple, lab_of
from .appearance import (
    TOWEL_DAMP,
    USUAL_BUNCHED,
    WET_AT_BASIN,
    dry_strands_lab,
    mixed,
    wet_reflectance,
)
from .fibre import PALEST_LEVEL
from .head import Head, head_of

_WETNESS = {"damp": TOWEL_DAMP, "wet": WET_AT_BASIN}
_LOG_WARMTH_RIM = 1.609  # log 5: the contract's bounds on warmth, 0.2–5
_STARTS = (2.0, 4.0, 6.0, 7.5, 9.0, 10.0)
_AS_CLOSE = 1e-4  # squared ΔE00
_ROUNDS = 30
_PROBE = 1e-4


def bare_lab(head: Head, state: str) -> LabTuple:
    """Return the colour of bare hair dry, damp or wet.

    Dry hair is read fanned out. Damp and wet hair is read as a strand is held, bunched as usual. So
    a reading of the wiped strand at minute 0 gives back its own hair.
    """
    strands = head.strands()
    if state == "dry":
        return dry_strands_lab(strands)
    wet = _WETNESS[state]
    return lab_of(
        mixed([(share, wet_reflectance(ks, wet, USUAL_BUNCHED)) for share, ks in strands])
    )


def read_hair(hair: Hair) -> Hair:
    """Return the hair with level and warmth fitted to its reading, if it has one.

    Least CIEDE2000 by damped Gauss–Newton on (level, log warmth), kept within what hair can
    be: level 1–10.5, warmth 0.2–5. Started from several levels, since the colour of hair by
    level is not one straight road.
    """
    if hair.reading is None:
        return hair
    residual, state = residual_from(hair.reading.lab), hair.reading.state
    described = msgspec.structs.replace(hair, level=hair.level or 10.0)

    def miss(level: float, log_warmth: float) -> LabTuple:
        head = head_of(msgspec.structs.replace(described, level=level, warmth=exp(log_warmth)))
        return residual(bare_lab(head, state))

    fits = [_descend(miss, level, 0.0) for level in _STARTS]
    closest = min(cost for cost, _, _ in fits)
    # Two levels can share a colour at different warmth: the more usual warmth is the likelier.
    _, level, log_warmth = min(
        (round(abs(warmth), 6), level, warmth)
        for cost, level, warmth in fits
        if cost <= closest + _AS_CLOSE
    )
    return msgspec.structs.replace(hair, level=level, warmth=min(5.0, max(0.2, exp(log_warmth))))


def _descend(
    miss: Callable[[float, float], LabTuple], level: float, log_warmth: float
) -> tuple[float, float, float]:
    at = (level, log_warmth)
    e = miss(*at)
    cost = _square(e)
    damping = 1e-3
    for _ in range(_ROUNDS):
        by_level = _slope(e, miss(at[0] - _PROBE, at[1]), -_PROBE)
        by_warmth = _slope(e, miss(at[0], at[1] + _PROBE), _PROBE)
        a, b, c = _product(by_level, by_level), _product(by_level, by_warmth), _square(by_warmth)
        p, q = _product(by_level, e), _product(by_warmth, e)
        improved = False
        while damping < 1e6:
            a_, c_ = a * (1 + damping) + 1e-9, c * (1 + damping) + 1e-9
            det = a_ * c_ - b * b
            trial = (
                min(PALEST_LEVEL, max(1.0, at[0] - (c_ * p - b * q) / det)),
                min(_LOG_WARMTH_RIM, max(-_LOG_WARMTH_RIM, at[1] - (a_ * q - b * p) / det)),
            )
            e_trial = miss(*trial)
            if _square(e_trial) < cost:
                improved = True
                break
            damping *= 5
        if not improved:
            break
        gain = cost - _square(e_trial)
        at, e, cost, damping = trial, e_trial, _square(e_trial), damping / 5
        if gain < 1e-12:
            break
    return cost, *at


def _slope(e: LabTuple, moved: LabTuple, by: float) -> LabTuple:
    return (moved[0] - e[0]) / by, (moved[1] - e[1]) / by, (moved[2] - e[2]) / by


def _product(p: LabTuple, q: LabTuple) -> float:
    return p[0] * q[0] + p[1] * q[1] + p[2] * q[2]


def _square(e: LabTuple) -> float:
    return _product(e, e)
