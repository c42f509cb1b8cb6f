"""What to do before any mix, what would help, and when no mix is an answer.

The order of the ways on (wash, take the colour off, lift last) is common practice, no published
source.
"""

from itertools import product

import pytest
from asking import Json, asked, demo_shelf, formulated
from drawing import seeds

SHELF = demo_shelf()
BY_ID = {product["id"]: product for product in SHELF}
BEIGE = {"level": 10, "tone": ["beige"]}


def worn(product_id: str, minutes: int, **hair: object) -> Json:
    mix = {"parts": [{"product": product_id, "grams": 60}], "minutes": minutes}
    return {"level": 10, "already_on": [mix], **hair}


def test_an_over_toned_blonde_is_washed_before_anything_else() -> None:
    shortfall = formulated(worn("st9v", 20), BEIGE, SHELF)["shortfall"]
    assert shortfall["first"] == "wash"
    assert "clarifying shampoo" in shortfall["words"]
    assert "look again" in shortfall["words"]
    assert "lift" not in shortfall["words"].lower()
    assert "lift_first" not in shortfall


def test_a_deep_colour_is_taken_off_before_any_talk_of_lifting() -> None:
    shortfall = formulated(worn("co7b", 30), {"level": 10, "tone": ["pearl"]}, SHELF)["shortfall"]
    assert shortfall["first"] == "remove"
    assert shortfall["words"].count("Take the colour off first, and look again.") == 1
    assert "lift_first" not in shortfall


def test_hair_too_deep_for_the_wish_is_lifted_first() -> None:
    shortfall = formulated({"level": 5, "lifted": False}, {"level": 9, "tone": ["beige"]}, SHELF)
    assert shortfall["shortfall"]["first"] == "lift"
    assert shortfall["shortfall"]["lift_first"] >= 8.5


# Common practice, no published source: ash lies on pale yellow, whatever depth is wished for.
@pytest.mark.parametrize(("level", "warmth", "ash", "needs"), [(8, 1.55, 8, "9"), (7, 1, 7, "9")])
def test_hair_too_warm_for_ash_is_told_the_level_that_ash_needs(
    level: float, warmth: float, ash: float, needs: str
) -> None:
    wish = {"level": ash, "tone": ["ash"]}
    shortfall = formulated({"level": level, "warmth": warmth}, wish, SHELF)["shortfall"]
    assert shortfall["first"] == "lift"
    assert f"It is still warm. Ash needs level {needs}: lift first" in shortfall["words"]


VIVID = list(product([7, 8, 9, 10], ["red", "copper", "rose", "violet"]))


@pytest.mark.parametrize(("level", "tone"), [VIVID[place] for place in seeds(len(VIVID))])
def test_a_vivid_wish_at_the_hairs_own_level_never_asks_for_lift(level: int, tone: str) -> None:
    reply = formulated({"level": level}, {"level": level, "tone": [tone]}, SHELF)
    if reply["shortfall"]:
        assert reply["shortfall"]["first"] == "nothing"
        assert "ift first" not in reply["shortfall"]["words"]


BEFORE_ANYTHING = {"minutes": [0]}


def bare(hair: Json) -> list[float]:
    """Return the dry colour of hair as it is, asked of a strip at minute 0."""
    mix = {"parts": [{"product": "st0", "grams": 60}], "minutes": 5}
    body = {"hair": hair, "mix": mix, "products": SHELF, **BEFORE_ANYTHING}
    return asked("predictions", body)["strip"][0]["if_rinsed"]["lab"]


@pytest.mark.parametrize("hair", [{"level": 9.5}, {"level": 5, "lifted": False}])
def test_hair_that_has_the_colour_already_is_left_alone(hair: Json) -> None:
    lightness, a, b = bare(hair)
    reply = formulated(hair, {"lab": [lightness + 0.5, a, b]}, SHELF)
    assert 0 < reply["already"]["delta_e"] <= 1
    assert reply["formulas"] == []
    assert reply["shortfall"] is None
    assert reply["already"]["words"].startswith("It is there already")
    assert "already" not in formulated(hair, {"lab": [lightness + 3, a, b]}, SHELF)


def test_white_hair_that_stands_apart_is_never_there_already() -> None:
    hair = {"level": 5, "lifted": False, "white_share": 0.4}
    assert "already" not in formulated(hair, {"lab": bare(hair)}, SHELF)


def test_no_mix_is_an_answer_that_fewer_than_one_head_in_ten_would_land_with() -> None:
    hair, wish = {"level": 5, "lifted": False}, {"level": 9, "tone": ["beige"]}
    reply = formulated(hair, wish, SHELF)
    assert reply["formulas"] == []
    assert reply["closest_delta_e"] == reply["shortfall"]["delta_e"]
    asked_for = formulated(hair, wish, SHELF, unlikely=True)["formulas"]
    assert asked_for
    assert all(formula["chance"] < 0.1 for formula in asked_for)


def test_a_mix_that_one_head_in_ten_would_land_with_is_an_answer_though_it_is_off() -> None:
    hair = {
        "level": 9,
        "also": [{"hair": {"level": 9, "porosity": 0.95}, "share": 0.3, "name": "ends"}],
    }
    few = [BY_ID["ql8v"], BY_ID["ql0"]]
    reply = formulated(hair, {"level": 9, "tone": ["pearl"], "tolerance": 3}, few)
    assert reply["shortfall"] is not None
    assert reply["formulas"]
    assert all(formula["chance"] >= 0.1 for formula in reply["formulas"])


PALE = list(product([8, 9, 10], ["natural", "ash", "pearl", "silver", "violet", "gold", "copper"]))


@pytest.mark.parametrize(("level", "tone"), [PALE[place] for place in seeds(len(PALE))])
def test_what_would_help_is_near_the_wish_and_on_no_shelf_yet(level: int, tone: str) -> None:
    ends = {"hair": {"level": level - 0.5, "porosity": 0.9}, "share": 0.25, "name": "ends"}
    for also in ([], [ends]):
        hair = {"level": level, "also": also}
        shortfall = formulated(hair, {"level": level, "tone": [tone]}, SHELF)["shortfall"]
        if shortfall is None or "would_help" not in shortfall:
            continue
        helping = shortfall["would_help"]
        assert abs(helping["level"] - level) <= 0.5
        assert shortfall["delta_e"] - helping["delta_e"] >= 0.5
        owned = [p for p in SHELF if p["class"] == helping["class"]]
        assert (helping["level"], helping["tone"]) not in [(p["level"], p["tone"]) for p in owned]
        said = helping["class"].replace("_", " ")
        assert f"{'An' if said[0] in 'aeiou' else 'A'} {said}, level" in shortfall["words"]


def test_what_would_help_comes_as_close_as_it_says_once_it_is_bought() -> None:
    hair, wish = {"level": 7}, {"level": 7, "tone": ["red"]}
    shortfall = formulated(hair, wish, SHELF)["shortfall"]
    helping = shortfall["would_help"]
    bought = {
        **next(p for p in SHELF if p["class"] == helping["class"]),
        "id": "bought",
        "level": helping["level"],
        "tone": helping["tone"],
    }
    again = formulated(hair, wish, [*SHELF, bought])
    assert again["closest_delta_e"] <= helping["delta_e"] + 0.3
