"""It missed: the advised way on lands nearer, and leaving it is advised when nothing helps."""

import json

import pytest
from asking import asked, of_dyes, seen
from simulated import misses

from basinside.engine.door import answer
from basinside.engine.timing.washing import washed_out
from basinside.service.http.document import examples

REQUEST = next(iter(examples.MENDS.values()))
MISSES = 60
SURE = {
    "level_sd": 0.1,
    "log_warmth_sd": 0.1,
    "porosity_sd": 0.05,
    "log_rate_sd": 0.05,
    "log_uptake_sd": 0.05,
}


def mended(**changed):
    return asked("mends", REQUEST | changed)


def way(reply, do):
    return next(mend for mend in reply["mends"] if mend["do"] == do)


def worn(dyes, minutes=20, product_class="neutral_demi"):
    """Return a product and hair on which it was left so long."""
    product = of_dyes(product_class, **dyes)
    on = [{"parts": [{"product": product["id"], "grams": 30}], "minutes": minutes}]
    return product, {"level": 9.5, "sure": SURE, "already_on": on}


def test_the_advised_way_lands_nearer_in_nine_of_ten_misses():
    """Too warm, too dark, too violet, read by photo once dry; `make bench` does 200."""
    found = misses(MISSES, "photo")
    acted = [miss for miss in found if miss.advised != "leave"]
    nearer = [miss for miss in acted if miss.lands < miss.missed_by]
    assert len(acted) >= MISSES / 3
    assert len(nearer) >= 0.9 * len(acted)
    assert {miss.way for miss in found} == {"too_warm", "too_dark", "too_violet"}
    # and what was left alone was not worth touching: nothing offered would have gained 1.5 ΔE.
    # Measured: 28 of 36. With no doubt of labels and model it would be 36 of 37, so what is left
    # alone is the price of that doubt: a gain that may be none is not worth a second mix.
    left = [miss for miss in found if miss.advised == "leave"]
    spared = [miss for miss in left if miss.best_offered > miss.missed_by - 1.5]
    assert len(spared) >= 0.7 * len(left)


def test_leaving_it_and_one_wash_are_always_among_the_ways():
    reply = mended()
    assert [mend["do"] for mend in reply["mends"]].count("leave") == 1
    assert [mend["do"] for mend in reply["mends"]].count("wash_once") == 1
    assert all(mend["predicted"]["hex"] for mend in reply["mends"])
    assert "formula" in way(reply, "second_mix")
    assert "formula" not in way(reply, "leave")


def test_hair_that_met_its_wish_is_left():
    left = way(mended(), "leave")["predicted"]["lab"]
    first = mended(wish={"lab": left})["mends"][0]
    assert first["do"] == "leave"
    assert first["delta_e"] == pytest.approx(0, abs=1e-6)


def test_permanent_colour_that_came_out_too_dark_is_left():
    """No dye makes hair lighter and a wash hardly moves permanent colour: nothing helps."""
    product, hair = worn(
        {"yellow": 0.5, "orange": 0.3, "violet": 0.3, "blue": 0.4}, 30, "permanent"
    )
    reply = mended(hair=hair, products=[product], wish={"level": 10, "tone": ["natural"]})
    assert reply["mends"][0]["do"] == "leave"
    assert "too dark" in reply["mends"][0]["words"]


def test_a_direct_dye_that_took_too_well_is_washed_once():
    product, hair = worn({"blue_violet_direct": 0.6}, 20, "direct")
    hair["level"] = 10
    reply = mended(hair=hair, products=[product], wish={"level": 10, "tone": ["pearl"]})
    assert reply["mends"][0]["do"] == "wash_once"


def test_leaving_it_is_the_colour_the_first_mix_left():
    hair = {name: value for name, value in REQUEST["hair"].items() if name != "already_on"}
    (first,) = REQUEST["hair"]["already_on"]
    body = {"hair": hair, "mix": first, "products": REQUEST["products"], "minutes": [10]}
    (dry,) = seen(asked("predictions", body)["strip"], "if_rinsed")
    assert way(mended(), "leave")["predicted"]["lab"] == pytest.approx(dry, abs=1e-9)


def test_a_second_mix_is_what_a_prediction_over_the_first_gives():
    second = way(mended(), "second_mix")
    mix = second["formula"]["mix"]
    body = {"hair": REQUEST["hair"], "mix": mix, "products": REQUEST["products"]}
    strip = asked("predictions", body)["strip"]
    dry = seen(strip, "if_rinsed")[mix["minutes"]]
    assert second["predicted"]["lab"] == pytest.approx(dry, abs=1e-9)


def test_a_wash_takes_colour_back_towards_bare_hair_and_most_of_a_direct_dye():
    product, hair = worn({"violet": 0.6})
    reply = mended(hair=hair, products=[product])
    bare = {"hair": {"level": 9.5}, "mix": hair["already_on"][0] | {"minutes": 0}}
    (start,) = seen(
        asked("predictions", bare | {"products": [product], "minutes": [0]})["strip"], "if_rinsed"
    )
    left = way(reply, "leave")["predicted"]["lab"]
    washed = way(reply, "wash_once")["predicted"]["lab"]
    assert left[0] < washed[0] < start[0]
    # eight washes to a tenth: common practice, no published source
    assert (1 - washed_out("direct")) ** 8 == pytest.approx(0.1)
    assert washed_out("direct") > washed_out("neutral_demi") > washed_out("permanent")


def test_what_cannot_be_mended_is_refused_with_every_place():
    hair = {"level": 9, "also": [{"hair": {"level": 7}, "share": 0.2, "name": "nape"}]}
    body = REQUEST | {"hair": hair, "wish": {"level": 9, "tone": ["sparkling"]}}
    reply = answer("mends", json.dumps(body).encode())
    assert reply.status == 422
    places = {error["pointer"] for error in json.loads(reply.body)["errors"]}
    assert places == {"/hair/already_on", "/hair/also", "/wish/tone"}
