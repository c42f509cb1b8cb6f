"""What a whole field of wishes costs, beside a formulation for one of them, and how they agree.

The aim: 13 levels by 17 tones for a shelf of 30 at the cost of at most four formulations. There
are 14 tone words, so the cost is given for each 221 wishes.
"""

import random
import sys
import time
from pathlib import Path
from statistics import median

sys.path += [str(Path(__file__).parents[1] / "tests" / folder) for folder in ("engine", "common")]

from salon_grid import SHELF

from basinside.contract.formulations import FormulationRequest
from basinside.contract.hair import Hair
from basinside.contract.products import Product
from basinside.contract.reaches import ReachesRequest
from basinside.contract.wishes import Wish
from basinside.engine.formulation.formulate import formulate
from basinside.engine.formulation.reach import tell_reaches
from basinside.engine.products.tones import WISH_TONES

LEVELS = [4 + half / 2 for half in range(13)]
TONES = list(WISH_TONES)
WISHES = 221
ASKED = 12  # formulations to compare with, drawn from the field


def shelf_of_thirty(rng: random.Random) -> list[Product]:
    """Return thirty tubes of the grid's sixty, with the clears of their lines."""
    clears = [p for p in SHELF if p.tone == ["clear"]]
    dyed = [p for p in SHELF if p.tone != ["clear"]]
    return rng.sample(dyed, 30 - len(clears)) + clears


def main() -> None:
    """Report for some heads the cost of a field in formulations of the same shelf."""
    for lifted, levels in ((True, (8, 9, 10)), (False, (4, 6, 8))):
        for level in levels:
            rng = random.Random(level)
            hair, shelf = Hair(level=float(level), lifted=lifted), shelf_of_thirty(rng)
            wishes = rng.sample([Wish(level=v, tone=[t]) for v in LEVELS for t in TONES], ASKED)
            formulate(FormulationRequest(hair, wishes[0], shelf))  # what is worked out once
            seconds, fields = [], []
            for wish in wishes:
                start = time.perf_counter()
                formulate(FormulationRequest(hair, wish, shelf))
                seconds.append(time.perf_counter() - start)
            for _ in range(3):
                start = time.perf_counter()
                tell_reaches(ReachesRequest(hair, shelf, LEVELS, TONES))
                fields.append(time.perf_counter() - start)
            each = median(fields) * WISHES / (len(LEVELS) * len(TONES))
            mean = sum(seconds) / len(seconds)
            kind = "lifted" if lifted else "natural"
            print(
                f"{kind} {level}: {WISHES} wishes in {each:.2f} s, one formulation {mean:.2f} s"
                f" on average: {each / mean:.1f} formulations"
            )


if __name__ == "__main__":
    main()
