"""How a mix is weighed: mass balance, the scale's step, the stock, and how much is needed."""

import json
import random
from fractions import Fraction
from math import isclose

import pytest
from asking import asked, described

from basinside.engine.colour.difference import delta_e_2000
from basinside.engine.door import answer

MIXES, SEED = 1000, 6
NEARLY = 1e-6  # g: what binary fractions leave


def faults(body):
    """Return what a refusal says, place by place."""
    reply = answer("mixes", json.dumps(body).encode())
    assert reply.status == 422, reply.body.decode()
    return json.loads(reply.body)["errors"]


def refused(body):
    """Return the sentences of a refusal by their places."""
    return {fault["pointer"]: fault["message"] for fault in faults(body)}


def bowl(parts=((40, {}),), percent=3.0, developer_g=40.0, **question):
    """Return a mix of some permanent products, each by its grams and what is changed of it."""
    products = [
        described("permanent", **{"id": f"p{i}", "developer_percent": [1.9, 3, 6]} | changed)
        for i, (_, changed) in enumerate(parts)
    ]
    mix = {
        "parts": [{"product": f"p{i}", "grams": grams} for i, (grams, _) in enumerate(parts)],
        "developer": {"percent": percent, "grams": developer_g},
        "minutes": 20,
    }
    return {"mix": mix, "products": products, **question}


def drawn(rng):
    """Return a mix with a developer that has to be thinned, its strengths as exact fractions."""
    weak, strong = sorted(rng.sample(range(121), 2))
    wanted = Fraction(rng.randint(weak + 1, strong) if strong > weak + 1 else strong, 10)
    parts = [(round(rng.uniform(1, 90), 2), {}) for _ in range(rng.randint(1, 8))]
    step_g = rng.choice([0.01, 0.1, 0.2, 0.5, 1.0])
    body = bowl(
        parts,
        percent=float(wanted),
        developer_g=round(rng.uniform(5, 300), 2),
        developers_in_stock=[weak / 10, strong / 10],
        step_g=step_g,
    )
    return body, Fraction(weak, 10), Fraction(strong, 10), wanted


def test_a_thousand_mixes_balance_to_the_scales_step():
    rng = random.Random(SEED)
    for _ in range(MIXES):
        body, weak, strong, wanted = drawn(rng)
        reply = asked("mixes", body)
        step_g, mix, made = body["step_g"], body["mix"], reply["developer"]
        reading_g = 0.0
        for rung in reply["recipe"]:
            assert isclose(round(rung["grams"] / step_g) * step_g, rung["grams"], abs_tol=NEARLY)
            reading_g += rung["grams"]
            assert isclose(rung["reading_g"], reading_g, abs_tol=NEARLY)
            assert abs(rung["grams"] - rung["wanted_g"]) < step_g + NEARLY
        colour, poured = split(reply)
        for rung, part in zip(colour, mix["parts"], strict=True):
            assert rung["wanted_g"] == part["grams"]
            assert abs(rung["grams"] - part["grams"]) <= step_g / 2 + NEARLY
        # mass of mixture and of peroxide, from the two bottles to the bowl
        total_g = sum(rung["grams"] for rung in poured)
        peroxide_g = sum(rung["grams"] * rung["percent"] / 100 for rung in poured)
        assert isclose(total_g, made["grams"], abs_tol=NEARLY)
        assert abs(total_g - mix["developer"]["grams"]) < step_g + NEARLY
        assert isclose(made["percent"] * made["grams"] / 100, peroxide_g, abs_tol=NEARLY)
        # the strength within what one step of the stronger makes, and never above the wanted
        assert made["percent"] <= float(wanted) + NEARLY
        lost = float(wanted) * total_g - 100 * peroxide_g
        assert lost < float(strong - weak) * step_g + NEARLY
        wanted_g = [rung["wanted_g"] * rung["percent"] for rung in poured]
        if len(poured) == 2:
            exact = float(wanted) * mix["developer"]["grams"]
            assert isclose(sum(wanted_g), exact, rel_tol=1e-9)
        assert isclose(reply["total_g"], reading_g, abs_tol=NEARLY)
        in_bowl = 100 * peroxide_g / reply["total_g"]
        assert isclose(made["in_bowl_percent"], in_bowl, rel_tol=1e-6, abs_tol=1e-9)


def split(reply):
    colour = [rung for rung in reply["recipe"] if rung["pour"] == "colour"]
    return colour, reply["recipe"][len(colour) :]


def test_a_strength_that_is_in_stock_is_poured_as_it_is():
    made = asked("mixes", bowl(developers_in_stock=[1.9, 3, 6]))["developer"]
    assert made["from_stock"] == [{"percent": 3, "grams": 40}]


def test_without_a_stock_the_strength_wanted_is_taken_to_be_there():
    assert len(asked("mixes", bowl())["recipe"]) == 2


def test_of_many_strengths_the_nearest_two_are_mixed():
    made = asked("mixes", bowl(developers_in_stock=[0, 1.9, 6, 9, 12]))["developer"]
    assert [pour["percent"] for pour in made["from_stock"]] == [6, 1.9]


def test_six_per_cent_and_its_diluent_in_equal_parts_are_three_per_cent():
    reply = asked("mixes", bowl(developers_in_stock=[6, 0]))
    assert [(r["pour"], r["grams"], r["reading_g"]) for r in reply["recipe"]] == [
        ("colour", 40, 40),
        ("developer", 20, 60),
        ("diluent", 20, 80),
    ]
    assert (reply["developer"]["percent"], reply["developer"]["volumes"]) == (3, 10)
    assert "where the leaflet allows" in reply["developer"]["words"]


def test_equal_parts_of_colour_and_developer_halve_the_strength_in_the_bowl():
    # 1 part colour and 1 part 6 % make 3 %; 1 and 2 of 1.9 % make 1.27 %: by mass
    assert asked("mixes", bowl(percent=6))["developer"]["in_bowl_percent"] == 3
    thin = asked("mixes", bowl(percent=1.9, developer_g=80))["developer"]
    assert round(thin["in_bowl_percent"], 2) == 1.27


@pytest.mark.parametrize(
    ("stock", "says"),
    [
        ([], "no developer in stock"),
        ([1.9], "never strengthened"),
        ([6, 9], "Thinning it takes a weaker"),
        ([{"percent": 3, "line": "Elsewhere"}], "no developer in stock goes with its line"),
        (
            [{"percent": 6, "line": "permanent"}, {"percent": 0, "line": "Elsewhere"}],
            "Thinning it takes a weaker",
        ),
    ],
)
def test_a_developer_that_cannot_be_made_is_refused_with_what_to_do(stock, says):
    (sentence,) = refused(bowl(developers_in_stock=stock)).values()
    assert "The mix wants 3 %" in sentence
    assert says in sentence


def test_a_strength_that_is_here_and_allowed_is_offered_for_one_that_is_not():
    sentence = refused(bowl(developers_in_stock=[1.9]))["/developers_in_stock"]
    assert "The leaflet also allows 1.9 %, which is here" in sentence


@pytest.mark.parametrize(
    ("stock", "instead"),
    [
        ([1.9], [1.9]),
        ([9, 6], [6]),
        # Of one line: offered in that line's bowl, and in no other.
        ([{"percent": 6, "line": "permanent"}], [6]),
        ([{"percent": 1.9, "line": "Elsewhere"}, 6], [6]),
        ([{"percent": 1.9, "line": "Elsewhere"}], None),
        ([9, 12], None),
        ([], None),
    ],
)
def test_a_refusal_carries_each_strength_that_would_serve(stock, instead):
    (fault,) = faults(bowl(developers_in_stock=stock))
    assert fault.get("instead_percent") == instead


def test_a_product_that_takes_no_developer_does_not_speak_against_a_strength():
    drops = {"mix_ratio": 0, "developer_percent": []}
    (fault,) = faults(bowl([(40, {}), (4, drops)], developers_in_stock=[6]))
    assert fault["instead_percent"] == [6]


def test_developers_of_two_lines_are_not_poured_together():
    both = [{"line": "permanent"}, {"line": "Elsewhere", "may_mix_with": ["permanent"]}]
    both[0]["may_mix_with"] = ["Elsewhere"]
    stock = [{"percent": 6, "line": "permanent"}, {"percent": 1.9, "line": "Elsewhere"}]
    body = bowl([(20, both[0]), (20, both[1])], developers_in_stock=stock)
    assert "different lines" in refused(body)["/developers_in_stock"]
    stock[1]["line"] = "permanent"
    assert len(asked("mixes", body)["developer"]["from_stock"]) == 2


def test_colour_that_takes_no_developer_gets_none():
    mask = described("direct", id="mask")
    mix = {"parts": [{"product": "mask", "grams": 30}], "minutes": 5}
    reply = asked("mixes", {"mix": mix, "products": [mask], "developers_in_stock": []})
    assert reply["developer"] is None
    assert [rung["reading_g"] for rung in reply["recipe"]] == [30]


def test_parts_are_brought_to_the_total_with_the_usual_developer():
    body = bowl([(1, {"mix_ratio": 2}), (2, {"mix_ratio": 2})])
    mix = body.pop("mix")
    reply = asked("mixes", body | {"parts": mix["parts"], "total_g": 60, "minutes": 20})
    assert [rung["reading_g"] for rung in reply["recipe"]] == [20, 60, 180]
    assert reply["developer"]["percent"] == 1.9  # the lowest that all allow
    assert reply["mix"]["minutes"] == 20


def test_a_mix_is_brought_to_another_total_in_the_same_ratio():
    reply = asked("mixes", bowl([(10, {}), (30, {})], developer_g=60, total_g=20))
    assert [rung["grams"] for rung in reply["recipe"]] == [5, 15, 30]


def test_the_cost_is_of_all_that_has_a_price_and_unknown_while_a_colour_has_none():
    stock = [{"percent": 3, "price_per_100g": 2}]
    priced = bowl([(40, {"price_per_100g": 10})], developers_in_stock=stock)
    assert asked("mixes", priced)["cost"] == 4.8
    assert asked("mixes", bowl([(40, {"price_per_100g": 10}), (5, {})]))["cost"] is None


def test_the_shortest_leaflet_says_how_long_the_mix_may_be_used():
    both = bowl([(20, {"use_within_min": 45}), (20, {"use_within_min": 30})])
    assert asked("mixes", both)["use_within"]["minutes"] == 30
    del both["products"][0]["use_within_min"]
    silent = asked("mixes", both)["use_within"]
    assert "minutes" not in silent
    assert "leaflet" in silent["words"]


def test_rounding_shows_in_colour_as_two_predictions_do():
    hair = {"level": 10}
    violet, clear = {"tone": ["violet"]}, {"tone": ["clear"]}
    body = bowl([(7.4, violet), (32.6, clear)], step_g=5.0, hair=hair)
    reply = asked("mixes", body)

    def dry(mix):
        question = {"hair": hair, "mix": mix, "products": body["products"], "minutes": [20]}
        return tuple(asked("predictions", question)["strip"][0]["if_rinsed"]["lab"])

    moved = delta_e_2000(dry(body["mix"]), dry(reply["mix"]))
    assert moved > 0.5
    assert isclose(reply["rounding"]["delta_e"], moved, abs_tol=1e-9)
    assert asked("mixes", body | {"step_g": 0.1})["rounding"]["delta_e"] < 1e-9


def test_what_the_scale_cannot_show_is_refused():
    places = refused(bowl([(0.4, {}), (40, {})], step_g=1, developer_g=0.2))
    assert places.keys() == {"/mix/parts/0", "/mix/developer"}
    assert all("finer scale" in sentence for sentence in places.values())


@pytest.mark.parametrize(
    ("unit", "amounts"),
    [
        ("g", ["24 g", "48 g", "72 g"]),
        # 28.349523125 g, exact: international yard and pound agreement, 1959
        ("oz", ["0.85 oz", "1.69 oz", "2.54 oz"]),
        ("parts", ["1 part", "2 parts", "3 parts"]),
    ],
)
def test_amounts_are_said_in_the_unit_that_is_asked_for(unit, amounts):
    reply = asked("mixes", bowl([(24, {}), (48, {})], developer_g=72, unit=unit))
    assert [rung["words"] for rung in reply["recipe"]] == amounts
    if unit == "parts":
        assert reply["recipe"][1]["reading_words"] == "72 g"


def needed(**amount):
    return asked("mixes", bowl(hair_amount=amount))["suggested"]


def test_more_hair_needs_more():
    lengths = ["cropped", "short", "chin", "shoulder", "long", "very_long"]
    totals = [needed(length=length)["total_g"] for length in lengths]
    assert totals == sorted(set(totals))
    densities = [needed(density=density)["total_g"] for density in ("fine", "medium", "thick")]
    assert densities == sorted(set(densities))
    assert needed(share=0.5)["total_g"] == needed()["total_g"] / 2
    # sixty grams with as much developer to the shoulder: common practice, no published source
    assert (needed()["total_g"], needed()["mixed_g"]) == (60, 120)
    assert "common practice" in needed()["source"]


def test_what_was_left_over_goes_before_the_chart():
    def after(left_over):
        return needed(before={"left_over": left_over, "total_g": 40})["total_g"]

    # what was used, and a tenth to spare
    assert [after(left) for left in ("none", "a_little", "half")] == [44, 40, 22]
    assert needed(before={"left_over": "half"})["total_g"] < needed()["total_g"]


def test_parts_without_a_total_are_brought_to_what_the_hair_needs():
    body = bowl(hair_amount={"length": "long"})
    mix = body.pop("mix")
    reply = asked("mixes", body | {"parts": mix["parts"]})
    assert reply["recipe"][0]["grams"] == reply["suggested"]["total_g"] == 90
    assert reply["mix"] is None  # no minutes, no mix to predict


@pytest.mark.parametrize(
    ("bend", "places"),
    [
        ({"mix": None}, {"/mix"}),
        ({"parts": [{"product": "p0", "grams": 1}]}, {"/parts"}),
        ({"minutes": 5, "developer": {"percent": 3, "grams": 1}}, {"/minutes", "/developer"}),
        ({"mix": None, "parts": [{"product": "p0", "grams": 1}]}, {"/total_g"}),
        (
            {"mix": None, "parts": [{"product": "no", "grams": 1}], "total_g": 5},
            {"/parts/0/product"},
        ),
    ],
)
def test_a_question_without_one_mix_is_refused_at_its_place(bend, places):
    assert refused(bowl() | bend).keys() == places
