"""What painted swatches have made known of the products in a bowl, and what is still unsure of it.

A product's `known` is a covariance of its dyes and of its line's speed. Here it becomes columns of
a root of that covariance, thinned as the bowl thins the product, and from them a doubt about the
dry colour.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import exp, log, sqrt

from msgspec import UNSET

from ...contract.products import DyesSd, Known, Product, ProductClass
from ..colour.difference import residual_from, slopes_at
from ..colour.spectrum import dot
from ..hair.appearance import Strands, Takes, dry_lab_gradient, with_dye
from ..products.dyes import DYES, DyeAmounts, spectrum_of
from ..products.known import known_deviations, known_root
from .kinetics import rinsed_row

_RATE_STEP = 0.02
# CIEDE2000 on each axis: slopes tell nothing of what lies further off, and no label is so far off.
_MOST_UNSURE = 8.0

# One column: how a bowl's dye amounts and the logarithm of its speed move together.
Column = tuple[DyeAmounts, float]


@dataclass(frozen=True, slots=True)
class Learnt:
    """What of a bowl's dye swatches have made known, as a share, and how unsure it still is."""

    share: float
    columns: tuple[Column, ...]


@lru_cache(maxsize=1024)
def _columns(
    sds: tuple[float, ...], rate_sd: float, correlations: tuple[float, ...]
) -> list[Column]:
    known = Known(
        DyesSd(**{dye.name: sd for dye, sd in zip(DYES, sds, strict=True)}),
        rate_sd,
        0,
        list(correlations) or UNSET,
    )
    places = [place for place, _ in known_deviations(known)]
    columns = []
    for values in zip(*known_root(known), strict=True):
        steps = [0.0] * (len(DYES) + 1)
        for place, value in zip(places, values, strict=True):
            steps[place] = value
        columns.append((tuple(steps[:-1]), steps[-1]))
    return columns


def columns_of(known: Known) -> list[Column]:
    """Return the columns of a root of a product's own covariance."""
    sds = tuple(getattr(known.dyes_sd, dye.name) for dye in DYES)
    return _columns(sds, known.rate_sd, tuple(known.correlations or ()))


def learnt_of(
    parts: Sequence[tuple[Product, float]], dye_of: Sequence[float], strength: float
) -> Learnt | None:
    """Return what swatches have shown of a bowl; None where they have shown nothing.

    `dye_of` is the dye in a gram of each part, `strength` how developer thins the bowl. Tubes are
    off independently.
    """
    if all(product.known is UNSET for product, _ in parts):
        return None
    dye = [grams * amount for (_, grams), amount in zip(parts, dye_of, strict=True)]
    colour_g, total = sum(grams for _, grams in parts), sum(dye)
    columns: list[Column] = []
    share = 0.0
    for (product, grams), held in zip(parts, dye, strict=True):
        if product.known is UNSET or total <= 0:
            continue
        share += held / total
        thinned = strength * grams / colour_g
        columns += [
            (tuple(thinned * step for step in amounts), held / total * rate)
            for amounts, rate in columns_of(product.known)
        ]
    return Learnt(share, tuple(columns))


def rate_of(parts: Sequence[tuple[Product, float]], dye_of: Sequence[float]) -> float:
    """Return how fast a bowl develops: its parts' speeds, each by how much of the dye is its."""
    if all(product.rate is UNSET for product, _ in parts):
        return 1.0
    dye = [grams * amount for (_, grams), amount in zip(parts, dye_of, strict=True)]
    total = sum(dye)
    if total <= 0:
        return 1.0
    return exp(
        sum(
            held / total * log(product.rate or 1.0)
            for (product, _), held in zip(parts, dye, strict=True)
        )
    )


def unsure_by(
    learnt: Learnt,
    product_class: ProductClass,
    amounts: DyeAmounts,
    bare: Strands,
    takes: Takes,
    key: tuple[float, float],
) -> float:
    """Return how far off what swatches left unsure puts a dry colour, CIEDE2000 on each axis.

    `bare` are the strands before, `takes` what each takes up, `key` the porosity and the minute on
    the dye's clock.
    """
    if not learnt.columns:
        return 0.0
    rows = [rinsed_row(i, product_class, *key) for i in range(len(DYES))]
    left = spectrum_of(list(zip(amounts, rows, strict=True)))
    lab, gradient = dry_lab_gradient(with_dye(bare, left, takes), takes=takes)
    by_lab = slopes_at(residual_from(lab), lab)
    towards = [
        [
            sum(slope * row[band] for slope, row in zip(slopes, gradient, strict=True))
            for band in range(len(left))
        ]
        for slopes in by_lab
    ]
    porosity, clock_min = key
    later_key = (porosity, clock_min * (1.0 + _RATE_STEP))
    later = spectrum_of(
        [(a, rinsed_row(i, product_class, *later_key)) for i, a in enumerate(amounts)]
    )
    faster = [(q - p) / _RATE_STEP for p, q in zip(left, later, strict=True)]
    by_dye = [[dot(axis, row) for row in rows] + [dot(axis, faster)] for axis in towards]
    square = 0.0
    for moved, rate in learnt.columns:
        for axis in by_dye:
            step = dot(axis[:-1], moved) + axis[-1] * rate
            square += step * step
    return min(_MOST_UNSURE, sqrt(square / 3.0))
