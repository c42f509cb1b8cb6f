"""Line-ups: the products of a shelf that may stand in one bowl, and how much of each is weighed.

One class and one line per bowl, unless leaflets allow more, and one strength of developer all
allow. Within a line-up a mix is a set of parts of equal weight; clear fills what is left.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

from ...contract.formulations import Limits
from ...contract.mixes import Mix, Part
from ...contract.products import MinuteSpan, Product, ProductClass
from ..meaning import may_share_a_bowl
from ..products.classes import CLASSES
from ..products.developer import common_percents, usual_ratio
from ..products.dyes import DyeAmounts
from ..timing.bowl import Bowl, Parts, fill, shared_minutes, usual_developer
from ..timing.promise import dyes_of

Portions = tuple[tuple[int, int], ...]  # (member, parts ≥ 1), members ascending; clear is implied


@dataclass(frozen=True)
class LineUp:
    """Products that may be mixed, by id; `clear` fills the bowl, when the line has one."""

    product_class: ProductClass
    members: tuple[Product, ...]
    dyes: tuple[DyeAmounts, ...]
    clear: Product | None
    peroxide_percent: float
    mixed_lines: bool
    step_g: float
    whole: int  # parts in the bowl
    max_minutes: int

    def minutes_of(self, members: Sequence[int]) -> MinuteSpan | None:
        """Return the minutes these members' leaflets and the limits allow."""
        span = shared_minutes([self.members[i] for i in members])
        if span is None or span.min > self.max_minutes:
            return None
        return MinuteSpan(span.min, min(span.max, self.max_minutes))

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

    def bowl_of(self, portions: Portions) -> Bowl:
        """Return the bowl of a mix with its usual developer."""
        parts = self.parts_of(portions)
        return fill(parts, usual_developer(parts))

    def mix_of(self, portions: Portions, minute: int) -> Mix:
        """Return the mix as weighed."""
        parts = self.parts_of(portions)
        return Mix(
            parts=[Part(product.id, grams) for product, grams in parts],
            minutes=minute,
            developer=usual_developer(parts),
        )


def whole_parts(limits: Limits) -> int | None:
    """Return how many steps make the bowl, or None when it is not a whole number up to 60."""
    parts = round(limits.total_g / limits.step_g)
    if not 1 <= parts <= 60 or abs(parts * limits.step_g - limits.total_g) > 1e-9 * limits.total_g:
        return None
    return parts


def line_ups(products: Sequence[Product], limits: Limits) -> list[LineUp]:
    """Return every line-up of a shelf within the limits, in an order of their own names.

    Each line alone, then lines whose leaflets name each other, together; where leaflets differ
    in the strengths they allow, one line-up for each strength that is somebody's lowest.
    """
    whole = whole_parts(limits)
    if whole is None:
        raise ValueError("total_g is not a whole number of step_g: check_limits comes first")
    usable = [
        p
        for p in products
        if (limits.classes is None or p.class_ in limits.classes)
        and (limits.lines is None or p.line in limits.lines)
    ]
    found = []
    for product_class in CLASSES:
        of_class = [p for p in usable if p.class_ == product_class]
        for group in _bowl_fellows(of_class):
            for percent, members in _by_strength(group):
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
                        mixed_lines=len({p.line for p in dyed}) > 1,
                        step_g=limits.step_g,
                        whole=whole,
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


def _by_strength(products: Sequence[Product]) -> list[tuple[float, list[Product]]]:
    lowest = sorted({min(p.developer_percent) for p in products if usual_ratio(p) > 0})
    if not lowest:
        return [(0.0, list(products))]
    found: list[tuple[float, list[Product]]] = []
    for percent in lowest:
        members = [p for p in products if usual_ratio(p) == 0 or percent in p.developer_percent]
        ids = {p.id for p in members}
        if not any(ids <= {p.id for p in earlier} for _, earlier in found):
            found.append((percent, members))
    return found


def _clear_for(dyed: Sequence[Product], members: Sequence[Product]) -> Product | None:
    """Return the clear that fills the bowl: the cheapest that goes with every dyed product."""
    clears = [p for p in members if not any(dyes_of(p))]
    fitting = [c for c in clears if all(may_share_a_bowl(c, p) for p in dyed)]

    def cheapest(clear: Product) -> tuple[bool, float, str]:
        return clear.price_per_100g is None, clear.price_per_100g or 0.0, clear.id

    return min(fitting, key=cheapest, default=None)
