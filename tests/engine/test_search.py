"""The search against exhaustive search over the same grid (numpy, written apart from it)."""

import pytest
from exhaustive import exhaustive
from shelves import case

from basinside.engine.colour.difference import delta_e_2000, residual_from
from basinside.engine.formulation.search import search
from basinside.engine.timing.development import Development

TOLERANCE = 3.0
CASES = 200
BATCH = 100  # so that workers can share them
ALMOST = 0.1  # at least 99 in 100 lie within
SEEN = 0.3  # no case may be worse: from there on a colourist could begin to see it


def gap(seed: int, size: int, max_products: int) -> float:
    """Return how much further off than the closest mix of all the search's closest is."""
    question = case(seed, size)
    found = search(
        question.lines,
        question.head,
        residual_from(question.wish),
        max_products,
        TOLERANCE,
    )
    nearest = sorted(found, key=lambda f: f.miss)[:60]
    ours = min(
        delta_e_2000(
            Development(f.line_up.bowl_of(f.portions)).if_rinsed(question.head, f.minute),
            question.wish,
        )
        for f in nearest
    )
    return ours - exhaustive(question.lines, question.head, question.wish, max_products).delta_e


@pytest.mark.parametrize("first", range(0, CASES, BATCH))
@pytest.mark.parametrize(("size", "max_products"), [(30, 3), (120, 2)])
def test_no_mix_on_the_shelf_is_visibly_closer_than_what_the_search_finds(
    size: int, max_products: int, first: int
) -> None:
    gaps = [gap(seed, size, max_products) for seed in range(first, first + BATCH)]
    assert min(gaps) > -1e-6, "the exhaustive search missed a mix: the grids differ"
    assert max(gaps) <= SEEN
    assert sum(g > ALMOST for g in gaps) <= BATCH // 100
