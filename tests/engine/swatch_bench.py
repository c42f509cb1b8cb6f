"""Simulated benches: tubes that are not what their label says, painted on uneven hair and read.

Each tube has a composition of its own that nearly keeps the label's promise: off by 1.5 on each
axis. Its line has a speed of its own. `other` worlds have other physics (other_physics.py). All of
it is assumed, no published source. What is held out is asked of heads that are known exactly.
"""

import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import exp

import msgspec
from other_physics import OtherPhysics, second_order

from basinside.contract.hair import Hair, HairReading
from basinside.contract.judgements import Reading
from basinside.contract.mixes import Mix, Part
from basinside.contract.products import MinuteSpan, Product
from basinside.contract.swatches import CalibrationReply, CalibrationRequest, Swatch
from basinside.engine.colour.difference import delta_e_2000
from basinside.engine.colour.lab import LabTuple
from basinside.engine.hair.head import Head
from basinside.engine.hair.reading import bare_lab
from basinside.engine.products.classes import CLASSES
from basinside.engine.products.dyes import DYES
from basinside.engine.products.tones import may_hold
from basinside.engine.swatches.calibrate import calibrate
from basinside.engine.swatches.candidates import Candidate, candidates_of
from basinside.engine.swatches.teach import chosen, lessons_of
from basinside.engine.swatches.unknowns import unknowns_of
from basinside.engine.timing.bowl import Bowl, bowl_of
from basinside.engine.timing.development import Development
from basinside.engine.timing.kinetics import in_hair, site_uptake
from basinside.engine.timing.label import label_of
from basinside.engine.timing.promise import nearest_dyes

_WORDS = (
    *(["beige"], ["ash"], ["pearl"], ["violet"], ["gold"], ["natural"], ["beige", "ash"]),
    *(["copper"], ["rose"], ["natural", "ash"]),
)
_CLASSES = ("neutral_demi", "alkaline_demi", "acid_demi", "permanent")
_LABEL_SD, _RATE_SD = 1.5, 0.2
_LEVEL_SD, _WARMTH_SD, _POROSITY_SD = 0.15, 0.12, 0.05
LEVELS = (8.0, 9.0, 10.0)
HELD_OUT = 24
TUBE, CLEAR = "tube", "clear"


@dataclass(frozen=True)
class Asked:
    """One thing held out: a head, when it is rinsed, and how much of the bowl is colour."""

    head: Head
    minute: int
    strength: float

    @property
    def mix(self) -> Mix:
        parts = [Part(TUBE, 12 * self.strength)]
        if self.strength < 1:
            parts.append(Part(CLEAR, 12 * (1 - self.strength)))
        return Mix(parts, self.minute)


@dataclass(frozen=True)
class Tube:
    """One tube with the clear of its line, and what it truly does."""

    number: int
    other: bool = False

    @cached_property
    def shelf(self) -> list[Product]:
        rng = random.Random(f"tube {self.number}")
        of = _CLASSES[self.number % len(_CLASSES)]
        permanent = of == "permanent"
        tube = Product(
            id=TUBE,
            name="tube",
            line="Larch",
            class_=of,
            level=rng.choice([8, 8.5, 9, 9.5, 10]),
            tone=_WORDS[self.number % len(_WORDS)],
            developer_percent=[3.0 if permanent else 1.9],
            window=MinuteSpan(5, 30 if permanent else 20),
        )
        return [tube, msgspec.structs.replace(tube, id=CLEAR, level=10, tone=["clear"])]

    @cached_property
    def truly(self) -> Callable[[Bowl, float], Development]:
        """What a bowl really does in which the tube is so much of the colour."""
        rng, tube = random.Random(f"truth {self.number}"), self.shelf[0]
        label, row = label_of(tube.class_, tube.level, tuple(tube.tone)), CLASSES[tube.class_]
        goal = [value + rng.gauss(0, _LABEL_SD) for value in label.colour]
        rate, bands = exp(rng.gauss(0, _RATE_SD)), rng.random()
        fractions = rng.choice([in_hair, second_order])

        def world(bowl: Bowl, amounts: Sequence[float]) -> Development:
            filled = replace(bowl, amounts=tuple(amounts), rate=rate, learnt=None)
            if not self.other:
                return Development(filled)
            return OtherPhysics(filled, random.Random(bands), fractions)

        # the label is nearly kept, by whatever composition this maker happens to like
        empty = bowl_of(Mix([Part(TUBE, 1.0)], 5), {TUBE: tube})
        held = [i for i, d in enumerate(DYES) if may_hold(d, row.ready_made, tube.tone)]
        liked = [exp(rng.gauss(0, 1)) for _ in held]
        uptake = site_uptake(row, 0.5, 0.0, 1.0, 0.0)
        spectra = []
        for i, times in zip(held, liked, strict=True):
            unit = world(empty, [float(i == j) for j in range(len(DYES))])
            left = unit.rinsed_ks(0.5, label.minutes * rate)
            spectra.append([uptake * times * k for k in left])
        found = nearest_dyes(
            label.strands,
            spectra,
            lambda lab: tuple(a - b for a, b in zip(lab, goal, strict=True)),
            0.02,
        )
        amounts = [0.0] * len(DYES)
        for i, times, amount in zip(held, liked, found, strict=True):
            amounts[i] = times * amount
        return lambda bowl, strength: world(bowl, [strength * a for a in amounts])

    @cached_property
    def held_out(self) -> list[Asked]:
        rng, last = random.Random(f"held out {self.number}"), self.shelf[0].window.max
        return [
            Asked(
                head=Head(
                    level=rng.uniform(7, 10.4),
                    warmth=1.0,
                    porosity=rng.uniform(0.35, 0.75),
                    damp=0.0,
                    white_share=0.0,
                    lifted=True,
                    rate=1.0,
                    uptake=1.0,
                ),
                minute=rng.randint(5, last),
                strength=rng.choice([1.0, 1.0, 0.5]),
            )
            for _ in range(HELD_OUT)
        ]

    def misses(self, products: Sequence[Product]) -> list[float]:
        """Return how far off these products' predictions are, held out, CIEDE2000."""
        shelf = {product.id: product for product in products}
        found = []
        for asked in self.held_out:
            bowl = bowl_of(asked.mix, shelf)
            told = Development(bowl).if_rinsed(asked.head, asked.minute)
            truth = self.truly(bowl, asked.strength).if_rinsed(asked.head, asked.minute)
            found.append(delta_e_2000(told, truth))
        return found

    @cached_property
    def candidates(self) -> list[Candidate]:
        return candidates_of(self.shelf, [TUBE], LEVELS, 80)

    def planned(self, count: int) -> list[Candidate]:
        """Return the swatches that the engine would have painted first."""
        unknowns = unknowns_of(self.shelf, [], [TUBE])
        before = [
            [sd * sd if i == j else 0.0 for j in range(len(unknowns.sd))]
            for i, sd in enumerate(unknowns.sd)
        ]
        lessons = lessons_of(self.candidates, unknowns, unknowns.mean)
        return [pick.lesson.candidate for pick in chosen(lessons, before, count)]

    def painted(self, candidate: Candidate, name: str, sd: float, rng: random.Random) -> Swatch:
        """Paint uneven hair, and read its bare and its painted end to so much."""
        level, lifted = candidate.level, candidate.hair.lifted
        head = Head(
            level=min(10.5, level + rng.gauss(0, _LEVEL_SD)),
            warmth=exp(rng.gauss(0, _WARMTH_SD)),
            porosity=0.5 + rng.gauss(0, _POROSITY_SD),
            damp=0.0,
            white_share=0.0,
            lifted=lifted,
            rate=1.0,
            uptake=1.0,
        )
        bare = off_by(bare_lab(head, "dry"), sd, rng)
        truth = self.truly(candidate.painted.bowl, candidate.strength)
        dried = off_by(truth.if_rinsed(head, candidate.mix.minutes), sd, rng)
        source = "instrument" if sd < 1 else "photo"
        return Swatch(
            id=name,
            hair=Hair(level=level, lifted=lifted, damp=0.0, reading=HairReading(bare, "dry", sd)),
            mix=candidate.mix,
            after=Reading(candidate.mix.minutes, "dried", source, lab=dried, sd=sd),
        )

    def bench(self, picks: Sequence[Candidate], sd: float, seed: str = "") -> list[Swatch]:
        """Paint and read these swatches."""
        rng = random.Random(f"bench {self.number} {seed}")
        return [self.painted(pick, f"w{i}", sd, rng) for i, pick in enumerate(picks)]

    def learnt(self, swatches: Sequence[Swatch]) -> CalibrationReply:
        return calibrate(CalibrationRequest(self.shelf, list(swatches)))


def off_by(lab: LabTuple, sd: float, rng: random.Random) -> LabTuple:
    """Return a colour read with this error on each axis."""
    light, red, yellow = (value + rng.gauss(0, sd) for value in lab)
    return min(100.0, max(0.0, light)), red, yellow


def put_wrong(swatch: Swatch, by: float, rng: random.Random) -> Swatch:
    """Return a swatch read so far off, CIEDE2000, in a direction of its own."""
    way = [rng.gauss(0, 1) for _ in range(3)]
    lab, scale = swatch.after.lab, 1.0
    for _ in range(30):
        there = tuple(value + scale * step for value, step in zip(lab, way, strict=True))
        scale *= by / delta_e_2000(lab, there)
    there = (min(100.0, max(0.0, there[0])), there[1], there[2])
    return msgspec.structs.replace(swatch, after=msgspec.structs.replace(swatch.after, lab=there))
