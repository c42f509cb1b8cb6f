"""Labels: what a tube makes on the hair it is meant for, beside what its label promises."""

from typing import Annotated

from msgspec import UNSET, Meta, UnsetType

from .base import DeltaE, Lab, Shape
from .colours import Hex
from .predictions import Products
from .products import ProductId


class LabelsRequest(Shape):
    """What does each of these products make alone?"""

    products: Products


class LabelColour(Shape):
    """A dry colour with its words."""

    lab: Lab
    hex: Hex
    words: Annotated[str, Meta(examples=["level 9, beige"])]


class ToldLabel(Shape):
    """One product alone on the hair it is meant for. A clear promises nothing."""

    product: ProductId
    hair: Annotated[str, Meta(examples=["lightened hair of level 9"])]
    makes: LabelColour
    words: Annotated[str, Meta(description="What it makes, and whether that is its name.")]
    promises: LabelColour | UnsetType = UNSET
    delta_e: Annotated[DeltaE, Meta(description="From its promise.")] | UnsetType = UNSET


class LabelsReply(Shape):
    """The products in the order asked."""

    labels: list[ToldLabel]
    engine_version: str
