"""What judging at the basin is worth: on 500 simulated heads, by every kind of look, and mended.

The first part is the engine's own physics; the second physics it does not have, for each look:
every dye's peak off by up to 15 nm and its width by up to 25 %, and steps of second order in
place of first. The third mends 200 misses. Reported, not judged.
"""

import random
import sys
import time
from collections.abc import Callable
from functools import cache
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent / "tests" / "engine"))

from simulated import lived, misses, services, summed

from basinside.engine.colour.spectrum import gaussian_band
from basinside.engine.products.classes import CLASSES
from basinside.engine.products.dyes import DYES, spectrum_of
from basinside.engine.timing.bowl import Bowl
from basinside.engine.timing.development import Development
from basinside.engine.timing.kinetics import in_hair

HEADS = 504  # as many of each of the eight services
HEADS_ELSEWHERE = 104  # read through the product, or dried
HEADS_ON_OTHER_PHYSICS = 152
MISSES = 200
STEP_MIN = 0.25
# as in products/dyes.py: (fixed, young) peak and width in nm
BANDS = (
    ((440, 40), (440, 40)),
    ((484, 45), (484, 45)),
    ((512, 45), (512, 45)),
    ((552, 45), (540, 45)),
    ((610, 50), (535, 48)),
    ((665, 45), (610, 50)),
    ((585, 55), (585, 55)),
)


class OtherPhysics(Development):
    """A bowl whose dyes absorb elsewhere, and may form by steps of another order."""

    def __init__(self, bowl: Bowl, rng: random.Random, fractions: Callable = in_hair) -> None:
        super().__init__(bowl)
        self._fractions = fractions
        self._bands = []
        for fixed, young in BANDS:
            shift, wider = rng.uniform(-15, 15), rng.uniform(0.75, 1.25)
            self._bands.append(
                [
                    gaussian_band(nm + shift, width * wider, tail=0.05)
                    for nm, width in (fixed, young)
                ]
            )

    def _spectrum(self, key: tuple[float, float], young_share: float):  # noqa: ANN202
        return self._dyed(self._fractions(self.bowl.product_class, *key), young_share)

    def _dyed(self, fractions, young_share: float = 1.0):  # noqa: ANN001, ANN202
        young, fixed = fractions
        gain = 1.0 if CLASSES[self.bowl.product_class].ready_made else 1.15
        return spectrum_of(
            [(self.bowl.amounts[i] * fixed[i], self._bands[i][0]) for i in self._used]
            + [
                (gain * self.bowl.amounts[i] * young[i] * young_share, self._bands[i][1])
                for i in self._used
            ]
        )


@cache
def second_order(product_class: str, porosity: float, clock_min: float):  # noqa: ANN201
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


def main() -> None:
    """Report looks and advice on the engine's physics and on others, then mends."""
    found = services()
    for where in ("wiped", "on_head", "dried"):
        for kind in ("instrument", "photo", "word"):
            heads = HEADS if where == "wiped" else HEADS_ELSEWHERE
            start = time.perf_counter()
            outcomes = [lived(found[i % len(found)], i, kind, where) for i in range(heads)]
            taken = (time.perf_counter() - start) / heads
            print(f"{where}, {kind}: {summed(outcomes)}; {1e3 * taken:.0f} ms a head", flush=True)
    for name, fractions in (("peaks and widths off", in_hair), ("second order too", second_order)):
        for kind in ("instrument", "photo", "word"):
            rng = random.Random(name)
            outcomes = []
            for i in range(HEADS_ON_OTHER_PHYSICS):
                service = found[i % len(found)]
                truth = OtherPhysics(service.development.bowl, rng, fractions)
                outcomes.append(lived(service, i, kind, truth=truth))
            print(f"{name}, {kind}: {summed(outcomes)}", flush=True)
    for kind in ("instrument", "photo"):
        mended = misses(MISSES, kind)
        acted = [miss for miss in mended if miss.advised != "leave"]
        left = [miss for miss in mended if miss.advised == "leave"]
        nearer = sum(miss.lands < miss.missed_by for miss in acted)
        could = sum(miss.best_offered < miss.missed_by - 1 for miss in left)
        print(
            f"mended, read by {kind}: {nearer} of {len(acted)} advised steps land nearer, from"
            f" {sum(m.missed_by for m in acted) / len(acted):.1f} to"
            f" {sum(m.lands for m in acted) / len(acted):.1f} ΔE; {len(left)} left alone, of which"
            f" {could} could have gained over 1 ΔE"
        )


if __name__ == "__main__":
    main()
