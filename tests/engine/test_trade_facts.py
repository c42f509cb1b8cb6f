"""Facts of the trade, asked through the engine's door.

Every fact here is common practice, no published source, unless its test says otherwise. The
mix is the everyday one: violet 0.30 and blue 0.30 (K/S at the peak), a neutral demi's light
cream unless said.
"""

import json
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest

from basinside.engine.colour.difference import delta_e_2000
from basinside.engine.door import answer
from basinside.engine.hair.levels import bare_depth, untoned

ROOT = Path(__file__).resolve().parents[2]
OXIDATION = ["alkaline_demi", "neutral_demi", "acid_demi", "permanent"]
VIOLET_BLUE = {"violet": 0.3, "blue": 0.3}
FULL_MIN = 20


def product(product_id: str, product_class: str, dyes: dict, consistency: str | None) -> dict:
    return {
        "id": product_id,
        "name": product_id,
        "line": product_class,
        "class": product_class,
        "level": 10,
        "tone": ["natural"],
        "dyes": dyes,
        "window": {"min": 1, "max": 30},
        "developer_percent": [] if product_class == "direct" else [1.9],
        "consistency": consistency,
    }


def ask(question: str, body: dict) -> dict:
    reply = answer(question, json.dumps(body).encode())
    assert reply.status == 200, reply.body
    return json.loads(reply.body)


@cache
def strip(
    level: float,
    product_class: str = "neutral_demi",
    dyes: tuple = tuple(VIOLET_BLUE.items()),
    porosity: float = 0.5,
    shampoo: float = 0.0,
    consistency: str | None = None,
) -> list[dict]:
    """Return the minutes 0–20 of a mix, put on dry so as to agree with the sketches of the model.

    `shampoo` is the amount of ready-made violet that a direct dye left before.
    """
    hair: dict = {"level": level, "porosity": porosity, "damp": 0}
    products = [product("mix", product_class, dict(dyes), consistency)]
    if shampoo:
        products.append(product("shampoo", "direct", {"blue_violet_direct": shampoo}, None))
        hair["already_on"] = [{"parts": [{"product": "shampoo", "grams": 20}], "minutes": 20}]
    body = {
        "hair": hair,
        "mix": {"parts": [{"product": "mix", "grams": 40}], "minutes": FULL_MIN},
        "products": products,
        "minutes": list(range(FULL_MIN + 1)),
    }
    return ask("predictions", body)["strip"]


def a_of(minutes: list[dict], look: str) -> list[float]:
    return [minute[look]["lab"][1] for minute in minutes]


def lab(minutes: list[dict], minute: int, look: str) -> tuple:
    return tuple(minutes[minute][look]["lab"])


# --- (a) the pink flush -------------------------------------------------------------------------


@pytest.mark.parametrize("product_class", OXIDATION)
@pytest.mark.parametrize("look", ["on_head", "wiped"])
def test_violet_on_palest_hair_flushes_pink_before_it_settles(
    product_class: str, look: str
) -> None:
    redness = a_of(strip(10.5, product_class), look)
    peak = max(range(len(redness)), key=redness.__getitem__)
    assert 3 <= peak <= 8
    start, top, settled = redness[0], redness[peak], redness[FULL_MIN]
    assert top > start
    # more than 40 % of the peak is gone by full time
    assert settled < 0.6 * top


@pytest.mark.parametrize("look", ["on_head", "wiped"])
def test_the_flush_is_said_in_words_while_it_lasts(look: str) -> None:
    minutes = strip(10.5)
    assert "flushed" in minutes[5][look]["words"]
    assert "flushed" not in minutes[0][look]["words"]
    assert "flushed" not in minutes[FULL_MIN][look]["words"]


# --- (b) violet shampoo first -------------------------------------------------------------------


def test_violet_shampoo_first_makes_the_flush_weaker() -> None:
    peaks = [max(a_of(strip(10.5, shampoo=amount), "wiped")) for amount in (0.0, 0.05, 0.12)]
    assert peaks[0] > peaks[1] > peaks[2]


# --- (c) rinsed early ---------------------------------------------------------------------------


@pytest.mark.parametrize("product_class", OXIDATION)
@pytest.mark.parametrize("level", [9, 10, 10.5])
def test_rinsed_at_five_minutes_under_two_fifths_of_the_change_is_there(
    product_class: str, level: float
) -> None:
    minutes = strip(level, product_class)
    bare, early, full = (lab(minutes, t, "if_rinsed") for t in (0, 5, FULL_MIN))
    assert delta_e_2000(bare, early) < 0.4 * delta_e_2000(bare, full)


# --- (d) too deep for it ------------------------------------------------------------------------


@pytest.mark.parametrize("product_class", ["alkaline_demi", "neutral_demi", "acid_demi"])
def test_on_level_eight_and_a_half_it_takes_yellow_but_stays_warm(product_class: str) -> None:
    minutes = strip(8.5, product_class)
    full = minutes[FULL_MIN]["if_rinsed"]
    assert full["lab"][2] < lab(minutes, 0, "if_rinsed")[2] - 3
    assert full["lab"][2] > 18
    assert not any(word in full["words"] for word in ("silver", "ash", "violet", "neutral"))
    assert any(word in full["words"] for word in ("yellow", "gold", "copper", "beige", "orange"))


# --- (e) wet lies -------------------------------------------------------------------------------


@pytest.mark.parametrize("level", [9, 10, 10.5])
def test_hair_dries_two_to_three_levels_lighter_than_it_looks_rinsed_and_bunched(
    level: float,
) -> None:
    body = {
        "hair": {"level": level, "damp": 0},
        "mix": {"parts": [{"product": "mix", "grams": 40}], "minutes": FULL_MIN},
        "products": [product("mix", "neutral_demi", VIOLET_BLUE, None)],
        "minutes": [FULL_MIN],
        "look": {"bunched": 1},
    }
    (minute,) = ask("predictions", body)["strip"]
    wet, dry = (minute[look]["lab"][0] for look in ("wiped", "if_rinsed"))
    assert 2 <= bare_depth(dry) - bare_depth(wet) <= 3


# --- (f) which dye takes which warmth -----------------------------------------------------------


def test_violet_takes_more_yellow_than_blue_before_it_turns_green() -> None:
    bare = lab(strip(9), 0, "if_rinsed")

    def least_yellow(dye: str) -> float:
        """Return the lowest b* reached, over amounts, without going green."""
        amounts = [0.05 * k for k in range(1, 13)]
        ends = [lab(strip(9, dyes=((dye, amount),)), FULL_MIN, "if_rinsed") for amount in amounts]
        return min((end[2] for end in ends if end[1] >= 0), default=bare[2])

    assert least_yellow("violet") < least_yellow("blue")


@pytest.mark.parametrize("amount", [0.30, 0.40, 0.60])
def test_blue_on_yellow_goes_green(amount: float) -> None:
    assert lab(strip(9, dyes=(("blue", amount),)), FULL_MIN, "if_rinsed")[1] < 0


def test_blue_takes_more_of_orange_than_violet() -> None:
    def chroma(end: tuple) -> float:
        return (end[1] ** 2 + end[2] ** 2) ** 0.5

    blue, violet = (
        chroma(lab(strip(6, dyes=((dye, 0.6),)), FULL_MIN, "if_rinsed"))
        for dye in ("blue", "violet")
    )
    assert blue < violet < untoned(6)[1]


# --- (g) porous hair ----------------------------------------------------------------------------


@pytest.mark.parametrize("minute", [3, 5, 10, FULL_MIN])
def test_porous_hair_takes_more_and_sooner(minute: int) -> None:
    changes = [
        delta_e_2000(lab(m, 0, "if_rinsed"), lab(m, minute, "if_rinsed"))
        for m in (strip(10, porosity=p) for p in (0.2, 0.5, 0.8))
    ]
    assert changes == sorted(changes)
    # sooner: the share of full time's change is there earlier
    shares = [
        change / delta_e_2000(lab(m, 0, "if_rinsed"), lab(m, FULL_MIN, "if_rinsed"))
        for change, m in zip(changes, (strip(10, porosity=p) for p in (0.2, 0.5, 0.8)), strict=True)
    ]
    assert shares == sorted(shares)


# --- (h) ready-made violet ----------------------------------------------------------------------


@pytest.mark.parametrize("look", ["on_head", "wiped", "if_rinsed"])
@pytest.mark.parametrize("level", [9, 10, 10.5])
def test_ready_made_violet_never_flushes(look: str, level: float) -> None:
    minutes = strip(level, "direct", (("blue_violet_direct", 0.2),))
    redness = a_of(minutes, look)
    steps = [after - before for before, after in pairwise(redness)]
    rises = [k for k, step in enumerate(steps) if step > 1e-6]
    falls = [k for k, step in enumerate(steps) if step < -1e-6]
    assert not rises or not falls or min(rises) > max(falls), "it rises and then falls"
    assert all("flushed" not in minute[look]["words"] for minute in minutes)


# --- what lies on top ---------------------------------------------------------------------------


def test_gel_light_cream_and_cream_look_different_on_the_head_and_the_same_once_rinsed() -> None:
    strips = [strip(10, consistency=c) for c in ("gel", "light_cream", "cream")]
    for minute in (2, 5, 10, FULL_MIN):
        on_head = [lab(m, minute, "on_head") for m in strips]
        for i, j in ((0, 1), (1, 2), (0, 2)):
            assert delta_e_2000(on_head[i], on_head[j]) > 2
        for look in ("wiped", "if_rinsed"):
            assert len({lab(m, minute, look) for m in strips}) == 1


# --- the model's sketched figures, rounded, neutral demi as light cream -------------------------
# No outside source: they pin the model's own behaviour, which the facts above judge.


@pytest.mark.parametrize(
    ("level", "minute", "dry"),
    [
        (10.5, 0, (85, 1, 14)),
        (10.5, 5, (81, 2, 8)),
        (10.5, 10, (77, 2, 2)),
        (10.5, 20, (74, 1, -2)),
        (10, 20, (71, 0, 6)),
        (9, 20, (66, 1, 18)),
        (8.5, 20, (63, 3, 23)),
    ],
)
def test_the_everyday_mix_dries_as_the_model_was_sketched(
    level: float, minute: int, dry: tuple
) -> None:
    assert lab(strip(level), minute, "if_rinsed") == pytest.approx(dry, abs=1)


@pytest.mark.parametrize(
    ("minute", "wiped"), [(0, (68, 3, 20)), (5, (56, 9, 4)), (10, (52, 8, -1)), (20, (51, 3, -4))]
)
def test_the_everyday_mix_wiped_looks_as_the_model_was_sketched(minute: int, wiped: tuple) -> None:
    assert lab(strip(10.5), minute, "wiped") == pytest.approx(wiped, abs=1)


# --- wishes on the demo shelf -------------------------------------------------------------------


def demo_shelf() -> list[dict]:
    return json.loads((ROOT / "seed_demo" / "shelf.json").read_text())["products"]


@pytest.mark.parametrize(("level", "tone"), [(10, "natural"), (10, "beige"), (9, "beige")])
def test_the_everyday_wishes_are_met_from_the_demo_shelf(level: float, tone: str) -> None:
    body = {
        "hair": {"level": level},
        "wish": {"level": level, "tone": [tone]},
        "products": demo_shelf(),
    }
    reply = ask("formulations", body)
    assert reply["shortfall"] is None
    assert min(formula["delta_e"] for formula in reply["formulas"]) <= 3


@pytest.mark.parametrize(
    ("hair", "wish", "tone", "lift_to"),
    [(9, 10, "silver", 10), (8, 10, "beige", 9.5), (7, 10, "natural", 9.5)],
)
def test_a_wish_lighter_than_the_hair_says_lift_first_and_to_what_level(
    hair: float, wish: float, tone: str, lift_to: float
) -> None:
    body = {
        "hair": {"level": hair},
        "wish": {"level": wish, "tone": [tone]},
        "products": demo_shelf(),
    }
    shortfall = ask("formulations", body)["shortfall"]
    assert shortfall["lift_first"] >= lift_to
    assert shortfall["lift_first"] <= 10.5
    assert "Lift first" in shortfall["words"]
