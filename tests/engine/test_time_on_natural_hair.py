"""A permanent keeps its time on natural hair; what covers white hair is another matter.

Leaflets give it 30 to 45 minutes there, and nobody rinses in a third of that. Common practice, no
published source. The 20 minutes are the engine's stated rule.
"""

from typing import Any

import msgspec
import pytest
from asking import Json, asked, described, formulated

from basinside.contract.formulations import Limits
from basinside.contract.hair import Hair
from basinside.contract.products import Product
from basinside.engine.formulation.lineups import hair_asked, line_ups
from basinside.engine.timing.predict import heads_of

LEAST_MIN = 20
NATURAL, WHITE = {"level": 5, "lifted": False}, {"level": 5, "lifted": False, "white_share": 0.5}
LIFTED = {"level": 9.5}


def shelf(**changed: Any) -> list[Json]:
    """Return strong reds and a natural: on natural hair so little of the time would do."""
    tubes = {"4 red": (4, "red"), "6 red": (6, "red"), "5 natural": (5, "natural")}
    given = {"window": {"min": 5, "max": 45}, "developer_percent": [3, 6], **changed}
    return [
        *(
            described(
                "permanent", id=name.replace(" ", "-"), name=name, level=level, tone=[tone], **given
            )
            for name, (level, tone) in tubes.items()
        ),
        described("permanent", id="clear", name="clear", level=10, tone=["clear"], **given),
    ]


def cards(hair: Json, level: float, tubes: list[Json], **limits: Any) -> list[Json]:
    wish = {"level": level, "tone": ["red"]}
    return formulated(hair, wish, tubes, count=10, unlikely=True, **limits)["formulas"]


def rinsed_at(hair: Json, level: float, tubes: list[Json], **limits: Any) -> set[int]:
    """Return the minutes of every mix shown, and where each window opens and ends."""
    shown = cards(hair, level, tubes, **limits)
    assert shown
    windows = (card["window"] for card in shown)
    opens = {w[end] for w in windows if "best" in w for end in ("earliest", "latest")}
    return opens | {card["mix"]["minutes"] for card in shown}


def test_no_permanent_is_rinsed_off_natural_hair_before_its_time() -> None:
    assert min(rinsed_at(NATURAL, 4, shelf())) >= LEAST_MIN


def test_on_lifted_hair_it_may_be_rinsed_at_any_minute_of_the_leaflet() -> None:
    assert min(rinsed_at(LIFTED, 9.5, shelf())) < LEAST_MIN


def test_a_leaflet_that_ends_before_says_otherwise() -> None:
    assert rinsed_at(NATURAL, 4, shelf(window={"min": 5, "max": 15})) == {15}


def test_who_has_fewer_minutes_gets_all_of_those() -> None:
    assert rinsed_at(NATURAL, 4, shelf(), max_minutes=12) == {12}


def test_natural_ends_under_a_lifted_head_keep_their_time_too() -> None:
    ends = [{"name": "ends", "hair": NATURAL, "share": 0.3}]
    assert min(rinsed_at({**LIFTED, "also": ends}, 9.5, shelf())) >= LEAST_MIN


@pytest.mark.parametrize(("hair", "opens"), [(NATURAL, LEAST_MIN), (WHITE, 30), (LIFTED, 5)])
def test_the_strip_opens_its_window_at_the_same_minute(hair: Json, opens: int) -> None:
    """However far a mix may be off: the wish is what the strip itself shows at the fifth minute."""
    mix = {"parts": [{"product": "4-red", "grams": 60}], "minutes": 30}
    body = {"hair": hair, "mix": mix, "products": shelf(), "minutes": [5]}
    early = asked("predictions", body)["strip"][0]["if_rinsed"]["lab"]
    wish = {"lab": early, "tolerance": 10}
    window = asked("predictions", {**body, "wish": wish})["window"]
    assert window.get("earliest", opens) == opens
    assert "best" in window or hair is WHITE


@pytest.mark.parametrize(
    ("hair", "first_minute", "covers"), [(NATURAL, LEAST_MIN, False), (WHITE, 30, True)]
)
def test_what_needs_its_time_is_not_therefore_searched_for_cover(
    hair: Json, first_minute: int, covers: bool
) -> None:
    tubes = msgspec.convert(shelf(), list[Product])
    heads = heads_of(msgspec.convert(hair, Hair), {})
    for line_up in line_ups(tubes, Limits(), hair_asked([heads.centre])):
        assert (line_up.first_minute, line_up.covers_white) == (first_minute, covers)
