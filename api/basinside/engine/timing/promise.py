"""From a product's words to the dye in it: the amounts with which the model keeps its promise.

There is no table of amounts. A product promises a colour on the hair it is meant for at full
time. Its prior dye vector is the non-negative vector that makes this true with the least sum of
squares. A colour out of reach is brought as near as it goes.
"""

from collections.abc import Callable, Sequence
from functools import lru_cache
from math import sqrt

from ...contract.products import Product, ProductClass, PromisedOn
from ..colour.difference import slopes_at
from ..colour.lab import LabTuple
from ..colour.spectrum import Spectrum, dot
from ..hair.appearance import Strands, dry_lab_gradient, dry_strands_lab, with_dye
from ..products.classes import CLASSES
from ..products.dyes import DYES, NO_DYE, DyeAmounts, amounts_of, spectrum_of
from ..products.nonnegative import nonnegative_least_squares
from ..products.tones import CLEAR, may_hold
from .kinetics import rinsed_row, site_uptake
from .label import label_of

_PROMISE_POROSITY = 0.5
_RIDGE = 0.02  # least squares among equals
_ROUNDS = 40
# What preferring less dye may cost, CIELAB units. On dark hair a unit of dye hardly moves the
# colour, so the first ridge costs up to 2 there, and is lowered until it costs no more than this.
_RIDGE_COST = 0.05
_LOWER = 0.2
_LOWEST_RIDGE = 1e-5
_SETTLED, _SETTLED_ROUGHLY = 1e-9, 1e-3
_FAR_OFF = 1.3


@lru_cache(maxsize=1024)
def rinsed_rows(
    product_class: ProductClass, porosity: float, clock_min: float
) -> tuple[Spectrum, ...]:
    """Return for each dye the K/S one unit of full uptake leaves on rinsed hair, 36 bands."""
    places = range(len(DYES))
    return tuple(rinsed_row(dye, product_class, porosity, clock_min) for dye in places)


@lru_cache(maxsize=4096)
def promised_dyes(
    product_class: ProductClass,
    level: float,
    words: tuple[str, ...],
    promised_on: PromisedOn | None = None,
) -> DyeAmounts:
    """Return the dye amounts of a product described by class, level and tone words.

    `words` are known product words; ("clear",) is no dye. `label.py` says what is promised and
    where, `may_hold` which dyes it may take.
    """
    if CLEAR in words:
        return NO_DYE
    row = CLASSES[product_class]
    label = label_of(product_class, level, words, promised_on)
    target = label.colour
    uptake = site_uptake(row, _PROMISE_POROSITY, 0.0, 1.0, 0.0)
    rows = rinsed_rows(product_class, _PROMISE_POROSITY, label.minutes)
    held = [i for i, dye in enumerate(DYES) if may_hold(dye, row.ready_made, words)]
    spectra = [[uptake * s for s in rows[i]] for i in held]

    def miss(lab: LabTuple) -> LabTuple:
        return lab[0] - target[0], lab[1] - target[1], lab[2] - target[2]

    found = nearest_dyes(label.strands, spectra, miss, _RIDGE)
    amounts = dict(zip(held, found, strict=True))
    return tuple(amounts.get(i, 0.0) for i in range(len(DYES)))


def nearest_dyes(
    bare: Strands,
    spectra: Sequence[Spectrum],
    miss: Callable[[LabTuple], LabTuple],
    ridge: float,
    enough: float = 0.0,
) -> list[float]:
    """Return non-negative amounts of dye that make dry hair miss a wish least.

    `bare` are (share, K/S) strands, `spectra` what a unit of each dye adds, `miss` the
    difference vector of a CIELAB colour from the wish. Among amounts that are as good as
    each other, a ridge picks the least squares. It starts at `ridge` and is lowered for as long
    as that comes nearer by more than `_RIDGE_COST`. Where it only matters whether they miss by no
    more than `enough`, it stops as soon as they do, or will not.
    """

    def missed_by(amounts: Sequence[float]) -> float:
        return sqrt(sum(e * e for e in miss(dry_strands_lab(mixed_into(bare, amounts, spectra)))))

    amounts = _descend(bare, spectra, miss, ridge, [0.0] * len(spectra), enough)
    missed = missed_by(amounts)
    if enough and missed > _FAR_OFF * enough:
        return amounts
    while missed > max(enough, _RIDGE_COST) and ridge > _LOWEST_RIDGE:
        ridge *= _LOWER
        nearer = _descend(bare, spectra, miss, ridge, amounts, enough)
        gain = missed - missed_by(nearer)
        if gain <= _RIDGE_COST:
            break
        amounts, missed = nearer, missed - gain
    return amounts


def _descend(
    bare: Strands,
    spectra: Sequence[Spectrum],
    miss: Callable[[LabTuple], LabTuple],
    ridge: float,
    start: Sequence[float],
    enough: float,
) -> list[float]:
    """Minimise |miss|² + (`ridge`·|amounts|)² from `start`.

    Damped Gauss–Newton steps, each a non-negative least-squares problem. Allen, "Basic
    equations used in computer color matching", J. Opt. Soc. Am. 56 (1966) 1256, is the
    unconstrained form with three dyes.
    """
    n = len(spectra)
    amounts = list(start)
    penalty = [[ridge if i == j else 0.0 for i in range(n)] for j in range(n)]

    def cost_of(amounts: Sequence[float]) -> float:
        lab = dry_strands_lab(mixed_into(bare, amounts, spectra))
        return sum(e * e for e in miss(lab)) + ridge * ridge * sum(x * x for x in amounts)

    cost = cost_of(amounts)
    settled = _SETTLED_ROUGHLY if enough else _SETTLED
    for _ in range(_ROUNDS):
        lab, gradient = dry_lab_gradient(mixed_into(bare, amounts, spectra))
        e, by_lab = miss(lab), slopes_at(miss, lab)
        columns = []
        for spectrum in spectra:
            moves = [dot(row, spectrum) for row in gradient]
            columns.append([dot(row, moves) for row in by_lab])
        wanted = [
            sum(column[k] * x for column, x in zip(columns, amounts, strict=True)) - e[k]
            for k in range(3)
        ]
        aim = nonnegative_least_squares(
            [[*column, *rest] for column, rest in zip(columns, penalty, strict=True)],
            [*wanted, *(0.0,) * n],
        )
        step = 1.0
        while step > 1e-3:
            trial = [x + step * (goal - x) for x, goal in zip(amounts, aim, strict=True)]
            new_cost = cost_of(trial)
            if new_cost < cost:
                break
            step *= 0.4
        else:
            break
        gain = cost - new_cost
        amounts, cost = trial, new_cost
        if cost <= enough * enough or gain < settled * (1.0 + cost):
            break
    return amounts


def mixed_into(bare: Strands, amounts: Sequence[float], spectra: Sequence[Spectrum]) -> Strands:
    """Return strands with these amounts of dye added."""
    return with_dye(bare, spectrum_of(list(zip(amounts, spectra, strict=True))))


def dyes_of(product: Product) -> DyeAmounts:
    """Return a product's dye amounts: measured ones if it has them, else from its words."""
    if product.dyes is not None:
        return amounts_of(product.dyes)
    return promised_dyes(product.class_, product.level, tuple(product.tone), product.promised_on)
