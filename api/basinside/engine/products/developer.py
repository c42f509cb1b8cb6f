"""Developer: its strength and grams in a mix, and what other ratios do."""

from collections.abc import Sequence

from ...contract.products import Product


def common_percents(products: Sequence[Product]) -> list[float]:
    """Return the strengths allowed by every product that takes developer, lowest first."""
    allowed = [set(p.developer_percent) for p in products if usual_ratio(p) > 0]
    return sorted(set.intersection(*allowed)) if allowed else []


def usual_ratio(product: Product) -> float:
    """Return grams of developer per gram of this product, as its leaflet says."""
    if product.class_ == "direct":
        return 0.0
    return 1.0 if product.mix_ratio is None else product.mix_ratio


def usual_grams(parts: Sequence[tuple[Product, float]]) -> float:
    """Return the developer, in grams, of the parts' usual ratios."""
    return sum(usual_ratio(product) * grams for product, grams in parts)


def dilution(colour_g: float, usual_g: float, developer_g: float) -> float:
    """Return how much stronger (> 1) or weaker the bowl is than at the usual ratio.

    (1 + r0) / (1 + r), r0 and r being the usual and the actual developer per gram of colour.
    """
    return (colour_g + usual_g) / (colour_g + developer_g)
