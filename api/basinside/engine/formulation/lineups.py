"""Line-ups: the products of a shelf that may stand in one bowl, and how much of each is weighed.

One class and one line per bowl, unless leaflets allow more, and one strength of developer all
allow. Where a class lifts the hair, each strength is a line-up of its own. Within a line-up a mix
is a set of parts of equal weight; clear fills what is left.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations

from ...contract.formulations import Limits
from ...contract.mixes import Developer, Mix, Part
from ...contract.products import MinuteSpan, Product, ProductClass
from ...contract.wishes import Wish
from ..hair.head import Head
from ..meaning import may_share_a_bowl
from ..products.classes import CLASSES
from ..products.developer import common_percents, usual_ratio
from ..products.dyes import DyeAmounts
from ..products.tones import CLEAR
from ..timing.bowl import Bowl, Parts, fill, shared_minutes, usual_developer
from ..timing.coverage import (
    COVERS_FROM_PERCENT,
    NATURAL_SHARE,
    least_minutes,
    must_cover,
    natural_share,
)
from ..timing.learnt import rate_of
from ..timing.promise import dyes_of

_LIGHTER_LABEL = 0.75  # levels above the wish, on natural hair

Portions = tuple[tuple[int, int], ...]  # (member, parts ≥ 1), members ascending; clear is implied


@dataclass(frozen=True)
class LineUp:
    """Products that may be mixed, by id; `clear` fills the bowl, when the line has one."""

    product_class: ProductClass
    members: tuple[Product, ...]
    dyes: tuple[DyeAmounts, ...]
    clear: Product | None
    peroxide_percent: float
    every_strength: bool  # this strength was chosen; else a mix takes the lowest its parts allow
    mixed_lines: bool
    step_g: float
    whole: int  # parts in the bowl
    covers_white: bool  # there is white hair among the natural, and this class covers it
    first_minute: int  # none sooner, unless leaflet or limits end before it
    max_minutes: int

    def minutes_of(self, members: Sequence[int]) -> MinuteSpan | None:
        """Return the minutes these members' leaflets and the limits allow."""
        span = shared_minutes([self.members[i] for i in members])
        if span is None or span.min > self.max_minutes:
            return None
        last = min(span.max, self.max_minutes)
        return MinuteSpan(min(last, max(span.min, self.first_minute)), last)

    def may_mix(self, members: Sequence[int]) -> bool:
        """Return whether leaflets allow these members in one bowl, at some strength and minute."""
        products = [self.members[i] for i in members]
        if self.mixed_lines and not all(
            may_share_a_bowl(p, q) for p, q in combinations(products, 2)
        ):
            return False
        takes_developer = any(usual_ratio(p) > 0 for p in products)
        return not takes_developer or bool(common_percents(products))

    def parts_of(self, portions: Portions) -> Parts:
        """Return products and grams, clear last."""
        parts = [(self.members[i], n * self.step_g) for i, n in portions]
        left = self.whole - sum(n for _, n in portions)
        if left and self.clear is not None:
            parts.append((self.clear, left * self.step_g))
        return parts

    def half_natural(self, portions: Portions) -> bool:
        """Return whether at least half of the colour is a natural shade (`natural_share`)."""
        return natural_share(self.parts_of(portions)) >= NATURAL_SHARE

    def developer_of(self, parts: Parts) -> Developer | None:
        """Return the developer of some parts at the usual ratio; None where they take none."""
        usual = usual_developer(parts)
        if usual is None or not self.every_strength:
            return usual
        return Developer(self.peroxide_percent, usual.grams)

    def bowl_of(self, portions: Portions) -> Bowl:
        """Return the bowl of a mix with its developer."""
        parts = self.parts_of(portions)
        return fill(parts, self.developer_of(parts))

    @cached_property
    def rate(self) -> float:
        """Return how fast the members' dye develops; lines of several speeds by their mean."""
        return rate_of([(p, 1.0) for p in self.members], [sum(dyes) for dyes in self.dyes])

    def mix_of(self, portions: Portions, minute: int) -> Mix:
        """Return the mix as weighed."""
        parts = self.parts_of(portions)
        return Mix(
            parts=[Part(product.id, grams) for product, grams in parts],
            minutes=minute,
            developer=self.developer_of(parts),
        )


@dataclass(frozen=True)
class HairAsked:
    """What of the question decides tubes, strengths and minutes.

    Whether some hair is natural, or white among natural; and the lightest label to take.
    """

    natural: bool = False
    white: bool = False
    lightest_label: float = 12.0

    def takes(self, product: Product) -> bool:
        """Return whether a tube is meant for this: none known by a label much lighter than asked.

        A blonde's toner on a brunette only stains, and nobody chooses it. Common practice.
        """
        return (
            product.dyes is not None
            or CLEAR in product.tone
            or product.level <= self.lightest_label
        )

    def weighs_strengths_of(self, product_class: ProductClass) -> bool:
        """Return whether a stronger developer may do something a weaker one does not."""
        return self.natural and CLASSES[product_class].lift_factor > 0


_ANY_HAIR = HairAsked()


def hair_asked(heads: Sequence[Head], wish: Wish | None = None) -> HairAsked:
    """Return what of all hair under the mix, and of the wish, decides tubes and strengths."""
    natural = any(not head.lifted for head in heads)
    level = wish.level if wish is not None and not heads[0].lifted else None
    return HairAsked(
        natural=natural,
        white=any(must_cover(head) for head in heads),
        lightest_label=12.0 if level is None else level + _LIGHTER_LABEL,
    )


def whole_parts(limits: Limits) -> int | None:
    """Return how many steps make the bowl, or None when it is not a whole number up to 60."""
    parts = round(limits.total_g / limits.step_g)
    if not 1 <= parts <= 60 or abs(parts * limits.step_g - limits.total_g) > 1e-9 * limits.total_g:
        return None
    return parts


def line_ups(
    products: Sequence[Product], limits: Limits, hair: HairAsked = _ANY_HAIR
) -> list[LineUp]:
    """Return every line-up of a shelf within the limits, in an order of their own names.

    Each line alone, then lines whose leaflets name each other, together. One line-up for each
    strength that leaflets allow where it lifts this hair, permanents on white hair from 6 %;
    elsewhere for each strength that is somebody's lowest. `limits.developer_percent` fixes it.
    """
    whole = whole_parts(limits)
    if whole is None:
        raise ValueError("total_g is not a whole number of step_g: check_limits comes first")
    usable = [
        p
        for p in products
        if (limits.classes is None or p.class_ in limits.classes)
        and (limits.lines is None or p.line in limits.lines)
        and hair.takes(p)
    ]
    found = []
    for product_class in CLASSES:
        of_class = [p for p in usable if p.class_ == product_class]
        for group in _bowl_fellows(of_class):
            each = hair.weighs_strengths_of(product_class)
            covering = hair.white and CLASSES[product_class].covers_white
            for percent, members in _by_strength(group, each, covering, limits):
                dyed = sorted((p for p in members if any(dyes_of(p))), key=lambda p: p.id)
                if not dyed:
                    continue
                found.append(
                    LineUp(
                        product_class=product_class,
                        members=tuple(dyed),
                        dyes=tuple(dyes_of(p) for p in dyed),
                        clear=_clear_for(dyed, members),
                        peroxide_percent=percent,
                        every_strength=each or limits.developer_percent is not None,
                        mixed_lines=len({p.line for p in dyed}) > 1,
                        step_g=limits.step_g,
                        whole=whole,
                        covers_white=covering,
                        first_minute=least_minutes(product_class, hair.natural, hair.white),
                        max_minutes=limits.max_minutes or 120,
                    )
                )
    return found


def _bowl_fellows(products: Sequence[Product]) -> list[list[Product]]:
    """Return the lines one by one, then every larger cluster of lines allowed together."""
    lines = sorted({p.line for p in products})
    alone = [[p for p in products if p.line == line] for line in lines]
    clusters: list[set[str]] = []
    for p, q in combinations(products, 2):
        if p.line != q.line and may_share_a_bowl(p, q):
            touching = [c for c in clusters if p.line in c or q.line in c]
            clusters = [c for c in clusters if c not in touching]
            clusters.append({p.line, q.line}.union(*touching))
    together = [[p for p in products if p.line in c] for c in sorted(clusters, key=sorted)]
    return alone + together


def _by_strength(
    products: Sequence[Product], every: bool, covering: bool, limits: Limits
) -> list[tuple[float, list[Product]]]:
    """Return (percent, products that allow it), lowest first; products without developer in all."""
    takers = [p for p in products if usual_ratio(p) > 0]
    if not takers:
        return [(0.0, list(products))]
    if limits.developer_percent is not None:
        strengths = [limits.developer_percent]
    elif every:
        strengths = sorted({percent for p in takers for percent in p.developer_percent})
        if covering:
            strengths = [s for s in strengths if s >= COVERS_FROM_PERCENT] or strengths[-1:]
    else:
        strengths = sorted({min(p.developer_percent) for p in takers})
    found: list[tuple[float, list[Product]]] = []
    for percent in strengths:
        members = [p for p in products if usual_ratio(p) == 0 or percent in p.developer_percent]
        ids = {p.id for p in members}
        if every or not any(ids <= {p.id for p in earlier} for _, earlier in found):
            found.append((percent, members))
    return found


def _clear_for(dyed: Sequence[Product], members: Sequence[Product]) -> Product | None:
    """Return the clear that fills the bowl: the cheapest that goes with every dyed product."""
    clears = [p for p in members if not any(dyes_of(p))]
    fitting = [c for c in clears if all(may_share_a_bowl(c, p) for p in dyed)]

    def cheapest(clear: Product) -> tuple[bool, float, str]:
        return clear.price_per_100g is None, clear.price_per_100g or 0.0, clear.id

    return min(fitting, key=cheapest, default=None)
