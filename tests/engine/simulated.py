"""Simulated heads: drawn around a description, developing, read by a noisy eye or instrument.

The true head is drawn from the very spread the description states, so what is claimed of
shares and ranges can be counted.
"""

import random
from dataclasses import dataclass, field
from functools import cache, cached_property, lru_cache
from math import hypot, sqrt

import msgspec
from asking import demo_shelf

from basinside.contract.formulations import FormulationRequest, Limits
from basinside.contract.hair import Hair
from basinside.contract.judgements import Reading, ReadingWord
from basinside.contract.mends import MendRequest, WayOn
from basinside.contract.mixes import Mix
from basinside.contract.products import Product, ProductClass
from basinside.contract.wishes import Wish
from basinside.engine.colour.difference import delta_e_2000, residual_from
from basinside.engine.colour.lab import LabTuple
from basinside.engine.colour.outcome import distances, likely_distance
from basinside.engine.colour.words import direction_of
from basinside.engine.formulation.formulate import formulate
from basinside.engine.formulation.mend import mend
from basinside.engine.hair.appearance import dry_strands_lab
from basinside.engine.hair.head import Head, head_of
from basinside.engine.hair.unsure import moved, spread_of
from basinside.engine.judgement.belief import Belief, described_as
from basinside.engine.judgement.evidence import look_of
from basinside.engine.judgement.judge import believe
from basinside.engine.judgement.outlook import Outlook
from basinside.engine.judgement.say import advice_on
from basinside.engine.timing.bowl import bowl_of
from basinside.engine.timing.development import Development, after_what_is_on
from basinside.engine.timing.predict import lab_of_wish
from basinside.engine.timing.washing import after_one_wash

SHELF = msgspec.convert(demo_shelf(), list[Product])
BY_ID = {product.id: product for product in SHELF}
# Described hair and wishes such hair can be brought to; each is mixed from the demo shelf.
SERVICES: tuple[tuple[Hair, Wish, ProductClass], ...] = (
    (Hair(level=10), Wish(level=10, tone=["beige"]), "permanent"),
    (Hair(level=10, porosity=0.65), Wish(level=9.5, tone=["pearl"]), "neutral_demi"),
    (Hair(level=9.5), Wish(level=9.5, tone=["natural"]), "neutral_demi"),
    (Hair(level=9), Wish(level=9, tone=["beige"]), "alkaline_demi"),
    (Hair(level=10, warmth=1.3), Wish(level=9.5, tone=["beige"]), "acid_demi"),
    (Hair(level=10, porosity=0.35), Wish(level=9.5, tone=["ash"]), "permanent"),
    (Hair(level=10), Wish(level=10, tone=["pearl"]), "direct"),
    (Hair(level=9.5, porosity=0.6), Wish(level=9, tone=["pearl"]), "alkaline_demi"),
)


@dataclass(frozen=True)
class Service:
    """A described head, its wish, the mix chosen for it and the minute first said to be best."""

    hair: Hair
    wish: Wish
    mix: Mix
    best_min: int

    @cached_property
    def development(self) -> Development:
        return Development(bowl_of(self.mix, BY_ID))

    @cached_property
    def target(self) -> LabTuple:
        return lab_of_wish(self.wish)


@cache
def services() -> list[Service]:
    found = []
    for hair, wish, product_class in SERVICES:
        reply = formulate(FormulationRequest(hair, wish, SHELF, Limits([product_class], count=1)))
        formula = reply.formulas[0]
        found.append(Service(hair, wish, formula.mix, formula.window.best))
    return found


def drawn(hair: Hair, rng: random.Random) -> Head:
    """Return a head drawn from the spread a description states."""
    normal = [rng.gauss(0, 1) for _ in range(5)]
    steps = [sum(a * z for a, z in zip(row, normal, strict=True)) for row in spread_of(hair.sure)]
    return moved(head_of(hair), steps)


def word_for(seen: LabTuple, shown: LabTuple, rng: random.Random) -> ReadingWord:
    """Return the word an eye says of a strand beside the strip: its strongest impression.

    Off by 1.5 CIEDE2000 on each axis; under 2 it looks as shown. Assumed, no published source.
    """
    residual = residual_from(shown)
    light, red, yellow = (r + rng.gauss(0, 1.5) for r in residual(seen))
    _, grey_red, grey_yellow = residual((shown[0], 0.0, 0.0))
    impressions: dict[ReadingWord, float] = {
        "lighter": light,
        "darker": -light,
        "pinker": red,
        "greener": -red,
        "yellower": yellow,
        "more_violet": red / 2 - yellow * sqrt(0.75),
        "greyer": hypot(grey_red, grey_yellow) - hypot(red - grey_red, yellow - grey_yellow),
    }
    word = max(impressions, key=lambda w: impressions[w])
    return word if impressions[word] > 2 else "as_shown"


@dataclass(eq=False)
class Basin:
    """One head being developed and read: what is truly there, and what is believed of it.

    `kind` is instrument, photo or word; `truth` may be other physics than the engine's.
    """

    service: Service
    true: Head
    kind: str
    where: str
    rng: random.Random
    truth: Development
    readings: list[Reading] = field(default_factory=list)

    def believed(self) -> Belief:
        return self._after(len(self.readings))

    @lru_cache(maxsize=8)  # noqa: B019 - a basin lives as long as its belief
    def _after(self, looks: int) -> Belief:
        hair = self.service.hair
        by_label = self.service.development.bowl.by_label
        before = described_as(hair, head_of(hair), lambda head: head, by_label)
        readings = self.readings[:looks]
        return believe(before, self.service.development, readings, None).belief

    def look(self, minute: int) -> None:
        """Take a reading of the true head at a minute."""
        if self.kind == "word":
            reading = Reading(minute, self.where, "eye", words="as_shown")
            centre = self.believed().heads().centre
            shown = look_of(self.service.development, centre, reading)
            seen = look_of(self.truth, self.true, reading)
            word = word_for(seen, shown, self.rng)
            self.readings.append(Reading(minute, self.where, "eye", words=word))
            return
        reading = Reading(minute, self.where, self.kind)
        seen = look_of(self.truth, self.true, reading)
        sd = {"instrument": 0.5, "photo": 4.0}[self.kind]
        noisy = tuple(value + self.rng.gauss(0, sd) for value in seen)
        self.readings.append(Reading(minute, self.where, self.kind, lab=noisy))

    def miss(self, minute: int) -> float:
        """Return how far from the wish the true head is, dry, rinsed at a minute."""
        return delta_e_2000(self.service.target, self.truth.if_rinsed(self.true, minute))

    def outlook(self, now: int) -> Outlook:
        service = self.service
        return Outlook(
            service.development,
            self.believed().heads(),
            service.target,
            service.wish.tolerance,
            now,
        )

    def follow_advice(self, now: int) -> int:
        """Do as advised from a minute on, looking again when told to; return the rinse minute."""
        while True:
            advice = advice_on(self.outlook(now), patchy=False)
            if advice.do == "look_again":
                now = advice.at_minute
                self.look(now)
                continue
            return advice.at_minute


@dataclass(frozen=True)
class Outcome:
    """One simulated head: errors of the predicted final colour, and where it landed."""

    error_before: float
    error_after: float
    inside: bool
    first: float
    followed: float
    hindsight: float
    looks: int


def lived(
    service: Service, number: int, kind: str, where: str = "wiped", truth: Development | None = None
) -> Outcome:
    """Draw a head, read it once at minute 5 to 8, judge it, and follow the advice."""
    rng = random.Random(f"{number} {service.mix}")
    development = service.development
    basin = Basin(service, drawn(service.hair, rng), kind, where, rng, truth or development)
    final = basin.truth.if_rinsed(basin.true, service.best_min)

    def error() -> tuple[float, bool]:
        heads = basin.believed().heads()
        centre = development.if_rinsed(heads.centre, service.best_min)
        residual = residual_from(centre)
        far = [residual(development.if_rinsed(h, service.best_min)) for h in heads.possible]
        off = delta_e_2000(centre, final)
        doubt = development.dry_doubt(heads, service.best_min)
        return off, off <= likely_distance(distances(far, doubt))

    before, _ = error()
    now = rng.randint(5, 8)
    basin.look(now)
    after, inside = error()
    rinsed_at = basin.follow_advice(now)
    leaflet = development.bowl.maker
    return Outcome(
        error_before=before,
        error_after=after,
        inside=inside,
        first=basin.miss(service.best_min),
        followed=basin.miss(rinsed_at),
        hindsight=min(basin.miss(t) for t in range(leaflet.min, leaflet.max + 1)),
        looks=len(basin.readings),
    )


@dataclass(frozen=True)
class Summary:
    """Over many heads: what a reading cut off the error, and what advice closed of the gap."""

    cut: float
    closed: float
    inside: float
    outcomes: list[Outcome]

    def __str__(self) -> str:
        n = len(self.outcomes)

        def mean(name: str) -> float:
            return sum(getattr(outcome, name) for outcome in self.outcomes) / n

        return (
            f"error {mean('error_before'):.2f} cut by {self.cut:.0%}; rinsed at the first best"
            f" minute {mean('first'):.2f} off, as advised {mean('followed'):.2f}, in hindsight"
            f" {mean('hindsight'):.2f}: {self.closed:.0%} closed, {mean('looks'):.1f} looks;"
            f" {self.inside:.0%} inside the 80 % set"
        )


def summed(outcomes: list[Outcome]) -> Summary:
    def total(name: str) -> float:
        return sum(getattr(outcome, name) for outcome in outcomes)

    gap = total("first") - total("hindsight")
    return Summary(
        cut=1 - total("error_after") / total("error_before"),
        closed=(total("first") - total("followed")) / gap,
        inside=total("inside") / len(outcomes),
        outcomes=outcomes,
    )


# Mended from the lines that lift nothing, so that a second step does not change the hair under it.
MENDED_WITH = Limits(["neutral_demi", "acid_demi", "direct"], count=2)


@dataclass(frozen=True)
class Mended:
    """A simulated miss: which way, what was advised, and how far off before and after it."""

    way: str
    advised: str
    missed_by: float
    lands: float
    best_offered: float


def way_of(lab: LabTuple, wish: LabTuple) -> str:
    """Return which way a colour misses: too violet is too cool with red in it."""
    way = direction_of(lab, wish)
    return "too_violet" if way == "too_cool" and lab[1] > 0 else way


def mended(service: Service, number: int, kind: str) -> Mended | None:
    """Draw a head, rinse it at a bad minute, read the dried strand, and do as is advised.

    None where it did not miss, or missed in none of the three ways.
    """
    rng = random.Random(f"mend {number} {service.mix}")
    development, true = service.development, drawn(service.hair, rng)
    leaflet = development.bowl.maker
    rinsed_at = rng.choice([leaflet.min, service.best_min, leaflet.max])
    basin = Basin(service, true, kind, "dried", rng, development)
    dried = development.if_rinsed(true, rinsed_at)
    missed_by = delta_e_2000(service.target, dried)
    way = way_of(dried, service.target)
    if missed_by <= service.wish.tolerance or way not in ("too_warm", "too_dark", "too_violet"):
        return None
    basin.look(rinsed_at)
    first = msgspec.structs.replace(service.mix, minutes=rinsed_at)
    hair = msgspec.structs.replace(basin.believed().judged(), already_on=[first])
    reply = mend(MendRequest(hair, service.wish, SHELF, MENDED_WITH))
    worn = after_what_is_on(true, hair, BY_ID)

    def lands(offered: WayOn) -> float:
        match offered.do:
            case "leave":
                return missed_by
            case "wash_once":
                lab = dry_strands_lab(after_one_wash(true, hair, BY_ID).strands())
            case _:
                mix = offered.formula.mix
                lab = Development(bowl_of(mix, BY_ID)).if_rinsed(worn, mix.minutes)
        return delta_e_2000(service.target, lab)

    return Mended(
        way,
        reply.mends[0].do,
        missed_by,
        lands(reply.mends[0]),
        min(lands(offered) for offered in reply.mends),
    )


def misses(count: int, kind: str) -> list[Mended]:
    """Return this many simulated misses, each mended as advised."""
    found, kept, number = services(), [], 0
    while len(kept) < count:
        tried = mended(found[number % len(found)], number, kind)
        kept += [tried] if tried else []
        number += 1
    return kept
