"""400: the shape is wrong. The first place is named, and what to do about it.

The bounds are those of the contract as agreed; peroxide's upper bound is law:
Regulation (EC) No 1223/2009, Annex III, entry 12 (12 % hydrogen peroxide in hair products).
"""

import json

import pytest

# place, one step below, lowest, highest, one step above; None where that side is open
PREDICTION_BOUNDS = [
    ("/hair/level", 0.99, 1, 10.5, 10.51),
    ("/hair/warmth", 0.19, 0.2, 5, 5.01),
    ("/hair/porosity", -0.01, 0, 1, 1.01),
    ("/hair/damp", -0.01, 0, 1, 1.01),
    ("/hair/white_share", -0.01, 0, 1, 1.01),
    ("/hair/rate", 0.19, 0.2, 5, 5.01),
    ("/hair/uptake", 0.19, 0.2, 5, 5.01),
    ("/hair/sure/level_sd", -0.01, 0, None, None),
    ("/hair/sure/log_warmth_sd", -0.01, 0, None, None),
    ("/hair/sure/porosity_sd", -0.01, 0, None, None),
    ("/hair/sure/log_rate_sd", -0.01, 0, None, None),
    ("/hair/sure/log_uptake_sd", -0.01, 0, None, None),
    ("/products/0/level", 0.99, 1, 11, 11.01),
    ("/products/0/mix_ratio", -0.01, 0, 4, 4.01),
    ("/products/0/developer_percent/0", -0.01, 0, 12, 12.01),
    ("/products/0/dyes/violet", -0.01, 0, 5, 5.01),
    ("/products/0/dyes/blue_violet_direct", -0.01, 0, 5, 5.01),
    ("/products/0/window/min", -1, 0, None, None),
    ("/products/0/price_per_100g", -0.01, 0, None, None),
    ("/mix/minutes", -1, 0, 120, 121),
    ("/mix/parts/0/grams", 0, 0.01, None, None),
    ("/minutes/0", -1, 0, 120, 121),
    ("/look/bunched", -0.01, 0, 1, 1.01),
    ("/wish/tolerance", 0.49, 0.5, 10, 10.01),
]
FORMULATION_BOUNDS = [
    ("/limits/max_products", 0, 1, 3, 4),
    ("/limits/count", 0, 1, 10, 11),
    ("/limits/total_g", 0, 0.01, None, None),
    ("/limits/step_g", 0, 0.01, None, None),
    ("/limits/max_minutes", 0, 1, 120, 121),
]
MIX_BOUNDS = [
    ("/total_g", 0, 0.01, 2000, 2001),
    ("/step_g", 0.009, 0.01, 50, 51),
    ("/developers_in_stock/0", None, 0, 12, None),
    ("/hair_amount/share", 0, 0.01, 1, 1.01),
    ("/products/0/use_within_min", 0, 1, 1440, 1441),
]
SCHEDULE_BOUNDS = [
    ("/hands", 0, 1, 2, 3),
    ("/basin_minutes", -1, 0, 60, 61),
    ("/zones/0/apply_min", 0, 1, 120, 121),
    ("/zones/0/window/earliest", -1, 0, None, None),
    ("/zones/0/window/latest", None, None, 120, 121),
]
# place, most entries or characters, fewest; one more and one fewer are refused
LENGTHS = [
    ("predictions", "/products", 500, 1),
    ("predictions", "/minutes", 121, 1),
    ("predictions", "/mix/parts", 8, 1),
    ("predictions", "/products/0/tone", 2, 1),
    ("predictions", "/wish/tone", 2, 1),
    ("predictions", "/products/0/id", 64, 1),
]

RIGHT, WRONG = "within", "beyond"


def put(request, pointer, value):
    """Set the value at a JSON Pointer, making the objects on the way."""
    *steps, last = pointer.removeprefix("/").split("/")
    node = request
    for step in steps:
        node = node[int(step)] if isinstance(node, list) else node.setdefault(step, {})
    node[int(last) if isinstance(node, list) else last] = value


def ask(client, question, request):
    return client.post(f"/api/{question}", content=json.dumps(request))


def edges(table):
    return [
        pytest.param(pointer, value, side, id=f"{pointer} {value}")
        for pointer, below, lowest, highest, above in table
        for value, side in ((below, WRONG), (lowest, RIGHT), (highest, RIGHT), (above, WRONG))
        if value is not None
    ]


def check_edge(reply, pointer, value, side):
    if side is RIGHT:
        assert reply.status_code in (200, 422), reply.text
        return
    problem = reply.json()
    assert (reply.status_code, [e["pointer"] for e in problem["errors"]]) == (400, [pointer])
    sentence = problem["errors"][0]["message"]
    assert f"got {value}" in sentence
    assert "must be" in sentence


@pytest.mark.parametrize(("pointer", "value", "side"), edges(PREDICTION_BOUNDS))
def test_a_prediction_takes_the_bound_and_nothing_past_it(client, prediction, pointer, value, side):
    put(prediction, pointer, value)
    check_edge(ask(client, "predictions", prediction), pointer, value, side)


@pytest.mark.parametrize(("pointer", "value", "side"), edges(FORMULATION_BOUNDS))
def test_a_formulation_takes_the_bound_and_nothing_past_it(
    client, formulation, pointer, value, side
):
    put(formulation, pointer, value)
    check_edge(ask(client, "formulations", formulation), pointer, value, side)


@pytest.mark.parametrize(("pointer", "value", "side"), edges(MIX_BOUNDS))
def test_a_mix_to_weigh_takes_the_bound_and_nothing_past_it(
    client, prediction, pointer, value, side
):
    request = {key: prediction[key] for key in ("mix", "products")} | {"developers_in_stock": [6]}
    put(request, pointer, value)
    check_edge(ask(client, "mixes", request), pointer, value, side)


@pytest.mark.parametrize(("pointer", "value", "side"), edges(SCHEDULE_BOUNDS))
def test_a_schedule_takes_the_bound_and_nothing_past_it(client, pointer, value, side):
    window = {"earliest": 5, "best": 5, "latest": 20}
    request = {"zones": [{"name": "roots", "window": window, "apply_min": 10}]}
    put(request, pointer, value)
    check_edge(ask(client, "schedules", request), pointer, value, side)


def test_a_strength_in_stock_may_be_a_number_or_told_in_full(client, prediction):
    request = {key: prediction[key] for key in ("mix", "products")}
    for stock in ([1.9], [{"percent": 1.9, "name": "Still 1.9"}]):
        assert ask(client, "mixes", request | {"developers_in_stock": stock}).status_code == 200
    problem = ask(client, "mixes", request | {"developers_in_stock": ["6"]}).json()
    (error,) = problem["errors"]
    assert error["pointer"] == "/developers_in_stock/0"
    assert "a number from 0 to 12 % peroxide, or an object with percent" in error["message"]


def lengthened(value, length):
    """Return the value at another length: text repeated, a list of the same entry."""
    return (value * length)[:length] if length else type(value)()


@pytest.mark.parametrize(("question", "pointer", "most", "fewest"), LENGTHS)
def test_a_list_may_be_as_long_as_the_contract_says_and_no_longer(
    client, prediction, question, pointer, most, fewest
):
    *_, last = pointer.split("/")
    whole = {
        "products": prediction["products"],
        "minutes": [5],
        "parts": prediction["mix"]["parts"],
    }
    entry = {**whole, "tone": ["violet"], "id": "a"}[last]
    for length, right in ((fewest - 1, False), (fewest, True), (most, True), (most + 1, False)):
        put(prediction, pointer, lengthened(entry, length))
        reply = ask(client, question, prediction)
        assert (reply.status_code != 400) == right, (length, reply.text[:300])
        if not right:
            assert reply.json()["errors"][0]["pointer"] == pointer


def test_a_volume_entered_as_percent_is_recognised(client, formulation):
    # The trade's 10, 20, 30, 40 vol are 3, 6, 9, 12 %: common practice, no published source.
    for volume, percent in ((20, 6), (30, 9), (40, 12)):
        formulation["products"][0]["developer_percent"] = [volume]
        error = ask(client, "formulations", formulation).json()["errors"][0]
        assert error == {
            "pointer": "/products/0/developer_percent/0",
            "message": f"Developer must be at most 12 % peroxide; got {volume}."
            f" Did you enter the volume? {volume} vol is {percent} %.",
        }


@pytest.mark.parametrize(
    ("bend", "pointer", "sentence"),
    [
        (
            lambda asked: asked["hair"].update(warmt=1),
            "/hair/warmt",
            "There is no field `warmt` in hair. Did you mean `warmth`?",
        ),
        (
            lambda asked: asked.update({"q/~": 1}),
            "/q~1~0",
            "There is no field `q/~` in the body. It takes hair, wish, products, limits.",
        ),
        (
            lambda asked: asked.pop("wish"),
            "/wish",
            "`wish` is missing from the body. Add it: an object with any of"
            " lab, level, tone, tolerance.",
        ),
        (
            lambda asked: asked["products"][1].pop("class"),
            "/products/1/class",
            "`class` is missing from entry 2 of products. Add it: one of"
            " acid_demi, alkaline_demi, direct, neutral_demi, permanent.",
        ),
        (
            lambda asked: asked["products"][0].update({"class": "neutral_dem"}),
            "/products/0/class",
            "Class must be one of acid_demi, alkaline_demi, direct, neutral_demi, permanent;"
            ' got "neutral_dem". Did you mean neutral_demi?',
        ),
        (
            lambda asked: asked["products"][0].update(id="a b"),
            "/products/0/id",
            'Product id must be 1 to 64 of a-z A-Z 0-9 _ -; got "a b".',
        ),
        (
            lambda asked: asked["products"][0].update(id="ab\n"),
            "/products/0/id",
            'Product id must be 1 to 64 of a-z A-Z 0-9 _ -; got "ab\\n".',
        ),
        (
            lambda asked: asked["hair"].update(level="9"),
            "/hair/level",
            'Level must be a number from 1 to 10.5; got "9". Leave out the quotation marks.',
        ),
        (
            lambda asked: asked["limits"].update(count=2.5),
            "/limits/count",
            "Count must be a whole number from 1 to 10; got 2.5. How many formulas at most.",
        ),
        (
            lambda asked: asked.update(wish={"lab": [70, 1]}),
            "/wish/lab",
            "Lab must be a list of exactly 3 numbers; got a list of 2."
            " CIELAB [L*, a*, b*], D65 and the 10 degree observer.",
        ),
        (
            lambda asked: asked.update(wish={"lab": [70, 128, 1]}),
            "/wish/lab/1",
            "a* must be a number from -128 to 127; got 128. a*, green to red.",
        ),
        (
            lambda asked: asked["hair"].update(lifted=1),
            "/hair/lifted",
            "Lifted must be true or false; got 1. Pre-lightened (true) or natural hair.",
        ),
        (
            lambda asked: asked.update(products={}),
            "/products",
            "Products must be a list of 1 to 500 entries; got an object. Every product spoken of.",
        ),
    ],
)
def test_the_sentence_says_what_was_expected_what_came_and_what_to_do(
    client, formulation, bend, pointer, sentence
):
    bend(formulation)
    reply = ask(client, "formulations", formulation)
    problem = reply.json()
    assert reply.status_code == problem["status"] == 400
    assert reply.headers["content-type"] == "application/problem+json"
    assert problem["errors"] == [{"pointer": pointer, "message": sentence}]
    assert problem["detail"] == sentence


def test_only_the_first_of_two_wrong_places_is_named(client, formulation):
    formulation["hair"]["level"] = 11
    formulation["limits"]["count"] = 11
    errors = ask(client, "formulations", formulation).json()["errors"]
    assert [error["pointer"] for error in errors] == ["/hair/level"]


def test_a_whole_number_may_be_written_with_a_decimal_point(client, prediction):
    # JSON Schema 2020-12, Validation §6.1.1: 20.0 is an integer.
    plain = ask(client, "predictions", prediction)
    prediction["mix"]["minutes"] = float(prediction["mix"]["minutes"])
    prediction["minutes"] = [float(minute) for minute in prediction["minutes"]]
    pointed = ask(client, "predictions", prediction)
    assert pointed.status_code == 200
    assert pointed.content == plain.content


def test_past_a_pointed_whole_number_the_first_wrong_place_is_still_found(client, prediction):
    prediction["minutes"] = [5.0, 121.0]
    errors = ask(client, "predictions", prediction).json()["errors"]
    assert errors == [
        {
            "pointer": "/minutes/1",
            "message": "Entry 2 of minutes must be a whole number from 0 to 120 minutes; got 121.0."
            " Whole minutes since the clock started.",
        }
    ]
