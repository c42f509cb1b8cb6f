"""Hostile shelves, heads and limits: an answer every time, and still the closest one."""

import random
from math import isfinite

from drawing import seeds
from exhaustive import exhaustive
from shelves import FAMILIES, product

from basinside.contract.formulations import FormulationRequest, Limits
from basinside.contract.hair import Hair
from basinside.contract.products import Dyes, MinuteSpan, Product
from basinside.contract.wishes import Wish
from basinside.engine.formulation.formulate import formulate
from basinside.engine.formulation.lineups import hair_asked, line_ups
from basinside.engine.hair.head import head_of

CLASSES = ["neutral_demi", "permanent", "direct", "acid_demi"]


def hostile(rng: random.Random) -> FormulationRequest:
    """Return one to six products, some alike or empty, on hair at the rims of what is allowed."""
    products: list[Product] = []
    with_clear = rng.random() < 0.5
    for i in range(rng.randint(1, 6)):
        dyes = {dye: rng.choice([0.0, 0.01, 0.3, 5.0]) for dye in rng.choice(FAMILIES)}
        twin = rng.random() < 0.2 and products
        made = product(
            f"p{i}",
            rng.choice(products).class_ if twin else rng.choice(CLASSES),
            rng.choice(products).dyes if twin else Dyes(**dyes),
            "natural",
        )
        first = rng.choice([0, 1, 5, 30])
        span = MinuteSpan(first, first + rng.choice([1, 3, 15]))
        products.append(Product(**{f: getattr(made, f) for f in FIELDS} | {"window": span}))
    if with_clear:
        products.append(product("clear", products[0].class_, None, "clear"))
    step_g = rng.choice([5.0, 2.5, 60.0, 20.0, 1.0])
    return FormulationRequest(
        Hair(
            level=rng.choice([1.0, 3.0, 5.0, 8.0, 10.0, 10.5]),
            porosity=rng.choice([0.0, 0.5, 1.0]),
            warmth=rng.choice([0.2, 1.0, 5.0]),
            damp=rng.choice([0.0, 1.0]),
            lifted=rng.random() < 0.7,
            rate=rng.choice([0.2, 1.0, 5.0]),
            uptake=rng.choice([0.2, 1.0, 5.0]),
        ),
        rng.choice(
            [
                Wish(level=rng.choice([1.0, 6.0, 10.5]), tone=[rng.choice(["silver", "red"])]),
                Wish(lab=(rng.uniform(0, 100), rng.uniform(-60, 60), rng.uniform(-60, 60))),
                Wish(lab=(60.0, 0.0, 0.0), tolerance=0.5),
            ]
        ),
        products,
        Limits(
            total_g=60,
            step_g=step_g,
            max_products=rng.choice([1, 2, 3]),
            count=rng.choice([1, 5, 10]),
            max_minutes=rng.choice([None, 3, 120]),
            unlikely=True,
        ),
    )


FIELDS = Product.__struct_fields__


def test_a_hostile_question_gets_the_closest_mix_or_says_why_there_is_none() -> None:
    for seed in seeds(240):
        request = hostile(random.Random(seed))
        reply = formulate(request)
        head = head_of(request.hair)
        # a permanent keeps its time on natural hair: the hair says which minutes there are
        lines = line_ups(request.products, request.limits, hair_asked([head], request.wish))
        best = exhaustive(lines, head, reply.wish.lab, request.limits.max_products)
        if not reply.formulas:
            assert best.tried == 0, seed
            assert reply.shortfall is not None, seed
            continue
        closest = min(f.delta_e for f in reply.formulas)
        assert isfinite(closest), seed
        if request.limits.count > 1:
            assert closest <= best.delta_e + 0.3, seed
        met = any(f.delta_e <= request.wish.tolerance for f in reply.formulas)
        assert (reply.shortfall is None) or not met, seed


def test_white_hair_among_pigmented_is_searched_as_it_is_seen() -> None:
    rng = random.Random(5)
    products = [
        product(f"p{i}", "neutral_demi", Dyes(**dict.fromkeys(family, 0.4)), "natural")
        for i, family in enumerate(rng.sample(FAMILIES, 6))
    ]
    hair = Hair(level=6, lifted=False, white_share=0.4)
    request = FormulationRequest(hair, Wish(level=7, tone=["ash"], tolerance=10), products)
    closest = formulate(request).closest_delta_e
    # No single product comes closer, tried one by one at every minute.
    for alone in products:
        lone = FormulationRequest(hair, request.wish, [alone])
        assert closest <= formulate(lone).closest_delta_e + 1e-9
