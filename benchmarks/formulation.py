"""How fast formulas are found: the search against exhaustive search, and what ranking adds.

Ratios within one run, by processor time, so that a busy machine tells the same; the absolute times
are this machine's, now. The exhaustive search is float32 numpy on one thread, on every second band;
its time for a mix is measured on a part of the space and scaled to the whole.
"""

import os
import random
import sys
import time
from math import comb
from pathlib import Path
from statistics import median

os.environ["OPENBLAS_NUM_THREADS"] = "1"  # waiting threads would count as its time
import numpy as np

sys.path.insert(0, str(Path(__file__).parent.parent / "tests" / "engine"))

from exhaustive import COARSE_BANDS, columns_of, delta_e, dry_lab, grid, minutes_of
from shelves import case, shelf

from basinside.contract.formulations import FormulationRequest, Limits
from basinside.contract.hair import Hair
from basinside.contract.wishes import Wish
from basinside.engine.colour.difference import residual_from
from basinside.engine.formulation import formulate as whole
from basinside.engine.formulation.search import search

RUNS = 7


def seconds(call, runs: int = RUNS) -> float:  # noqa: ANN001
    """Return the median processor time of a call."""
    taken = []
    for _ in range(runs):
        start = time.process_time()
        call()
        taken.append(time.process_time() - start)
    return median(taken)


def mixes_in_space(lines) -> int:  # noqa: ANN001
    """Return how many mixes and minutes singles, pairs and triples come to."""
    total = 0
    for line_up in lines:
        per_minute = sum(
            comb(len(line_up.members), size) * len(grid(size, line_up.whole, line_up.clear is None))
            for size in (1, 2, 3)
        )
        total += per_minute * len(minutes_of(line_up))
    return total


def exhaustive_seconds_per_mix(question) -> float:  # noqa: ANN001
    """Return the time numpy takes for one mix, over some 600,000 triples of the largest line."""
    line_up = max(question.lines, key=lambda line: len(line.members))
    base, columns = columns_of(line_up, question.head, 10)
    base, columns = base[1:34:2].astype(np.float32), columns[:, 1:34:2].astype(np.float32)
    counts = grid(3, line_up.whole, line_up.clear is None)
    shares = (counts / line_up.whole).astype(np.float32)
    rng = np.random.default_rng(1)
    n = len(line_up.members)
    sets = np.array([rng.choice(n, 3, replace=False) for _ in range(900)])
    wish = np.array(question.wish, np.float32)

    def try_all() -> None:
        for chunk in np.array_split(sets, 9):
            delta_e(wish, dry_lab(base + shares @ columns[chunk], COARSE_BANDS)).argmin()

    return seconds(try_all, 5) / (len(sets) * len(counts))


def main() -> None:
    """Report the search, and the whole answer, for shelves of 30, 120 and 300 products."""
    for size in (30, 120, 300):
        question = case(7, size)
        residual = residual_from(question.wish)
        ours = seconds(lambda q=question, r=residual: search(q.lines, q.head, r, 3, 3.0))
        space = mixes_in_space(question.lines)
        theirs = exhaustive_seconds_per_mix(question) * space
        print(
            f"{size} products: search {1e3 * ours:.0f} ms for {space:.2e} mixes;"
            f" exhaustive numpy {theirs:.0f} s, {theirs / ours:,.0f} times as long"
        )
    bare: list[float] = []

    def timed(*args: object) -> object:
        start = time.process_time()
        found = search(*args)
        bare.append(time.process_time() - start)
        return found

    for size in (30, 120, 300):
        request = FormulationRequest(
            Hair(level=9.6, porosity=0.6),
            Wish(level=9.5, tone=["beige"]),
            shelf(random.Random(3), size),
            Limits(),
        )
        whole.search = timed
        whole.formulate(request)
        bare.clear()
        total = seconds(lambda r=request: whole.formulate(r))
        whole.search = search
        print(
            f"{size} products: whole answer {1e3 * total:.0f} ms; uncertainty, windows, ranking"
            f" and words {(total - median(bare)) / median(bare):.2f} times the bare search"
        )


if __name__ == "__main__":
    main()
