"""From painted swatches to products as they truly are, and how well each swatch fits."""

from collections.abc import Sequence
from math import exp, sqrt

import msgspec
from msgspec import UNSET

from ...contract.products import Dyes, DyesSd, Known, Product
from ...contract.swatches import CalibrationReply, CalibrationRequest, Swatch, SwatchFit
from ..meaning import shelf_of
from ..products.dyes import DYES
from ..products.tones import CLEAR
from ..refusal import Faults
from ..version import engine_version
from .checks import check_swatches
from .fit import Fit, Seen, fitted
from .leave_out import left_out
from .painted import Painted, painted_of
from .plan import planned
from .say import fit_words, shown_as
from .split import split_of
from .unknowns import line_key, unknowns_of

_MOST_DYE, _LEAST_RATE, _MOST_RATE = 5.0, 0.2, 5.0  # the contract's bounds
_NEXT = 3
_NEXT_AMONG = 36  # conditions weighed for them


def calibrate(request: CalibrationRequest) -> CalibrationReply:
    """Return the products as the swatches make them known, and each swatch beside them.

    Raises `Faulty` with every place whose meaning is wrong.
    """
    faults = Faults()
    shelf = shelf_of(request.products, faults)
    check_swatches(request.swatches, shelf, faults)
    faults.refuse_if_any()
    fit, painted = fit_of(request.products, request.swatches, shelf)
    learnt = list(fit.unknowns.priors)
    levels = sorted({round(2 * swatch.described.level) / 2 for swatch in painted})
    fits = {
        swatch.id: _fit_of(fit, swatch, seen, shelf)
        for swatch, seen in zip(painted, fit.seen, strict=True)
    }
    next_ones, _ = planned(request.products, learnt, levels[:12], _NEXT, fit, _NEXT_AMONG)
    return CalibrationReply(
        products=[_known(product, fit, painted) for product in request.products],
        fits=[fits[swatch.id] for swatch in request.swatches],
        next_swatches=next_ones,
        engine_version=engine_version(),
    )


def fit_of(
    products: Sequence[Product],
    swatches: Sequence[Swatch],
    shelf: dict[str, Product],
    also: Sequence[str] = (),
) -> tuple[Fit, list[Painted]]:
    """Return the fit of all products that the swatches tell of, and of those in `also`.

    By the names of the swatches, so that two phones with the same ones get the same to the bit.
    """
    painted = [painted_of(swatch, shelf) for swatch in sorted(swatches, key=lambda s: s.id)]
    told = {product for swatch in painted if swatch.minute for product, _ in swatch.parts}
    return fitted(unknowns_of(products, painted, [*sorted(told), *also]), painted), painted


def dyed(products: Sequence[Product]) -> list[str]:
    """Return the ids of the products that hold dye."""
    return [product.id for product in products if CLEAR not in product.tone]


def _known(product: Product, fit: Fit, painted: Sequence[Painted]) -> Product:
    """Return a product with its dyes, its line's speed, and how sure both are."""
    unknowns = fit.unknowns
    at = unknowns.rate_at.get(line_key(product))
    if at is None:
        return product
    rate = min(_MOST_RATE, max(_LEAST_RATE, exp(fit.row[at])))
    if product.id not in unknowns.priors:
        # a product that earlier swatches made known keeps the speed it was known with
        return product if product.known else msgspec.structs.replace(product, rate=rate)
    block = unknowns.block(product.id)
    amounts, sds = [0.0] * len(DYES), [0.0] * len(DYES)
    for place, i in zip(unknowns.priors[product.id].places, block, strict=False):
        amounts[place] = min(_MOST_DYE, fit.row[i])
        sds[place] = min(_MOST_DYE, sqrt(fit.covariance[i][i]))
    covariance = fit.covariance
    correlations = [
        min(1.0, max(-1.0, covariance[i][j] / sqrt(covariance[i][i] * covariance[j][j])))
        for row, i in enumerate(block)
        for j in block[:row]
    ]
    used = sum(
        bool(swatch.minute) and any(name == product.id for name, _ in swatch.parts)
        for swatch in painted
    )
    names = [dye.name for dye in DYES]
    dyes_sd = DyesSd(**dict(zip(names, sds, strict=True)))
    known = Known(dyes_sd, min(1.0, sqrt(covariance[at][at])), used, correlations)
    dyes = Dyes(**dict(zip(names, amounts, strict=True)))
    return msgspec.structs.replace(product, dyes=dyes, rate=rate, known=known)


def _fit_of(fit: Fit, swatch: Painted, seen: Seen, shelf: dict[str, Product]) -> SwatchFit:
    unknowns = fit.unknowns
    amounts, rate = unknowns.amounts(swatch, fit.row), unknowns.rate(swatch, fit.row)
    predicted = swatch.dried(amounts, rate)
    held_out = left_out(fit, seen)
    return SwatchFit(
        id=swatch.id,
        predicted=shown_as(predicted, swatch.at(amounts, rate), swatch.head, swatch.minute),
        delta_e=sqrt(sum(v * v for v in seen.off)),
        delta_e_left_out=held_out.delta_e,
        weight=seen.weight,
        odd=held_out.odd,
        words=fit_words(swatch, seen, held_out, predicted, shelf),
        split=split_of(fit, swatch, seen, held_out) if swatch.is_head and swatch.minute else UNSET,
    )
