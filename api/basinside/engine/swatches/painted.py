"""A painted swatch as the fit meets it: hair, how it was painted, what was read and how well."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from math import log

from msgspec import UNSET

from ...contract.hair import Hair, Sure
from ...contract.products import Product
from ...contract.swatches import Swatch
from ..colour.lab import LabTuple
from ..colour.spectrum import dot
from ..hair.appearance import dry_lab_gradient
from ..hair.head import Head, head_of
from ..hair.reading import read_hair
from ..hair.unsure import UNKNOWNS, moved, spread_of
from ..products.classes import CLASSES
from ..products.dyes import DYES, DyeAmounts
from ..timing.bowl import Bowl, bowl_of, thinned_by, usual_developer
from ..timing.development import Development, after_what_is_on
from ..timing.doubt import SOURCE_SD, reading_sd
from ..timing.kinetics import rinsed_row, strand_uptakes
from .bare_end import read_bare_end
from .matrices import Rows

_STEP = 0.02
_RATE_STEP = 0.01


@dataclass(frozen=True)
class Painted:
    """One swatch. `parts` are (product, share): what of its dye a gram of the bowl holds.

    `covariance` is how unsure its hair is, in the five unknowns of `hair/unsure.py`. A strand of
    known colour has `known_lab`, and its own reading's error as `known_sd`.
    """

    id: str
    hair: Hair
    described: Head
    head: Head
    bowl: Bowl
    parts: tuple[tuple[str, float], ...]
    minute: int
    lab: LabTuple
    sd: float
    covariance: Rows
    source: str = "instrument"
    group: str | None = None
    is_head: bool = False
    known_lab: LabTuple | None = None
    known_sd: float = 0.0
    _latest: dict[tuple[DyeAmounts, float], Development] = field(
        default_factory=dict, repr=False, compare=False
    )

    def at(self, amounts: DyeAmounts, rate: float) -> Development:
        """Return this bowl as it would develop with other dye at another speed.

        The latest is kept: a fit asks for it again and again, and it keeps its own kinetics.
        """
        key = (amounts, rate)
        if key not in self._latest:
            self._latest.clear()
            self._latest[key] = Development(replace(self.bowl, amounts=amounts, rate=rate))
        return self._latest[key]

    def dried(self, amounts: DyeAmounts, rate: float, steps: Sequence[float] = ()) -> LabTuple:
        """Return the dry colour; `steps` move the hair in its five unknowns."""
        if self.known_lab is not None:
            return self.known_lab
        head = moved(self.head, steps) if steps else self.head
        return self.at(amounts, rate).if_rinsed(head, self.minute)

    def slopes(
        self, amounts: DyeAmounts, rate: float, places: Sequence[int]
    ) -> tuple[LabTuple, list[LabTuple], LabTuple]:
        """Return the dry colour and its derivatives by some of the bowl's dyes and its log rate."""
        none = (0.0, 0.0, 0.0)
        if self.known_lab is not None:
            return self.known_lab, [none] * len(places), none
        development, head = self.at(amounts, rate), self.head
        takes = strand_uptakes(CLASSES[self.bowl.product_class], head, self.bowl.peroxide_percent)
        dyed = development.rinsed_strands(head, self.minute)
        lab, (by_l, by_a, by_b) = dry_lab_gradient(dyed, takes=takes)
        clock_min = development.dye_clock_min(head, self.minute)
        by_dye: list[LabTuple] = []
        for place in places:
            row = rinsed_row(place, self.bowl.product_class, head.porosity, clock_min)
            by_dye.append((dot(by_l, row), dot(by_a, row), dot(by_b, row)))
        faster = Development(replace(self.bowl, amounts=amounts, rate=rate * (1.0 + _RATE_STEP)))
        later = faster.if_rinsed(head, self.minute)
        scale = log(1.0 + _RATE_STEP)
        l, a, b = (((f - s) / scale) for f, s in zip(later, lab, strict=True))
        return lab, by_dye, (l, a, b)

    def by_hair(self, amounts: DyeAmounts, rate: float) -> list[LabTuple]:
        """Return the derivative of the dry colour by each unknown of the hair that is unsure."""
        here = self.dried(amounts, rate)
        found: list[LabTuple] = []
        for unknown in range(UNKNOWNS):
            if self.known_lab is not None or self.covariance[unknown][unknown] == 0:
                found.append((0.0, 0.0, 0.0))
                continue
            steps = [0.0] * UNKNOWNS
            steps[unknown] = -_STEP  # downwards: no hair is paler than the palest level
            l, a, b = self.dried(amounts, rate, steps)
            found.append(((here[0] - l) / _STEP, (here[1] - a) / _STEP, (here[2] - b) / _STEP))
        return found


def painted_of(swatch: Swatch, shelf: dict[str, Product]) -> Painted:
    """Return a swatch ready for the fit; what it means has been checked."""
    reading = swatch.hair.reading
    bare_sd = SOURCE_SD["instrument"] if reading is None or not reading.sd else reading.sd
    head = is_head(swatch)
    if head or reading is None:
        read = read_hair(swatch.hair)
        covariance = covariance_of(read.sure)
    else:
        read, covariance = read_bare_end(swatch.hair, bare_sd)
    described = head_of(read)
    parts = [(shelf[part.product], part.grams) for part in swatch.mix.parts]
    colour_g = sum(grams for _, grams in parts)
    strength = thinned_by(parts, swatch.mix.developer or usual_developer(parts))
    shares: dict[str, float] = {}
    for product, grams in parts:
        shares[product.id] = shares.get(product.id, 0.0) + strength * grams / colour_g
    known = swatch.after.minute == 0 and reading is not None and reading.state == "dry"
    lab = swatch.after.lab
    if lab is None:
        raise ValueError("a swatch without a measured colour: check_swatches comes first")
    return Painted(
        id=swatch.id,
        hair=read,
        described=described,
        head=after_what_is_on(described, read, shelf),
        bowl=bowl_of(swatch.mix, shelf),
        parts=tuple(shares.items()),
        minute=swatch.after.minute,
        lab=lab,
        sd=reading_sd(swatch.after),
        covariance=covariance,
        source=swatch.after.source,
        group=swatch.group or None,
        is_head=head,
        known_lab=reading.lab if known and reading is not None else None,
        known_sd=bare_sd,
    )


def is_head(swatch: Swatch) -> bool:
    """Return whether a swatch is a client's head: as told, or hair unread or with its own doubt."""
    if swatch.of is not UNSET:
        return swatch.of == "head"
    return swatch.hair.reading is None or swatch.hair.sure != Sure()


def covariance_of(sure: Sure) -> Rows:
    """Return the covariance of a head's five unknowns."""
    root = spread_of(sure)
    return [[dot(p, q) for q in root] for p in root]


NO_AMOUNTS: DyeAmounts = (0.0,) * len(DYES)
