"""What is believed of a product before any swatch of it: its words, and how far they may be off."""

from dataclasses import dataclass
from math import log

import msgspec
from msgspec import UNSET

from ...contract.products import Product
from ..products.classes import CLASSES
from ..products.dyes import DYES
from ..products.tones import CLEAR, may_hold
from ..timing.promise import dyes_of

# Assumptions, no published source: how far a maker's composition strays from the one that words
# ask for, in shares of each dye and in K/S, and a line's speed from its class's.
_SHARE_SD, _LEAST_SD = 0.7, 0.08
LOG_RATE_SD = 0.25


@dataclass(frozen=True, slots=True)
class Prior:
    """A product's dyes by their place in `DYES`: amounts and one deviation of each."""

    places: tuple[int, ...]
    amounts: tuple[float, ...]
    sds: tuple[float, ...]
    log_rate: float


def prior_of(product: Product) -> Prior | None:
    """Return the belief about a product; None for one without dye.

    What earlier swatches made known is left out: they are all sent again, and none counts twice.
    """
    if CLEAR in product.tone:
        return None
    learnt = product.known is not UNSET
    described = msgspec.structs.replace(product, dyes=None) if learnt else product
    amounts = dyes_of(described)
    ready_made = CLASSES[product.class_].ready_made
    places = tuple(
        place
        for place, dye in enumerate(DYES)
        if amounts[place] or may_hold(dye, ready_made, product.tone)
    )
    held = tuple(amounts[place] for place in places)
    log_rate = 0.0 if learnt or product.rate is UNSET else log(product.rate)
    return Prior(places, held, tuple(_SHARE_SD * a + _LEAST_SD for a in held), log_rate)
