"""The swatches that could be painted: each product on hair of some levels, at some minutes.

Each at full strength, or thinned by the clear of its line.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from ...contract.hair import Hair
from ...contract.mixes import Mix, Part
from ...contract.products import Product
from ..hair.head import head_of
from ..meaning import may_share_a_bowl
from ..products.developer import common_percents, usual_ratio
from ..products.tones import CLEAR
from ..timing.bowl import bowl_of, shared_minutes, thinned_by, usual_developer
from .bare_end import uneven
from .painted import Painted

COLOUR_G = 12.0
LIFTED_FROM = 7.0
_STRENGTHS = (1.0, 0.5, 0.25)
_OF_THE_WINDOW = (0.0, 0.4, 1.0)
_READ_SD = 0.5  # as if an instrument were to read them: what teaches most is the same for all


@dataclass(frozen=True)
class Candidate:
    """One swatch that could be painted."""

    product: str
    level: float
    strength: float
    hair: Hair
    mix: Mix
    painted: Painted


def candidates_of(
    products: Sequence[Product], wanted: Sequence[str], levels: Sequence[float], most: int
) -> list[Candidate]:
    """Return what could be painted of the wanted products, evenly thinned out to `most`."""
    shelf = {product.id: product for product in products}
    conditions = [
        (product_id, level, fraction, strength)
        for product_id in wanted
        for level in sorted(set(levels))
        for fraction in _OF_THE_WINDOW
        for strength in (_STRENGTHS if clear_for(shelf[product_id], products) else _STRENGTHS[:1])
    ]
    kept = [
        conditions[k * len(conditions) // min(most, len(conditions))]
        for k in range(min(most, len(conditions)))
    ]
    return [_candidate(shelf, products, *condition) for condition in kept]


def clear_for(product: Product, products: Sequence[Product]) -> Product | None:
    """Return the first clear, by id, that may thin a product."""
    fitting = [
        clear
        for clear in sorted(products, key=lambda p: p.id)
        if CLEAR in clear.tone
        and may_share_a_bowl(clear, product)
        and shared_minutes([clear, product]) is not None
        and (usual_ratio(product) == usual_ratio(clear) == 0 or common_percents([product, clear]))
    ]
    return fitting[0] if fitting else None


def _candidate(
    shelf: dict[str, Product],
    products: Sequence[Product],
    product_id: str,
    level: float,
    fraction: float,
    strength: float,
) -> Candidate:
    product = shelf[product_id]
    parts = [Part(product_id, round(strength * COLOUR_G, 3))]
    span = product.window
    clear = clear_for(product, products) if strength < 1 else None
    if clear is not None:
        parts.append(Part(clear.id, round((1 - strength) * COLOUR_G, 3)))
        span = shared_minutes([product, clear]) or span
    minutes = round(span.min + fraction * (span.max - span.min))
    mix = Mix(parts, minutes)
    hair = Hair(level=level, lifted=level >= LIFTED_FROM, damp=0.0)
    head = head_of(hair)
    weighed = [(shelf[part.product], part.grams) for part in parts]
    thinned = thinned_by(weighed, usual_developer(weighed))
    return Candidate(
        product=product_id,
        level=level,
        strength=strength,
        hair=hair,
        mix=mix,
        painted=Painted(
            id="",
            hair=hair,
            described=head,
            head=head,
            bowl=bowl_of(mix, shelf),
            parts=((product_id, thinned * strength),),
            minute=minutes,
            lab=(0.0, 0.0, 0.0),
            sd=_READ_SD,
            covariance=uneven(),
        ),
    )
