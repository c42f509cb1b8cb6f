"""A hundred tubes unlike their labels, learnt from swatches: how far off is what is held out?

A tenth of the tubes runs each day, with half as much room again in each limit: 240 things held out
tell a median and a 90th of a hundred to about that.
"""

import random
from collections.abc import Sequence
from functools import cache
from statistics import median

import msgspec
import pytest
from drawing import LONG, in_turn, seeds
from swatch_bench import TUBE, Tube, off_by, put_wrong

from basinside.contract.hair import Hair, HairReading
from basinside.contract.judgements import Reading
from basinside.contract.mixes import Mix, Part
from basinside.contract.swatches import Swatch
from basinside.engine.colour.difference import delta_e_2000, residual_from
from basinside.engine.colour.outcome import distances, likely_distance
from basinside.engine.hair.head import head_of
from basinside.engine.hair.unsure import moved, spread_of
from basinside.engine.timing.bowl import bowl_of
from basinside.engine.timing.development import Development
from basinside.engine.timing.predict import heads_of
from basinside.engine.timing.window import landing_on

NUMBERS = seeds(100)
ROOM = 1.0 if LONG else 1.5
INSTRUMENT, PHOTO = 0.5, 2.0
# median and 90th of what is held out, CIEDE2000, by (other physics, how well it is read)
LIMITS = {
    (False, INSTRUMENT): (0.30, 0.70),
    (False, PHOTO): (0.70, 1.60),
    (True, INSTRUMENT): (0.45, 1.00),
    (True, PHOTO): (0.90, 2.00),
}
HEADS = 8  # of each tube, for ranges
WISHES = 3  # of each head, for chances


@cache
def tubes(other: bool) -> list[Tube]:
    return [Tube(number, other) for number in NUMBERS]


def ninetieth(values: Sequence[float]) -> float:
    return sorted(values)[int(0.9 * len(values))]


@cache
def held_out(other: bool, sd: float, count: int, planned: bool) -> list[float]:
    """Return how far off all that is held out is, after so many swatches."""
    missed = []
    for tube in tubes(other):
        rng = random.Random(f"random {tube.number}")
        picks = (
            tube.planned(count) if planned else [rng.choice(tube.candidates) for _ in range(count)]
        )
        missed += tube.misses(tube.learnt(tube.bench(picks, sd)).products)
    return missed


@pytest.mark.parametrize(("other", "sd"), in_turn(LIMITS))
def test_eight_planned_swatches_tell_what_is_in_the_tube(other: bool, sd: float) -> None:
    missed = held_out(other, sd, 8, True)
    label = [miss for tube in tubes(other) for miss in tube.misses(tube.shelf)]
    print(f"words alone {median(label):.2f} {ninetieth(label):.2f}")
    print(f"eight planned {median(missed):.2f} {ninetieth(missed):.2f}")
    middle, most = LIMITS[other, sd]
    assert median(missed) <= ROOM * middle
    assert ninetieth(missed) <= ROOM * most


def test_planned_swatches_teach_more_than_random_ones() -> None:
    """By a quarter, and four of them no less than eight at random; over few tubes by less."""
    planned, four, anyhow = (
        median(held_out(False, INSTRUMENT, count, how))
        for count, how in ((8, True), (4, True), (8, False))
    )
    print(f"eight planned {planned:.3f}, four {four:.3f}, eight at random {anyhow:.3f}")
    assert planned <= (0.75 if LONG else 0.9) * anyhow
    assert four <= (1.0 if LONG else 1.4) * anyhow


@pytest.mark.parametrize("sd", in_turn([INSTRUMENT, PHOTO]))
def test_one_swatch_of_eight_read_wrong_is_named_and_does_no_harm(sd: float) -> None:
    missed, named = [], 0
    for tube in tubes(False):
        rng = random.Random(f"wrong {tube.number}")
        swatches = tube.bench(tube.planned(8), sd)
        place = rng.randrange(8)
        swatches[place] = put_wrong(swatches[place], 15, rng)
        learnt = tube.learnt(swatches)
        named += learnt.fits[place].odd
        missed += tube.misses(learnt.products)
    print(f"named {named} of {len(NUMBERS)}, held out {median(missed):.2f}")
    assert median(missed) < median(held_out(False, sd, 8, True)) + 0.3
    assert named >= 0.9 * len(NUMBERS)


def test_a_known_strand_in_each_picture_takes_out_what_its_readings_share() -> None:
    """Each swatch has a picture of its own, off by 3 on each axis, with a strand read before."""
    missed, without, own = [], [], 0.7
    for tube in tubes(False):
        rng = random.Random(f"pictures {tube.number}")
        swatches, strands = [], []
        for i, swatch in enumerate(tube.bench(tube.planned(8), own)):
            offset = [rng.gauss(0, 3) for _ in range(3)]
            piece = tube.painted(tube.candidates[0], f"strand{i}", own, rng)
            bare = piece.hair.reading.lab
            known = HairReading(off_by(bare, INSTRUMENT, rng), "dry", INSTRUMENT)
            strand = msgspec.structs.replace(
                piece,
                hair=msgspec.structs.replace(piece.hair, reading=known),
                after=Reading(0, "dried", "photo", lab=off_by(bare, own, rng), sd=own),
            )
            swatches.append(in_picture(swatch, f"photo{i}", offset))
            strands.append(in_picture(strand, f"photo{i}", offset))
        missed += tube.misses(tube.learnt([*swatches, *strands]).products)
        without += tube.misses(tube.learnt(swatches).products)
    print(f"with a strand {median(missed):.2f} {ninetieth(missed):.2f}")
    print(f"without {median(without):.2f} {ninetieth(without):.2f}")
    assert median(missed) <= ROOM * 0.45


def in_picture(swatch: Swatch, picture: str, offset: Sequence[float]) -> Swatch:
    lab = tuple(value + by for value, by in zip(swatch.after.lab, offset, strict=True))
    after = msgspec.structs.replace(swatch.after, lab=lab, source="photo")
    return msgspec.structs.replace(swatch, after=after, group=picture)


_KNOWN_BY = [
    (other, sd, count)
    for other in (False, True)
    for sd, count in ((INSTRUMENT, 0), (INSTRUMENT, 4), (INSTRUMENT, 8), (PHOTO, 4), (PHOTO, 8))
]


@pytest.mark.parametrize(("other", "sd", "count"), in_turn(_KNOWN_BY))
def test_ranges_hold_eight_in_ten_and_chances_come_true(other: bool, sd: float, count: int) -> None:
    """75 to 88 of 100 inside; chances within 6 points in each fifth from 0.2 up to 0.8.

    Chances of a product known by its words alone were set on other worlds: they are only told.
    """
    inside, landed = [], []
    for tube in tubes(other):
        products = tube.shelf
        if count:
            products = tube.learnt(tube.bench(tube.planned(count), sd)).products
        rng = random.Random(f"ranges {tube.number}")
        for _ in range(HEADS):
            held, chances = one_head(tube, products, rng)
            inside.append(held)
            landed += chances
    share = sum(inside) / len(inside)
    fifths: dict[int, list[tuple[float, bool]]] = {}
    for told, came in landed:
        fifths.setdefault(min(4, int(5 * told)), []).append((told, came))
    off = {
        fifth: sum(told - came for told, came in pooled) / len(pooled)
        for fifth, pooled in sorted(fifths.items())
    }
    print(f"inside {share:.3f}, chances off by", {f: round(by, 3) for f, by in off.items()})
    # a tenth of the tubes is 80 heads, ten tubes of them: a share has an error of 6 points
    low, high = (0.75, 0.88) if LONG else (0.60, 1.0)
    assert low <= share <= high
    if LONG and count:
        assert max(abs(off[fifth]) for fifth in (1, 2, 3)) <= 0.06


def one_head(
    tube: Tube, products: Sequence, rng: random.Random
) -> tuple[bool, list[tuple[float, bool]]]:
    """Draw a head as described, and return whether its colour is inside, and its chances."""
    shelf = {product.id: product for product in products}
    hair = Hair(level=rng.uniform(8, 10.2), porosity=rng.uniform(0.4, 0.7), damp=0.6)
    minute = rng.randint(8, tube.shelf[0].window.max)
    development = Development(bowl_of(Mix([Part(TUBE, 12.0)], minute), shelf))
    heads = heads_of(hair, shelf)
    normal = [rng.gauss(0, 1) for _ in range(5)]
    steps = [sum(a * z for a, z in zip(row, normal, strict=True)) for row in spread_of(hair.sure)]
    truth = tube.truly(development.bowl, 1.0).if_rinsed(moved(head_of(hair), steps), minute)
    centre = development.if_rinsed(heads.centre, minute)
    residual = residual_from(centre)
    far = distances(
        [residual(development.if_rinsed(head, minute)) for head in heads.possible],
        development.dry_doubt(heads, minute),
    )
    chances = []
    for _ in range(WISHES):
        off, tolerance = rng.choice([0.5, 2.0, 4.0]), rng.choice([2.0, 3.0, 4.0, 5.0])
        wish = tuple(value + rng.gauss(0, off) for value in centre)
        at = landing_on(heads, development, minute, residual_from(wish), tolerance)
        chances.append((at.chance, delta_e_2000(wish, truth) <= tolerance))
    return delta_e_2000(centre, truth) <= likely_distance(far), chances
