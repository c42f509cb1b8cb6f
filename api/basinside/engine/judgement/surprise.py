"""A reading this head could hardly have shown: what else would explain it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import msgspec
from msgspec import UNSET

from ...contract.hair import Hair
from ...contract.judgements import Surprise, Suspect
from ...contract.mixes import Developer, Mix
from ...contract.products import Product
from ..hair.head import Head
from ..meaning import may_share_a_bowl
from ..timing.bowl import bowl_of, usual_developer
from ..timing.development import Development
from ..timing.predict import heads_of
from .evidence import Sighting

_HARDLY = 0.01
_WELL = 0.1
_MOST_SUSPECTS = 3
_MOST_PRODUCTS = 40  # exchanged one at a time: each is a development of its own
_RATIOS = ((0.5, "half"), (2.0, "twice"))


@dataclass(frozen=True)
class Scene:
    """The question: the mix, the shelf and the hair."""

    mix: Mix
    shelf: dict[str, Product]
    hair: Hair
    bunched: float


@dataclass(frozen=True)
class _Trial:
    suspect: Suspect
    development: Development
    heads: Sequence[Head]


def surprise_of(
    number: int, sighting: Sighting, development: Development, heads: Sequence[Head], scene: Scene
) -> Surprise | None:
    """Return what is surprising about a reading, or None inside what 99 of 100 heads show.

    `heads` are the ten that stood for the head before this reading, `number` is its place.
    """
    if sighting.chance(development, heads) >= _HARDLY:
        return None
    tried = [
        (round(sighting.chance(trial.development, trial.heads), 4), place, trial.suspect)
        for place, trial in enumerate(_trials(development, heads, scene))
    ]
    explained = sorted((-chance, place) for chance, place, _ in tried if chance >= _WELL)
    suspects = [tried[place][2] for _, place in explained[:_MOST_SUSPECTS]]
    return Surprise(
        reading=number,
        words="Fewer than 1 in 100 such heads would look like this. Before you trust it, check the"
        " product, the ratio, the zone and the reading.",
        could_be=[*suspects, _READ_AGAIN],
    )


_READ_AGAIN = Suspect(
    "reading",
    "The reading: wipe a strand from the middle of the section clean, fan it over white, and look"
    " again in the same light.",
)


def _trials(development: Development, heads: Sequence[Head], scene: Scene) -> Iterator[_Trial]:
    for suspect, mix in (*_other_products(scene), *_other_ratios(scene)):
        yield _Trial(suspect, Development(bowl_of(mix, scene.shelf), scene.bunched), heads)
    for other in scene.hair.also:
        yield _Trial(
            Suspect("zone", f"The zone: it looks like {other.name}. Was it read there?"),
            development,
            heads_of(other.hair, scene.shelf).possible,
        )


def _other_products(scene: Scene) -> Iterator[tuple[Suspect, Mix]]:
    """Yield the mix with one product taken for another that fits the same bowl."""
    taken = {part.product for part in scene.mix.parts}
    others = [product for _, product in sorted(scene.shelf.items()) if product.id not in taken]
    for place, part in enumerate(scene.mix.parts):
        meant = scene.shelf[part.product]
        fitting = [product for product in others if may_share_a_bowl(product, meant)]
        for product in fitting[:_MOST_PRODUCTS]:
            parts = list(scene.mix.parts)
            parts[place] = msgspec.structs.replace(part, product=product.id)
            suspect = Suspect(
                "product",
                f"The product: it looks like {product.line} {product.name} in place of"
                f" {meant.line} {meant.name}. Read the tube again.",
                product.id,
                meant.id,
            )
            # the developer stays what it was: the hand took another tube, not another bottle
            yield (
                suspect,
                msgspec.structs.replace(scene.mix, parts=parts, developer=_developer(scene)),
            )


def _other_ratios(scene: Scene) -> Iterator[tuple[Suspect, Mix]]:
    developer = _developer(scene)
    if developer is None or developer.grams == 0:
        return
    for factor, said in _RATIOS:
        changed = Developer(developer.percent, factor * developer.grams)
        suspect = Suspect(
            "ratio",
            f"The ratio: it looks like {said} the developer, {changed.grams:g} g in place of"
            f" {developer.grams:g} g. Think back to the scale.",
            UNSET,
        )
        yield suspect, msgspec.structs.replace(scene.mix, developer=changed)


def _developer(scene: Scene) -> Developer | None:
    parts = [(scene.shelf[part.product], part.grams) for part in scene.mix.parts]
    return scene.mix.developer or usual_developer(parts)
