"""A swatch in words: whether it fits, and what to look at where it does not."""

from math import sqrt

from ...contract.labels import LabelColour
from ...contract.products import Product
from ..colour.difference import delta_e_2000
from ..colour.lab import LabTuple
from ..colour.srgb import hex_of
from ..colour.words import direction_of, half_level
from ..hair.head import Head
from ..timing.development import Development
from ..timing.strip import words_if_rinsed
from .candidates import Candidate
from .fit import Seen
from .leave_out import LeftOut
from .painted import Painted

_NOTHING = 1.0  # CIEDE2000: less is not worth a word


def shown_as(lab: LabTuple, development: Development, head: Head, minute: int) -> LabelColour:
    """Return a dry colour with its words."""
    words = words_if_rinsed(development, head, lab, minute)
    return LabelColour(lab, hex_of(lab)[0], words)


def fit_words(
    swatch: Painted, seen: Seen, held_out: LeftOut, predicted: LabTuple, shelf: dict[str, Product]
) -> str:
    """Return whether a swatch fits what the others say, and if not, what to look at."""
    off = sqrt(sum(v * v for v in seen.off))
    way = direction_of(swatch.lab, predicted).replace("_", " ")
    if not held_out.odd:
        if off < _NOTHING or delta_e_2000(swatch.lab, predicted) < _NOTHING:
            return f"It fits: {off:.1f} ΔE from what it was to show."
        return f"It fits within its doubt: {off:.1f} ΔE {way}."
    told = f"It hardly fits the others: {held_out.delta_e:.0f} ΔE {way}."
    if swatch.known_lab is not None:
        return (
            f"{told} Its bare colour is known, so look at the picture: was it the same strand,"
            " and in the same light?"
        )
    if swatch.is_head:
        return f"{told} Was it this zone, and this mix? It counts for little."
    names = " and ".join(shelf[product].name for product, _ in swatch.parts[:2])
    return (
        f"{told} Was it {names}, on this piece of hair, for {swatch.minute} minutes? Read it again."
        " It counts for little."
    )


def plan_words(candidate: Candidate, product: Product) -> str:
    """Return what to paint."""
    kind = "lightened" if candidate.hair.lifted else "natural"
    strength = {1.0: "alone", 0.5: "with as much clear", 0.25: "with three parts of clear"}
    minutes = candidate.mix.minutes
    return (
        f"{product.line} {product.name} {strength[candidate.strength]} on {kind} hair of level"
        f" {half_level(candidate.level)}, for {minutes} minute{'' if minutes == 1 else 's'}."
    )
