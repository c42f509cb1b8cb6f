"""Developer is a choice: every strength leaflets allow is weighed, the lowest that does it leads.

That permanents cover white hair at 6 % or more and for their whole time, and that demis and
fashion shades blend it, is common practice, no published source.
"""

import pytest
from asking import Json, formulated

SHADES = {
    "natural": (3, 4, 5, 6, 7, 8, 9),
    "ash": (6, 7, 8),
    "gold": (5, 6, 7),
    "red": (5, 6),
    "copper": (5, 7),
}
LEAFLET = [3, 6, 9, 12]


def permanents(allowed: list[float] = LEAFLET, last_minute: int = 45) -> list[Json]:
    return [
        {
            "id": f"{tone}{level}",
            "name": f"{level} {tone}",
            "line": "Tern",
            "class": "permanent",
            "level": level,
            "tone": [tone],
            "developer_percent": allowed,
            "window": {"min": 5, "max": last_minute},
        }
        for tone, levels in {**SHADES, "clear": (10,)}.items()
        for level in levels
    ]


DEMIS = [
    {
        **tube,
        "id": f"demi-{tube['id']}",
        "line": "Wade",
        "class": "neutral_demi",
        "developer_percent": [1.9],
        "window": {"min": 5, "max": 20},
    }
    for tube in permanents()
]
NATURAL_5 = {"level": 5, "lifted": False}


@pytest.mark.parametrize(("level", "tone"), [(6, "gold"), (7, "natural"), (8, "natural")])
def test_the_lowest_strength_that_does_it_leads(level: int, tone: str) -> None:
    wish = {"level": level, "tone": [tone]}
    leader = formulated(NATURAL_5, wish, permanents())["formulas"][0]
    alone = {}
    for percent in LEAFLET:
        formulas = formulated(NATURAL_5, wish, permanents(), developer_percent=percent)["formulas"]
        assert all(f["mix"]["developer"]["percent"] == percent for f in formulas)
        if formulas:
            alone[percent] = min(f["expected_delta_e"] for f in formulas)
    chosen = leader["mix"]["developer"]["percent"]
    closest = min(alone.values())
    assert leader["expected_delta_e"] <= closest + 0.8
    if chosen <= 9:
        assert leader["expected_delta_e"] <= min(v for p, v in alone.items() if p <= 9) + 0.3 + 0.07
    # nothing weaker comes as near as makes no difference; 0.07 is what other strengths may cost
    for percent, expected in alone.items():
        if percent < chosen:
            assert expected > closest + 0.3 - 0.07


def test_a_strength_no_leaflet_allows_is_never_mixed() -> None:
    wish = {"level": 7, "tone": ["natural"]}
    reply = formulated(NATURAL_5, wish, permanents([3, 6]), developer_percent=9)
    assert reply["formulas"] == []
    assert "Nothing on this shelf can be used" in reply["shortfall"]["words"]
    for formula in formulated(NATURAL_5, wish, permanents([3, 6]), unlikely=True)["formulas"]:
        assert formula["mix"]["developer"]["percent"] in (3, 6)


def test_a_card_says_what_a_stronger_developer_adds_and_costs() -> None:
    wish = {"level": 6, "tone": ["gold"]}
    formula = formulated(NATURAL_5, wish, permanents(), developer_percent=6)["formulas"][0]
    stronger = formula["stronger"]
    assert stronger["percent"] == 9
    assert 0.5 <= stronger["more_levels"] <= 1.5  # the trade: 9 % lifts about a level more
    assert "harder on skin and hair" in stronger["words"]
    assert any(stronger["words"] in reason for reason in formula["reasons"])
    strongest = formulated(NATURAL_5, wish, permanents(), developer_percent=12)["formulas"]
    assert all("stronger" not in f for f in strongest)


@pytest.mark.parametrize("white_share", [0.4, 0.8])
@pytest.mark.parametrize("level", [4, 5, 6, 7])
def test_white_hair_is_covered_at_a_strength_and_for_minutes_that_cover(
    level: int, white_share: float
) -> None:
    hair = {"level": level, "lifted": False, "white_share": white_share}
    formulas = formulated(hair, {"level": level, "tone": ["natural"]}, permanents())["formulas"]
    assert formulas[0]["coverage"] == "covered"
    for formula in formulas:
        assert formula["mix"]["developer"]["percent"] >= 6
        assert formula["mix"]["minutes"] >= 30
        assert any(reason.startswith("White hair: ") for reason in formula["reasons"])
        if formula["window"].get("earliest"):
            assert formula["window"]["earliest"] >= 30


def test_a_leaflet_that_ends_sooner_is_never_overrun_for_white_hair() -> None:
    hair = {"level": 5, "lifted": False, "white_share": 0.5}
    wish = {"level": 5, "tone": ["natural"]}
    formulas = formulated(hair, wish, permanents(last_minute=25), unlikely=True)["formulas"]
    assert {formula["mix"]["minutes"] for formula in formulas} == {25}


@pytest.mark.parametrize("tone", ["red", "copper"])
def test_fashion_shades_and_demis_never_promise_full_cover(tone: str) -> None:
    hair = {"level": 6, "lifted": False, "white_share": 0.5}
    wish = {"level": 6, "tone": [tone], "tolerance": 10}
    shelf = [*permanents(), *DEMIS]
    by_id = {product["id"]: product for product in shelf}
    for formula in formulated(hair, wish, shelf, unlikely=True)["formulas"]:
        dyed = [p for p in formula["mix"]["parts"] if by_id[p["product"]]["tone"] != ["clear"]]
        natural = sum(p["grams"] for p in dyed if "natural" in by_id[p["product"]]["tone"])
        if formula["class"] != "permanent" or natural < sum(p["grams"] for p in dyed) / 2:
            assert formula["coverage"] in ("blended", "seen")


def test_hair_without_white_says_nothing_of_cover() -> None:
    wish = {"level": 6, "tone": ["gold"]}
    assert all("coverage" not in f for f in formulated(NATURAL_5, wish, permanents())["formulas"])
