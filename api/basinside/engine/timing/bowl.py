"""The bowl: a mix with its products looked up, as the hair meets it."""

from collections.abc import Sequence
from dataclasses import dataclass

from ...contract.mixes import Developer, Mix
from ...contract.products import MinuteSpan, Product, ProductClass
from ..products.classes import CLASSES, CONSISTENCIES, Lying
from ..products.developer import common_percents, dilution, usual_grams
from ..products.dyes import DyeAmounts
from .doubt import by_label
from .learnt import Learnt, learnt_of, rate_of
from .promise import dyes_of

Parts = Sequence[tuple[Product, float]]  # product, grams


@dataclass(frozen=True, slots=True)
class Bowl:
    """What is put on. `amounts` are dye as diluted; `maker` is None where leaflets never meet."""

    product_class: ProductClass
    amounts: DyeAmounts
    peroxide_percent: float
    lying: Lying
    maker: MinuteSpan | None
    full_min: int
    by_label: float = 0.0  # how much of one label's doubt is in it (see `doubt`)
    rate: float = 1.0  # how fast its dye develops
    learnt: Learnt | None = None  # what swatches have made known of it


def shared_minutes(products: Sequence[Product]) -> MinuteSpan | None:
    """Return the minutes every leaflet allows, or None when there are none."""
    first = max(p.window.min for p in products)
    last = min(p.window.max for p in products)
    return MinuteSpan(first, last) if first <= last else None


def usual_developer(parts: Parts) -> Developer | None:
    """Return the usual developer of some parts: usual ratio, lowest strength all allow."""
    grams = usual_grams(parts)
    if grams == 0:
        return None
    return Developer(percent=common_percents([p for p, _ in parts])[0], grams=grams)


def thinned_by(parts: Parts, developer: Developer | None) -> float:
    """Return how much stronger (> 1) or weaker the developer makes a bowl than is usual."""
    colour_g = sum(grams for _, grams in parts)
    return dilution(colour_g, usual_grams(parts), developer.grams if developer else 0.0)


def blend(parts: Parts, developer: Developer | None) -> DyeAmounts:
    """Return the dye amounts of a bowl: by weight of colour, thinned by more developer.

    Each product's amounts hold at its own usual ratio (r0); another ratio r changes them by
    (1 + r0) / (1 + r).
    """
    colour_g = sum(grams for _, grams in parts)
    strength = thinned_by(parts, developer)
    vectors = [dyes_of(product) for product, _ in parts]
    return tuple(
        strength
        * sum(grams * v[dye] for (_, grams), v in zip(parts, vectors, strict=True))
        / colour_g
        for dye in range(len(vectors[0]))
    )


def fill(parts: Parts, developer: Developer | None) -> Bowl:
    """Return the bowl of these parts. They are known to go together (see `checks`)."""
    products = [product for product, _ in parts]
    colour_g = sum(grams for _, grams in parts)
    row = CLASSES[products[0].class_]
    dye_of = [sum(dyes_of(product)) for product in products]
    lyings = [(CONSISTENCIES[p.consistency or row.consistency], g / colour_g) for p, g in parts]
    return Bowl(
        product_class=products[0].class_,
        amounts=blend(parts, developer),
        peroxide_percent=developer.percent if developer else 0.0,
        lying=Lying(
            scattering_power=sum(share * lying.scattering_power for lying, share in lyings),
            dose=sum(share * lying.dose for lying, share in lyings),
        ),
        maker=shared_minutes(products),
        full_min=min(p.window.max for p in products),
        by_label=by_label(parts, dye_of),
        rate=rate_of(parts, dye_of),
        learnt=learnt_of(parts, dye_of, thinned_by(parts, developer)),
    )


def bowl_of(mix: Mix, shelf: dict[str, Product]) -> Bowl:
    """Return the bowl of a mix whose products are all on the shelf."""
    parts = [(shelf[part.product], part.grams) for part in mix.parts]
    return fill(parts, mix.developer or usual_developer(parts))
