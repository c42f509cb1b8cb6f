"""Which wishes a shelf can make: a field of wishes against one formulation for each.

The formulation is the measure: its search is held to an exhaustive one in `test_search.py`.
"""

import json
import random
from collections import Counter
from dataclasses import dataclass, field
from typing import Any

import pytest
from asking import Json, asked, clear, described, of_dyes
from drawing import seeds
from salon_grid import SHELF

from basinside.contract.formulations import FormulationRequest
from basinside.contract.hair import Hair
from basinside.contract.products import Product
from basinside.contract.reaches import Reach, ReachesRequest
from basinside.contract.wishes import Wish
from basinside.engine.door import answer
from basinside.engine.formulation.formulate import formulate
from basinside.engine.formulation.reach import tell_reaches
from basinside.engine.products.tones import WISH_TONES

SHELVES = 40
CELLS = 25  # of each shelf, drawn from the whole field
LEVELS = [4 + half / 2 for half in range(13)]
TONES = list(WISH_TONES)
TOLERANCE = 3.0
AT_THE_LIMIT = 0.5  # a miss may lie this near the tolerance
AGREES = 0.97


@dataclass
class Tally:
    """How the cells of some shelves compare with formulations."""

    cells: int = 0
    misses: list[str] = field(default_factory=list)
    whys: Counter[tuple[str, str]] = field(default_factory=Counter)


def drawn(seed: int) -> tuple[Hair, list[Product]]:
    """Return a head and thirty tubes with the clears of their lines, as a salon has them."""
    rng = random.Random(seed)
    clears = [p for p in SHELF if p.tone == ["clear"]]
    dyed = [p for p in SHELF if p.tone != ["clear"]]
    shelf = rng.sample(dyed, 30 - len(clears)) + clears
    lifted = rng.random() < 0.6
    level = rng.choice([7, 8, 8.5, 9, 9.5, 10]) if lifted else rng.choice([4, 5, 6, 7, 8])
    hair = Hair(
        level=float(level),
        lifted=lifted,
        porosity=rng.choice([0.3, 0.5, 0.8]),
        white_share=0.0 if lifted else rng.choice([0.0, 0.0, 0.4]),
    )
    return hair, shelf


def compare(seed: int, tally: Tally) -> None:
    """Compare drawn cells of one shelf's field with a formulation each."""
    hair, shelf = drawn(seed)
    reply = tell_reaches(ReachesRequest(hair, shelf, LEVELS, TONES))
    assert [(c.level, c.tone) for c in reply.reaches] == [(v, t) for v in LEVELS for t in TONES]
    for cell in random.Random(seed).sample(reply.reaches, CELLS):
        wish = Wish(level=cell.level, tone=[cell.tone])
        truth = formulate(FormulationRequest(hair, wish, shelf))
        closest = truth.closest_delta_e if isinstance(truth.closest_delta_e, float) else None
        within = truth.shortfall is None
        tally.cells += 1
        if within != cell.within:
            tally.misses.append(f"seed {seed}, {cell}: {closest}")
            assert closest is not None, tally.misses[-1]
            assert min(cell.delta_e, closest) > TOLERANCE - AT_THE_LIMIT, tally.misses[-1]
        elif truth.shortfall is not None:
            tally.whys[str(cell.why), truth.shortfall.first] += 1


def test_the_field_agrees_with_a_formulation_for_each_of_its_wishes() -> None:
    tally = Tally()
    for seed in seeds(SHELVES, parts=20):
        compare(seed, tally)
    assert len(tally.misses) <= (1 - AGREES) * tally.cells, tally.misses
    alike = {("lift_first", "lift"), ("wash_first", "wash"), ("no_product", "nothing")}
    apart = sum(n for pair, n in tally.whys.items() if pair not in alike)
    assert apart <= 0.05 * tally.whys.total(), tally.whys


# Cells of very porous lifted hair, where the mix that makes them lies beside none of the nearest
# looking ones. Found among all the shelves.
FAR_FROM_THE_REST = (
    *((15, 4.0, "pearl"), (16, 7.0, "rose"), (18, 8.0, "red"), (25, 7.5, "violet")),
    (39, 9.5, "copper"),
)


@pytest.mark.parametrize(("seed", "level", "tone"), FAR_FROM_THE_REST)
def test_a_mix_unlike_those_that_look_nearest_is_found_too(
    seed: int, level: float, tone: str
) -> None:
    hair, shelf = drawn(seed)
    truth = formulate(FormulationRequest(hair, Wish(level=level, tone=[tone]), shelf))
    assert truth.shortfall is None
    (cell,) = tell_reaches(ReachesRequest(hair, shelf, [level], [tone])).reaches
    assert cell.within


def field_of(hair: Json, products: list[Json], **more: Any) -> dict[tuple[float, str], Json]:
    """Return the cells of a field by level and tone."""
    body = {"hair": hair, "products": products, "levels": [10], "tones": ["beige"], **more}
    return {(cell["level"], cell["tone"]): cell for cell in asked("reaches", body)["reaches"]}


def toner() -> list[Json]:
    """Return a violet toner with its clear."""
    return [of_dyes(violet=0.3, blue=0.1), clear()]


def test_hair_that_has_the_colour_already_is_within() -> None:
    level, tone = 6.0, "natural"
    cells = field_of({"level": level, "lifted": False}, toner(), levels=[level], tones=[tone])
    assert cells[level, tone]["within"]
    assert cells[level, tone]["delta_e"] <= 1


def test_natural_brown_is_lifted_before_a_pale_wish() -> None:
    """Common practice, no published source: no dye makes hair lighter."""
    cell = field_of({"level": 5, "lifted": False}, toner())[10, "beige"]
    assert not cell["within"]
    assert cell["why"] == "lift_first"


def test_colour_that_is_in_the_way_is_washed_first() -> None:
    """Common practice, no published source: an over-toned blonde is washed, not lifted."""
    strong = of_dyes(named="strong", violet=2.0, blue=1.0)
    mix = {"parts": [{"product": "strong", "grams": 60}], "minutes": 20}
    over_toned = {"level": 10, "lifted": True, "already_on": [mix]}
    cell = field_of(over_toned, [*toner(), strong])[10, "beige"]
    assert not cell["within"]
    assert cell["why"] == "wash_first"


def test_where_only_a_tube_is_missing_it_says_so() -> None:
    cells = field_of({"level": 9, "lifted": True}, toner(), levels=[6], tones=["copper"])
    assert not cells[6, "copper"]["within"]
    assert cells[6, "copper"]["why"] == "no_product"


def test_a_shelf_without_any_dye_reaches_nothing_and_says_how_far_the_hair_is_off() -> None:
    cell = field_of({"level": 10, "lifted": True}, [clear()], levels=[8])[8, "beige"]
    assert not cell["within"]
    assert cell["delta_e"] > TOLERANCE
    assert cell["why"] == "no_product"


def test_a_wider_tolerance_only_adds_cells() -> None:
    hair = {"level": 9, "lifted": True}
    asked_for = {"levels": LEVELS[8:], "tones": TONES}
    near, far = (
        {
            at
            for at, cell in field_of(hair, toner(), tolerance=t, **asked_for).items()
            if cell["within"]
        }
        for t in (1.0, 6.0)
    )
    assert near < far


def test_the_mix_keeps_to_the_limits() -> None:
    hair = {"level": 10, "lifted": True}
    violet, yellow = of_dyes(named="violet", violet=2, blue=2), of_dyes(named="yellow", orange=2)
    asked_for = {"levels": [8], "tones": ["natural"]}
    (two,) = field_of(hair, [violet, yellow, clear()], **asked_for).values()
    (one,) = field_of(
        hair, [violet, yellow, clear()], limits={"max_products": 1}, **asked_for
    ).values()
    assert two["delta_e"] < one["delta_e"] - 0.5


@pytest.mark.parametrize(
    ("change", "pointer"),
    [
        ({"tones": ["beige", "mermaid"]}, "/tones/1"),
        ({"hair": {"lifted": True}}, "/hair/level"),
        ({"limits": {"step_g": 7}}, "/limits/step_g"),
        ({"products": [described(tone=["unheard"])]}, "/products/0/tone"),
    ],
)
def test_what_cannot_be_asked_is_refused_with_its_place(change: Json, pointer: str) -> None:
    body = {
        "hair": {"level": 9},
        "products": toner(),
        "levels": [9],
        "tones": ["beige"],
        **change,
    }
    reply = answer("reaches", json.dumps(body).encode())
    assert reply.status == 422
    assert [fault["pointer"] for fault in json.loads(reply.body)["errors"]] == [pointer]


def test_one_wish_is_answered_alike_alone_and_among_many() -> None:
    hair, shelf = drawn(0)
    alone = tell_reaches(ReachesRequest(hair, shelf, [8.0], ["gold"])).reaches
    many: list[Reach] = tell_reaches(ReachesRequest(hair, shelf, LEVELS, TONES)).reaches
    assert alone[0] in many
