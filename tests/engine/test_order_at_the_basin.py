"""Of mixes that nobody could tell apart: one that can wait leads, held to its own class's best.

That one pair of hands rinses some minutes late is common practice, no published source.
The bounds are the engine's stated rules.
"""

import msgspec
import pytest
from asking import Json, demo_shelf, formulated
from shelves import product

from basinside.contract.formulations import Limits
from basinside.contract.hair import Hair
from basinside.contract.products import Dyes, MinuteSpan
from basinside.engine.formulation.lineups import line_ups
from basinside.engine.formulation.order import in_order
from basinside.engine.formulation.score import Question, Standing
from basinside.engine.timing.predict import heads_of
from basinside.engine.timing.window import Landing

LIFTED_10 = Hair(level=10)
PORTIONS = {1: ((0, 12),), 2: ((0, 6), (1, 6)), 3: ((0, 4), (1, 4), (2, 4))}


def standing(
    tubes: int,
    best: tuple[float, float],
    late: tuple[float, float] | None = None,
    product_class: str = "neutral_demi",
    hair: Hair = LIFTED_10,
    minute: int = 10,
) -> Standing:
    """Return a real mix of so many tubes.

    What is expected and the chance are given at its best minute and three minutes late.
    """
    made = [
        msgspec.structs.replace(
            product(f"d{i}", product_class, Dyes(violet=0.1 + i / 100), "natural"),
            window=MinuteSpan(5, 45),
        )
        for i in range(3)
    ]
    heads = heads_of(hair, {p.id: p for p in made})
    late = late or (best[0] + 0.2, best[1])
    return Standing(
        line_ups(made, Limits())[0],
        PORTIONS[tubes],
        Question([(1.0, heads)], (75.0, 2.0, 8.0), 3.0),
        {
            minute: Landing(minute, *best),
            minute + 3: Landing(minute + 3, *late),
        },
        minute,
    )


@pytest.mark.parametrize(("left", "leads"), [(0.19, "three tubes"), (0.21, "one tube")])
def test_a_mix_that_cannot_wait_does_not_lead_for_fewer_tubes(left: float, leads: str) -> None:
    """Half of 0.40 must be left three minutes late."""
    one = standing(1, (2.0, 0.40), late=(4.0, left))
    three = standing(3, (2.1, 0.40), late=(2.3, 0.38))
    assert in_order([one, three])[0] is {"one tube": one, "three tubes": three}[leads]


def test_of_mixes_alike_in_all_else_the_one_that_loses_least_when_late_leads() -> None:
    sharp = standing(2, (2.00, 0.40), late=(2.9, 0.30))
    broad = standing(2, (2.05, 0.39), late=(2.4, 0.36))
    assert in_order([sharp, broad])[0] is broad


def test_hundredths_do_not_turn_the_lead() -> None:
    for off in (-0.03, 0.03):
        sharp = standing(2, (2.05, 0.40), late=(2.9, 0.30))
        broad = standing(2, (2.05 + off, 0.39), late=(2.4, 0.36))
        assert in_order([sharp, broad])[0] is broad


@pytest.mark.parametrize(("further", "leads"), [(0.29, "one tube"), (0.31, "three tubes")])
def test_what_a_gentler_class_is_worth_buys_it_no_tube_fewer(further: float, leads: str) -> None:
    """An acid demi may lie 0.8 further off than a permanent, but not 0.31 than its own best."""
    permanent = standing(1, (2.0, 0.40), product_class="permanent")
    three = standing(3, (2.3, 0.38), product_class="acid_demi")
    one = standing(1, (2.3 + further, 0.36), product_class="acid_demi")
    leader = in_order([permanent, three, one])[0]
    assert leader is {"one tube": one, "three tubes": three}[leads]


def test_a_chance_lower_by_a_tenth_than_its_own_classs_best_does_not_lead() -> None:
    permanent = standing(1, (2.0, 0.30), product_class="permanent")
    three = standing(3, (2.3, 0.38), product_class="acid_demi")
    for chance, leads in ((0.27, three), (0.29, None)):
        one = standing(1, (2.4, chance), product_class="acid_demi")
        assert in_order([permanent, three, one])[0] is (leads or one)


# On the demo shelf. Before a class's own best counted, an acid demi with a window of two minutes
# led 9½ beige, by one tube fewer than another that is open for thirteen.
LIFTED = [(10, "pearl"), (9.5, "beige"), (9, "pearl"), (9, "ash"), (10, "beige")]


def minutes_open(formula: Json) -> int:
    window = formula["window"]
    return window["latest"] - window["earliest"] + 1 if "best" in window else 0


@pytest.mark.parametrize(("level", "tone"), LIFTED)
def test_the_leader_is_at_its_best_minute_and_open_for_five(level: float, tone: str) -> None:
    reply = formulated({"level": level}, {"level": level, "tone": [tone]}, demo_shelf(), count=10)
    leader, *others = reply["formulas"]
    assert leader["mix"]["minutes"] == leader["window"]["best"]
    assert minutes_open(leader) >= 5
    for other in others:
        closer = other["expected_delta_e"] <= leader["expected_delta_e"]
        if other["class"] == leader["class"] and closer and other["chance"] >= leader["chance"]:
            assert minutes_open(other) < 2 * minutes_open(leader)
