"""On white hair: what covers leads, unless it costs the colour; and what covers is found.

That much white hair asks for a class that covers, half natural, is common practice, no published
source. The bounds are the engine's stated rules.
"""

from itertools import combinations

import msgspec
import numpy as np
import pytest
from exhaustive import grid
from salon_grid import SHELF, cases
from shelves import product

from basinside.contract.formulations import Limits
from basinside.contract.hair import Hair
from basinside.contract.products import Dyes, MinuteSpan
from basinside.contract.wishes import Wish
from basinside.engine.colour.difference import delta_e_2000, residual_from
from basinside.engine.formulation.lineups import hair_asked, line_ups
from basinside.engine.formulation.order import in_order
from basinside.engine.formulation.score import Question, Standing
from basinside.engine.formulation.search import search
from basinside.engine.timing.development import Development
from basinside.engine.timing.predict import heads_of, lab_of_wish
from basinside.engine.timing.window import Landing


def on_white(
    product_class: str,
    expected: float,
    chance: float,
    cover: str,
    white_share: float = 0.4,
    percent: float = 6.0,
    words: str = "level 6, natural",
) -> Standing:
    """Return a real mix on natural hair with white, its landing, cover and words given."""
    tube = msgspec.structs.replace(
        product("d", product_class, Dyes(violet=0.2), "natural"),
        developer_percent=[percent],
        window=MinuteSpan(5, 45),
    )
    hair = Hair(level=6, lifted=False, white_share=white_share)
    heads = heads_of(hair, {tube.id: tube})
    (line_up,) = line_ups([tube], Limits(), hair_asked([heads.centre]))
    made = Standing(
        line_up,
        ((0, 12),),
        Question([(1.0, heads)], (37.0, 5.0, 17.0), 3.0),
        {30: Landing(30, expected, chance)},
        30,
    )
    made.coverage, made.words = cover, words
    return made


@pytest.mark.parametrize(
    ("further", "chance", "white_share", "leads"),
    [
        (1.2, 0.28, 0.4, "permanent"),
        (1.3, 0.28, 0.4, "neutral_demi"),
        (1.2, 0.27, 0.4, "neutral_demi"),
        (1.2, 0.28, 0.39, "neutral_demi"),
    ],
)
def test_on_much_white_hair_what_covers_leads_where_the_closest_leaves_it_seen(
    further: float, chance: float, white_share: float, leads: str
) -> None:
    demi = on_white("neutral_demi", 3.0, 0.5, "seen", white_share)
    permanent = on_white("permanent", 3.0 + further, chance, "blended", white_share)
    assert in_order([demi, permanent])[0].line_up.product_class == leads


def test_what_covers_leads_only_where_white_hair_is_no_longer_seen() -> None:
    demi = on_white("neutral_demi", 3.0, 0.5, "seen")
    permanent = on_white("permanent", 3.9, 0.5, "seen")
    assert in_order([demi, permanent])[0] is demi


@pytest.mark.parametrize(("chance", "leads"), [(0.27, "blended"), (0.29, "covered")])
def test_better_cover_is_not_worth_a_third_of_the_chance(chance: float, leads: str) -> None:
    blended = on_white("permanent", 4.0, 0.4, "blended")
    covered = on_white("permanent", 4.7, chance, "covered")
    assert in_order([blended, covered])[0].coverage == leads


@pytest.mark.parametrize("further", [0.2, 0.7])
@pytest.mark.parametrize(
    ("closest", "covering", "leads"),
    [
        ("level 6, natural", "level 5½, natural", "covered"),
        ("level 6, natural", "level 6, copper", "blended"),
        ("level 6, gold", "level 6, copper", "covered"),  # nothing near keeps the tone
    ],
)
def test_cover_is_not_worth_the_tone_that_was_wished_for(
    further: float, closest: str, covering: str, leads: str
) -> None:
    blended = on_white("permanent", 4.0, 0.4, "blended", words=closest)
    covered = on_white("permanent", 4.0 + further, 0.38, "covered", words=covering)
    assert blended.question.tone == "natural"
    assert in_order([blended, covered])[0].coverage == leads


def test_once_cover_decides_the_tube_that_is_the_wish_leads_among_what_comes_as_close() -> None:
    blended = on_white("neutral_demi", 3.7, 0.39, "blended")
    closest = on_white("permanent", 4.31, 0.32, "covered")
    named = on_white("permanent", 4.56, 0.29, "covered")
    named.label_is_the_wish = True
    assert in_order([blended, closest, named])[0] is named


def test_near_equals_are_held_to_the_best_chance_among_them() -> None:
    demi = on_white("neutral_demi", 4.3, 0.12, None, white_share=0.0)
    permanent = on_white("permanent", 4.5, 0.27, None, white_share=0.0)
    assert in_order([demi, permanent])[0] is permanent


@pytest.mark.parametrize(("chance", "leads"), [(0.27, 12.0), (0.29, 9.0)])
def test_a_milder_developer_is_not_worth_a_third_of_the_chance(chance: float, leads: float) -> None:
    strong = on_white("permanent", 4.0, 0.4, "blended", percent=12.0)
    mild = on_white("permanent", 4.7, chance, "blended", percent=9.0)
    assert in_order([strong, mild])[0].peroxide_percent == leads


@pytest.mark.parametrize(("percent", "leads"), [(9.0, "covered"), (12.0, "blended")])
def test_over_9_percent_is_not_worth_better_cover(percent: float, leads: str) -> None:
    """Over 9 % is for lift. Common practice, no published source."""
    blended = on_white("permanent", 4.0, 0.3, "blended")
    covered = on_white("permanent", 4.1, 0.3, "covered", percent=percent)
    assert in_order([blended, covered])[0].coverage == leads


def test_the_lowest_strength_leads_of_those_that_cover_as_well() -> None:
    """All white hair is lifted by no strength, so 9 % does nothing there that 6 % does not."""
    (case,) = (
        c
        for c in cases()
        if c.head == "natural 8, all white" and (c.wish.level, c.wish.tone) == (8, ["beige"])
    )
    leader = case.reply.formulas[0]
    assert (leader.class_, leader.coverage) == ("permanent", "covered")
    assert leader.mix.developer.percent == 6


COVERING = ("tern-7-natural", "tern-8-natural", "tern-7-ash", "tern-6-copper", "tern-8-beige")


@pytest.mark.parametrize(
    ("level", "tone", "white_share"), [(8, "beige", 1.0), (7, "ash", 0.5), (7, "gold", 0.6)]
)
def test_the_search_finds_the_closest_mix_that_is_half_natural(
    level: int, tone: str, white_share: float
) -> None:
    """Tried here: every single, pair and triple of five tubes, at four minutes and 6 %."""
    shelf = [p for p in SHELF if p.id in (*COVERING, "tern-10-clear")]
    hair = Hair(level=level, lifted=False, white_share=white_share)
    head = heads_of(hair, {p.id: p for p in shelf}).centre
    wish = lab_of_wish(Wish(level=level, tone=[tone]))
    lines = line_ups(shelf, Limits(developer_percent=6.0), hair_asked([head]))
    found = search(lines, head, residual_from(wish), 3, 3.0)
    (line_up,) = lines

    def off(portions, minute: int) -> float:
        return delta_e_2000(Development(line_up.bowl_of(portions)).if_rinsed(head, minute), wish)

    ours = min(off(f.portions, f.minute) for f in found if line_up.half_natural(f.portions))
    tried = [
        off(portions, minute)
        for size in (1, 2, 3)
        for members in combinations(range(len(line_up.members)), size)
        for counts in grid(size, line_up.whole, exact=False)
        for portions in [tuple(zip(members, map(int, counts), strict=True))]
        if line_up.half_natural(portions)
        for minute in (30, 36, 41, 45)
    ]
    assert ours <= np.min(tried) + 0.3
