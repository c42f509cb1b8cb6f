"""How sure it says it is holds where the physics is not the model's and labels are not true.

Each head develops in a world of its own (other_physics.py). The constants of timing/doubt.py were
set on other seeds than these. `make bench` tells more, with more heads.
"""

import random
from collections.abc import Callable
from functools import cache

import pytest
from drawing import in_turn, seeds
from other_physics import drawn_world
from salon_grid import BY_ID as TUBES
from simulated import BY_ID, Basin, Service, drawn, services

from basinside.contract.hair import Hair
from basinside.contract.mixes import Developer, Mix, Part
from basinside.engine.colour.difference import delta_e_2000, residual_from
from basinside.engine.colour.outcome import distances, likely_distance
from basinside.engine.hair.head import Head, Heads, head_of
from basinside.engine.timing.bowl import bowl_of
from basinside.engine.timing.development import Development
from basinside.engine.timing.predict import heads_of
from basinside.engine.timing.window import landing_on

WORLDS = 480
WISHES = 8  # of each world, for the chances
# What is promised; of 480 heads a share has a standard error of 1.8 points.
INSIDE = (0.75, 0.88)
# Six points are promised. A tenth pools some 300 to 500 wishes, worth fewer heads, since eight
# wishes share one: two points of error.
AS_PROMISED = 0.06


@cache
def worlds() -> list[tuple[Service, Head, Development, int]]:
    """Return a service, the true head, what its bowl truly does, and when it is looked at."""
    found, made = services(), []
    for number in range(WORLDS):
        rng = random.Random(f"kept for the test {number}")
        service = found[number % len(found)]
        true = drawn(service.hair, rng)
        world = drawn_world(service.development, head_of(service.hair), rng)
        made.append((service, true, world, rng.randint(5, 8)))
    return made


@cache
def before(place: int) -> Heads:
    return heads_of(worlds()[place][0].hair, BY_ID)


def inside(heads: Heads, place: int, minute: int) -> bool:
    service, true, world, _ = worlds()[place]
    development = service.development
    centre = development.if_rinsed(heads.centre, minute)
    residual = residual_from(centre)
    misses = [residual(development.if_rinsed(head, minute)) for head in heads.possible]
    far = distances(misses, development.dry_doubt(heads, minute))
    return delta_e_2000(centre, world.if_rinsed(true, minute)) <= likely_distance(far)


def before_a_look(when: str, place: int) -> bool:
    service = worlds()[place][0]
    minutes = {"early": 5, "best": service.best_min, "full": service.development.bowl.full_min}
    return inside(before(place), place, minutes[when])


def after_a_look(kind: str, place: int) -> bool:
    service, true, world, minute = worlds()[place]
    basin = Basin(service, true, kind, "wiped", random.Random(f"look {place}"), world)
    basin.look(minute)
    return inside(basin.believed().heads(), place, service.best_min)


RANGES = [
    *((before_a_look, when) for when in ("early", "best", "full")),
    *((after_a_look, kind) for kind in ("word", "photo", "instrument")),
]


@pytest.mark.parametrize(("asked", "how"), in_turn(RANGES))
def test_eight_in_ten_outcomes_lie_in_the_range_and_in_the_narrower_one(
    asked: Callable[[str, int], bool], how: str
) -> None:
    held = sum(asked(how, place) for place in range(WORLDS))
    assert INSIDE[0] <= held / WORLDS <= INSIDE[1]


def test_as_many_heads_land_as_the_chance_says_in_each_tenth() -> None:
    tenths: dict[int, list[tuple[float, bool]]] = {}
    for place, (service, true, world, _) in enumerate(worlds()):
        development, rng = service.development, random.Random(f"wish {place}")
        for _ in range(WISHES):
            minute = rng.randint(development.bowl.maker.min, development.bowl.full_min)
            centre = development.if_rinsed(before(place).centre, minute)
            off = rng.choice([0.5, 2.0, 4.0])
            wish = tuple(value + rng.gauss(0, off) for value in centre)
            tolerance = rng.choice([2.0, 3.0, 4.0, 5.0, 6.0])
            at = landing_on(before(place), development, minute, residual_from(wish), tolerance)
            landed = delta_e_2000(wish, world.if_rinsed(true, minute)) <= tolerance
            tenths.setdefault(int(10 * at.chance), []).append((at.chance, landed))
    for tenth in range(1, 9):
        pooled = tenths[tenth]
        told = sum(chance for chance, _ in pooled) / len(pooled)
        share = sum(landed for _, landed in pooled) / len(pooled)
        assert abs(told - share) <= AS_PROMISED, (tenth, len(pooled), told, share)


# By kind: natural, half-white and white hair from 3 to 8, as hair is coloured, brightened and
# toned. What: (level, white, lifted, tube, developer in percent, minutes).
_What = tuple[float, float, bool, str, float, int]
KINDS: dict[str, list[_What]] = {
    "dark natural": [
        (3, 0.0, False, "tern-3-natural", 6.0, 45),
        (4, 0.0, False, "tern-4-natural", 6.0, 45),
        (4, 0.0, False, "tern-5-ash", 6.0, 40),
        (4, 0.0, False, "tern-5-copper", 6.0, 40),
        (5, 0.0, False, "moss-5-natural", 3.0, 20),
    ],
    "brown natural": [
        (5, 0.0, False, "tern-7-gold", 9.0, 40),
        (6, 0.0, False, "tern-6-natural", 6.0, 45),
        (6, 0.0, False, "tern-6-copper", 6.0, 30),
        (6, 0.0, False, "wade-6-natural", 1.9, 20),
    ],
    "light natural": [
        (7, 0.0, False, "tern-7-natural", 6.0, 45),
        (7, 0.0, False, "tern-7-ash", 6.0, 40),
        (8, 0.0, False, "tern-8-natural", 6.0, 45),
        (7, 0.0, False, "tern-8-gold", 6.0, 35),
    ],
    "some white": [
        (4, 0.4, False, "tern-4-natural", 6.0, 45),
        (5, 0.4, False, "tern-5-natural", 6.0, 40),
        (7, 0.4, False, "tern-7-natural", 6.0, 45),
        (6, 0.4, False, "wade-6-natural", 1.9, 20),
    ],
    "all white": [
        (4, 1.0, False, "tern-4-natural", 6.0, 45),
        (6, 1.0, False, "tern-6-natural", 6.0, 40),
        (8, 1.0, False, "tern-8-natural", 6.0, 45),
        (7, 1.0, False, "tern-7-beige", 6.0, 45),
    ],
    "white, toned": [
        (6, 1.0, False, "wade-6-natural", 1.9, 20),
        (7, 1.0, False, "moss-7-natural", 3.0, 20),
        (9, 1.0, False, "wade-9-beige", 1.9, 15),
        (9, 1.0, False, "dune-9-violet", 1.5, 15),
    ],
    "deep red and gold": [
        (4, 0.0, False, "tern-4-red", 6.0, 40),
        (4, 1.0, False, "tern-4-red", 6.0, 45),
        (6, 0.0, False, "tern-5-gold", 6.0, 40),
        (5, 1.0, False, "tern-5-gold", 6.0, 45),
    ],
    "lifted brown": [
        (7, 0.0, True, "moss-6-red", 3.0, 20),
        (7, 0.0, True, "moss-7-ash", 3.0, 20),
        (8, 0.0, True, "wade-8-ash", 1.9, 15),
        (8, 0.0, True, "dune-8-copper", 1.5, 15),
    ],
    "lifted blonde": [
        (9, 0.0, True, "wade-9-beige", 1.9, 15),
        (10, 0.0, True, "wade-10-pearl", 1.9, 10),
        (9, 0.0, True, "wade-6-natural", 1.9, 20),
        (10, 0.0, True, "wade-9-beige", 1.9, 20),
    ],
}
# 600 heads have a standard error of 1.6 points.
OF_A_KIND = 600


@pytest.mark.parametrize("kind", [list(KINDS)[place] for place in seeds(len(KINDS))])
def test_on_each_kind_of_hair_the_ranges_hold_as_well(kind: str) -> None:
    held, drawn_of_each = 0, OF_A_KIND // len(KINDS[kind])
    for level, white, lifted, tube, percent, minute in KINDS[kind]:
        hair = Hair(level=level, lifted=lifted, white_share=white)
        mix = Mix([Part(tube, 60.0)], minute, Developer(percent, 90.0))
        development, heads = Development(bowl_of(mix, TUBES)), heads_of(hair, TUBES)
        centre = development.if_rinsed(heads.centre, minute)
        residual = residual_from(centre)
        misses = [residual(development.if_rinsed(head, minute)) for head in heads.possible]
        within = likely_distance(distances(misses, development.dry_doubt(heads, minute)))
        for number in range(drawn_of_each):
            rng = random.Random(f"{kind} {tube} {number}")
            true = drawn(hair, rng)
            world = drawn_world(development, head_of(hair), rng)
            held += delta_e_2000(centre, world.if_rinsed(true, minute)) <= within
    assert INSIDE[0] <= held / OF_A_KIND <= INSIDE[1], held / OF_A_KIND
