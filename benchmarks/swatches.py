"""What learning from swatches costs, in warm development strips of 21 minutes with ranges.

The aim: a fit of 40 swatches in at most 5 strips, a plan of 8 out of 80 candidates in at most 3.
"""

import random
import sys
import time
from collections.abc import Callable
from pathlib import Path
from statistics import median

sys.path += [str(Path(__file__).parents[1] / "tests" / folder) for folder in ("engine", "common")]

from swatch_bench import TUBE, Tube

from basinside.contract.hair import Hair
from basinside.contract.mixes import Mix, Part
from basinside.contract.predictions import PredictionRequest
from basinside.contract.swatches import SwatchPlanRequest
from basinside.engine.swatches.plan_swatches import plan_swatches
from basinside.engine.timing.predict import predict

ROUNDS = 9
LEVELS = [6.0, 7.0, 7.5, 8.0, 8.5, 9.0, 9.5, 10.0, 10.5]  # with three minutes and strengths: 81


def main() -> None:
    """Report each in processor time and in strips, median of nine rounds in turn."""
    tube, rng = Tube(0), random.Random(1)
    swatches = tube.bench([rng.choice(tube.candidates) for _ in range(40)], 0.5)
    strip = PredictionRequest(Hair(level=10), Mix([Part(TUBE, 40)], 10), tube.shelf)
    plan = SwatchPlanRequest(tube.shelf, LEVELS, 8)
    asked: dict[str, Callable[[], object]] = {
        "a strip": lambda: predict(strip),
        "a fit of 8": lambda: tube.learnt(swatches[:8]),
        "a fit of 40": lambda: tube.learnt(swatches),
        "a plan of 8 from 81": lambda: plan_swatches(plan),
    }
    spent: dict[str, list[float]] = {name: [] for name in asked}
    for ask in asked.values():
        ask()
    for _ in range(ROUNDS):
        for name, ask in asked.items():
            start = time.process_time()
            ask()
            spent[name].append(time.process_time() - start)
    unit = median(spent["a strip"])
    for name, times in spent.items():
        print(f"{name}: {1e3 * median(times):.0f} ms, {median(times) / unit:.1f} strips")


if __name__ == "__main__":
    main()
