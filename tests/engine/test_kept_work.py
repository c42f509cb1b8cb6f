"""What is kept between questions makes none of them come out otherwise, to the last digit."""

import gc
import json
from functools import _lru_cache_wrapper

from asking import demo_shelf

from basinside.engine.door import answer

ASKED = (
    ({"level": 9}, {"level": 9, "tone": ["pearl"]}),
    ({"level": 9}, {"level": 9, "tone": ["beige"]}),
    ({"level": 9, "porosity": 0.7}, {"level": 9, "tone": ["pearl"]}),
    ({"level": 6, "lifted": False}, {"level": 7, "tone": ["gold"]}),
    ({"level": 6, "lifted": False, "white_share": 0.5}, {"level": 6, "tone": ["natural"]}),
)


def asked(hair, wish):
    body = {"hair": hair, "wish": wish, "products": demo_shelf()}
    reply = answer("formulations", json.dumps(body).encode())
    assert reply.status == 200, reply.body.decode()
    return reply.body


def kept_by_the_engine():
    found = [o for o in gc.get_objects() if isinstance(o, _lru_cache_wrapper)]
    return [cache for cache in found if cache.__module__.startswith("basinside.engine.")]


def forget():
    for cache in kept_by_the_engine():
        cache.cache_clear()


def test_a_question_is_answered_alike_first_and_after_others():
    alone = []
    for hair, wish in ASKED:
        forget()
        alone.append(asked(hair, wish))
    forget()
    after_others = [asked(hair, wish) for hair, wish in (*ASKED, *ASKED)]
    assert after_others == alone * 2


def test_the_next_question_on_the_same_hair_and_shelf_finds_the_shelf_worked_out():
    columns = next(
        cache
        for cache in kept_by_the_engine()
        if (cache.__module__, cache.__name__)
        == ("basinside.engine.formulation.project", "_columns")
    )
    forget()
    (hair, wish), (same_hair, other_wish), *_ = ASKED
    asked(hair, wish)
    first = columns.cache_info().misses
    asked(same_hair, other_wish)
    again = columns.cache_info().misses - first
    assert first > 0
    assert again < first / 2


def test_all_that_is_kept_of_hair_and_mixes_is_bounded():
    """A phone asks for weeks without a new start."""
    rooms = ("hair", "formulation", "timing", "products")
    unbounded = {
        cache.__name__
        for cache in kept_by_the_engine()
        if cache.__module__.split(".")[2] in rooms and cache.cache_info().maxsize is None
    }
    # a table of the engine's own, of eleven rows, that no question makes longer
    assert unbounded == {"_ladder"}
