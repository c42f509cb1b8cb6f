"""Mixes: what goes into the bowl and for how long it stays on."""

from typing import Annotated

from msgspec import Meta

from .base import Grams, Minute, PeroxidePercent, Shape
from .products import ProductId


class Part(Shape):
    """One product in the bowl."""

    product: ProductId
    grams: Grams


class Developer(Shape):
    """The developer in the bowl."""

    percent: PeroxidePercent
    grams: Annotated[float, Meta(ge=0, le=20_000, description="Grams.", examples=[40])]


class Mix(Shape):
    """One bowl. Without `developer`: the usual ratio at the lowest strength all parts allow."""

    parts: Annotated[list[Part], Meta(min_length=1, max_length=8)]
    minutes: Minute
    developer: Developer | None = None
