"""The unknowns of a fit in one row: each product's dyes, each line's speed, each group's error."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, log

from ...contract.products import Product
from ..products.dyes import DYES, DyeAmounts
from .painted import Painted
from .prior import LOG_RATE_SD, Prior, prior_of

# How far all readings of one group may be off together, on each CIELAB axis (assumption; for a
# photo about what one grey card leaves).
_GROUP_SD = {"instrument": 0.5, "photo": 3.0, "eye": 3.0}
_LOG_RATE_RIM = log(5.0)  # the contract's bounds: 0.2 to 5


@dataclass(frozen=True)
class Unknowns:
    """The place of each unknown in the row, its value before any swatch, and its deviation."""

    priors: dict[str, Prior]
    line_of: dict[str, str]
    dyes_at: dict[str, int]
    rate_at: dict[str, int]
    group_at: dict[str, int]
    mean: list[float]
    sd: list[float]
    bounded: list[bool]

    def amounts(self, painted: Painted, row: Sequence[float]) -> DyeAmounts:
        """Return the dye in a swatch's bowl."""
        total = [0.0] * len(DYES)
        for product, share in painted.parts:
            if (prior := self.priors.get(product)) is not None:
                for place, amount in zip(prior.places, row[self.dyes_at[product] :], strict=False):
                    total[place] += share * amount
        return tuple(total)

    def speeds(self, painted: Painted, row: Sequence[float]) -> list[tuple[int, float]]:
        """Return (place of the line's log rate, its share of the dye in the bowl)."""
        dye: dict[int, float] = {}
        for product, share in painted.parts:
            if (prior := self.priors.get(product)) is not None:
                at, first = self.rate_at[self.line_of[product]], self.dyes_at[product]
                held = share * sum(row[first : first + len(prior.places)])
                dye[at] = dye.get(at, 0.0) + held
        total = sum(dye.values())
        if total <= 0:
            return [(at, 1.0 / len(dye)) for at in dye]
        return [(at, held / total) for at, held in dye.items()]

    def rate(self, painted: Painted, row: Sequence[float]) -> float:
        """Return how fast a swatch's bowl develops."""
        log_rate = sum(share * row[at] for at, share in self.speeds(painted, row))
        return exp(min(_LOG_RATE_RIM, max(-_LOG_RATE_RIM, log_rate)))

    def offset(self, painted: Painted, row: Sequence[float]) -> tuple[float, float, float]:
        """Return the error that a swatch's reading shares with its group, CIELAB."""
        if painted.group is None:
            return 0.0, 0.0, 0.0
        at = self.group_at[painted.group]
        return row[at], row[at + 1], row[at + 2]

    def block(self, product: str) -> list[int]:
        """Return the places of a product's dyes and of its line's speed, last."""
        first = self.dyes_at[product]
        count = len(self.priors[product].places)
        return [*range(first, first + count), self.rate_at[self.line_of[product]]]


def unknowns_of(
    products: Sequence[Product], painted: Sequence[Painted], asked: Sequence[str]
) -> Unknowns:
    """Return the unknowns of the products in `asked`, by id, and of the swatches' groups."""
    wanted = set(asked)
    priors: dict[str, Prior] = {}
    line_of: dict[str, str] = {}
    dyes_at: dict[str, int] = {}
    rate_at: dict[str, int] = {}
    mean: list[float] = []
    sd: list[float] = []
    for product in products:
        if product.id not in wanted or (prior := prior_of(product)) is None:
            continue
        priors[product.id], line_of[product.id] = prior, line_key(product)
        dyes_at[product.id] = len(mean)
        mean += prior.amounts
        sd += prior.sds
    bounded = [True] * len(mean)
    for name, prior in priors.items():
        if (line := line_of[name]) not in rate_at:
            rate_at[line] = len(mean)
            mean.append(prior.log_rate)
            sd.append(LOG_RATE_SD)
    group_at: dict[str, int] = {}
    for swatch in painted:
        if swatch.group is not None and swatch.group not in group_at:
            group_at[swatch.group] = len(mean)
            mean += [0.0] * 3
            sd += [_GROUP_SD[swatch.source]] * 3
    bounded += [False] * (len(mean) - len(bounded))
    return Unknowns(priors, line_of, dyes_at, rate_at, group_at, mean, sd, bounded)


def line_key(product: Product) -> str:
    """Return what shares one speed: a maker's line, in one class."""
    return f"{product.class_} {product.line}"
