"""A client's dried result as a swatch of one head: what it tells of the head, what of the product.

The product counts by how unsure it is, and so does the head. A head is unsure in five ways and is
one of many, so it takes most of what was off.
"""

from math import sqrt

import msgspec

from ...contract.hair import Sure
from ...contract.swatches import Split
from ..colour.difference import delta_e_2000
from ..colour.spectrum import dot
from ..hair.fibre import PALEST_LEVEL
from ..hair.unsure import POROSITY_SLOPE, UNKNOWNS, moved
from .fit import Fit, Seen
from .leave_out import LeftOut
from .matrices import Rows, forward, solved
from .painted import Painted

_LEAST_FACTOR, _MOST_FACTOR = 0.2, 5.0  # the contract's bounds on warmth, rate and uptake


def split_of(fit: Fit, swatch: Painted, seen: Seen, held_out: LeftOut) -> Split:
    """Return how a result was shared out, and the head as it now seems."""
    unknowns = fit.unknowns
    amounts, rate = unknowns.amounts(swatch, fit.row), unknowns.rate(swatch, fit.row)
    after = swatch.dried(amounts, rate)
    steps, left = _head_after(swatch, seen)
    as_judged = swatch.dried(amounts, rate, steps)
    head = moved(swatch.described, steps)
    return Split(
        product_delta_e=held_out.moved,
        head_delta_e=delta_e_2000(after, as_judged),
        hair=msgspec.structs.replace(
            swatch.hair,
            level=min(PALEST_LEVEL, max(1.0, head.level)),
            warmth=_kept(head.warmth),
            porosity=head.porosity,
            rate=_kept(head.rate),
            uptake=_kept(head.uptake),
            reading=None,
            sure=_sure(left),
        ),
    )


def _head_after(swatch: Painted, seen: Seen) -> tuple[list[float], Rows]:
    """Return the likeliest step of the head's unknowns, and the covariance that is left.

    The update of Kalman, J. Basic Eng. 82 (1960) 35, by one reading. An odd one counts less.
    """
    spread = [[dot(line, axis) for axis in seen.by_hair] for line in swatch.covariance]
    pull = solved(seen.root, seen.off)
    steps = [-seen.weight * dot(line, pull) for line in spread]
    gained = [forward(seen.root, line) for line in spread]
    left = [
        [value - seen.weight * dot(p, q) for value, q in zip(line, gained, strict=True)]
        for line, p in zip(swatch.covariance, gained, strict=True)
    ]
    return steps, left


def _sure(covariance: Rows) -> Sure:
    sds = [sqrt(max(0.0, covariance[i][i])) for i in range(UNKNOWNS)]
    correlations = [
        min(1.0, max(-1.0, covariance[i][j] / (sds[i] * sds[j]))) if sds[i] * sds[j] else 0.0
        for i in range(1, UNKNOWNS)
        for j in range(i)
    ]
    level, warmth, log_odds, rate, uptake = (min(2.0, sd) for sd in sds)
    return Sure(
        level_sd=level,
        log_warmth_sd=warmth,
        porosity_sd=min(0.5, POROSITY_SLOPE * log_odds),
        log_rate_sd=rate,
        log_uptake_sd=uptake,
        correlations=correlations if any(correlations) else None,
    )


def _kept(factor: float) -> float:
    return min(_MOST_FACTOR, max(_LEAST_FACTOR, factor))
