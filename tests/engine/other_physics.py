"""Heads and tubes in a world whose physics the engine does not have.

Each draw is a world of its own. Every dye's peak is off by up to 15 nm and its width by up to
25 %; half of the worlds form dye by steps of second order; the clock runs 12 % fast or slow; a
tube is stronger or weaker than its label by 20 %, and so is each dye in it; wet hair bunches
otherwise. The label is else true: strength is set so that at full time the change is as large as
the engine says, on the described head, or on white hair where that is natural. All of it is
assumed, no published source.
"""

import random
from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache
from math import exp

from basinside.engine.colour.difference import delta_e_2000
from basinside.engine.colour.spectrum import gaussian_band
from basinside.engine.hair.appearance import dry_strands_lab
from basinside.engine.hair.head import Head
from basinside.engine.products.classes import CLASSES
from basinside.engine.products.dyes import DYES, spectrum_of
from basinside.engine.timing.bowl import Bowl
from basinside.engine.timing.development import Development
from basinside.engine.timing.kinetics import in_hair

STEP_MIN = 0.5
LABEL_SD, CLOCK_SD = 0.2, 0.12
_TRIALS = 8
# as in products/dyes.py: (fixed, young) peak and width in nm
BANDS = (
    ((440, 40), (440, 40)),
    ((484, 45), (484, 45)),
    ((512, 45), (512, 45)),
    ((552, 45), (540, 45)),
    ((610, 50), (535, 48)),
    ((665, 45), (610, 50)),
    ((585, 55), (585, 55)),
    ((477, 38), (477, 38)),
    ((524, 36), (524, 36)),
    ((570, 38), (570, 38)),
    ((625, 38), (625, 38)),
)


class OtherPhysics(Development):
    """A bowl whose dyes absorb elsewhere, and may form by steps of another order."""

    def __init__(
        self,
        bowl: Bowl,
        rng: random.Random,
        fractions: Callable = in_hair,
        bunched: float = 0.3,
        clock: float = 1.0,
    ) -> None:
        super().__init__(bowl, bunched)
        self._fractions = fractions
        self._clock = clock
        self._bands = []
        for fixed, young in BANDS:
            shift, wider = rng.uniform(-15, 15), rng.uniform(0.75, 1.25)
            self._bands.append(
                [
                    gaussian_band(nm + shift, width * wider, tail=0.05)
                    for nm, width in (fixed, young)
                ]
            )

    def _left_by(self, key: tuple[float, float]):
        return self._spectrum(key, CLASSES[self.bowl.product_class].young_kept)

    def _spectrum(self, key: tuple[float, float], young_share: float):
        porosity, clock_min = key
        fractions = self._fractions(self.bowl.product_class, porosity, clock_min * self._clock)
        return self._dyed(fractions, young_share)

    def _dyed(self, fractions, young_share: float = 1.0):
        young, fixed = fractions
        gain = 1.0 if CLASSES[self.bowl.product_class].ready_made else 1.15
        return spectrum_of(
            [(self.bowl.amounts[i] * fixed[i], self._bands[i][0]) for i in self._used]
            + [
                (gain * self.bowl.amounts[i] * young[i] * young_share, self._bands[i][1])
                for i in self._used
            ]
        )


@lru_cache(maxsize=20_000)
def second_order(product_class: str, porosity: float, clock_min: float):
    """Return young and fixed shares where each step goes by the square of what is left.

    Half of each step is done by the same minute as in first order.
    """
    row = CLASSES[product_class]
    steps = max(1, round(clock_min / STEP_MIN))
    dt = clock_min / steps
    young, fixed = [], []
    for dye in DYES:
        y = f = 0.0
        for share, in_min in ((1 - row.slow_share, row.in_min), (row.slow_share, row.slow_min)):
            inner = (9.0, 11.0) if row.ready_made else (1 / dye.colour_min, 1 / dye.fix_min)
            rates = [1.443 * rate for rate in (1 / (in_min * (1.6 - 1.2 * porosity)), *inner)]
            outside, former, colour, done = 1.0, 0.0, 0.0, 0.0
            for _ in range(steps):
                moved = [
                    min(amount, rate * dt * amount * (amount if rate < 5 else 1.0))
                    for amount, rate in zip((outside, former, colour), rates, strict=True)
                ]
                outside -= moved[0]
                former += moved[0] - moved[1]
                colour += moved[1] - moved[2]
                done += moved[2]
            y, f = y + share * colour, f + share * done
        young.append(y)
        fixed.append(f)
    return tuple(young), tuple(fixed)


def drawn_world(engines: Development, described: Head, rng: random.Random) -> Development:
    """Return what one bowl really does, in a world drawn for it."""
    fractions = rng.choice([in_hair, second_order])
    clock, bunched = exp(rng.gauss(0, CLOCK_SD)), rng.uniform(0.15, 0.45)
    bands = rng.random()
    full_min, bowl = engines.bowl.full_min, engines.bowl

    def world(strengths: list[float]) -> OtherPhysics:
        amounts = tuple(a * s for a, s in zip(bowl.amounts, strengths, strict=True))
        seeded = random.Random(bands)
        return OtherPhysics(replace(bowl, amounts=amounts), seeded, fractions, bunched, clock)

    # on natural hair a natural shade changes little, however strong it is
    on = described if described.lifted else replace(described, white_share=1.0)
    bare = dry_strands_lab(on.strands())
    promised = delta_e_2000(bare, engines.if_rinsed(on, full_min))
    strength = 1.0
    for _ in range(_TRIALS):
        there = delta_e_2000(bare, world([strength] * len(DYES)).if_rinsed(on, full_min))
        if there <= 0:
            break
        strength = min(2.0, max(0.5, strength * promised / there))
    tube = strength * exp(rng.gauss(0, LABEL_SD))
    return world([tube * exp(rng.gauss(0, LABEL_SD)) for _ in DYES])
