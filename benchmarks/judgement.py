"""What judging at the basin is worth: on 500 simulated heads, by every kind of look, and mended.

The first part is the engine's own physics; the second physics it does not have, for each look:
every dye's peak off by up to 15 nm and its width by up to 25 %, steps of second order in place of
first, and a world drawn for each head with tubes off their labels. The third mends 200 misses.
Reported, not judged.
"""

import random
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent / "tests" / "engine"))

from other_physics import OtherPhysics, drawn_world, second_order
from simulated import lived, misses, services, summed

from basinside.engine.hair.head import head_of
from basinside.engine.timing.kinetics import in_hair

HEADS = 504  # as many of each of the eight services
HEADS_ELSEWHERE = 104  # read through the product, or dried
HEADS_ON_OTHER_PHYSICS = 152
MISSES = 200


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
    for kind in ("instrument", "photo", "word"):
        rng = random.Random(f"all of it {kind}")
        outcomes = []
        for i in range(HEADS_ON_OTHER_PHYSICS):
            service = found[i % len(found)]
            truth = drawn_world(service.development, head_of(service.hair), rng)
            outcomes.append(lived(service, i, kind, truth=truth))
        print(f"a world drawn for each head, {kind}: {summed(outcomes)}", flush=True)
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
