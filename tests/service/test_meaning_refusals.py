"""422: the shape is right, the meaning is not. Every place is named."""

import json


def refused(client, question, request):
    reply = client.post(f"/api/{question}", content=json.dumps(request))
    problem = reply.json()
    assert (reply.status_code, problem["status"]) == (422, 422), reply.text
    assert reply.headers["content-type"] == "application/problem+json"
    assert all(error["message"].endswith(".") for error in problem["errors"])
    return {error["pointer"]: error["message"] for error in problem["errors"]}


def test_every_wrong_place_of_a_prediction_is_named_at_once(client, prediction):
    prediction["mix"]["parts"].append({"product": "gone", "grams": 5})
    prediction["wish"] = {"level": 10, "tone": ["sparkling"]}
    prediction["products"][0]["window"] = {"min": 20, "max": 5}
    places = refused(client, "predictions", prediction)
    assert places.keys() >= {"/mix/parts/1/product", "/wish/tone", "/products/0/window"}


def test_every_wrong_place_of_a_formulation_is_named_at_once(client, formulation):
    formulation["wish"] = {"level": 10, "tone": ["sparkling"]}
    formulation["limits"].update(total_g=40, step_g=7)
    formulation["products"][1]["id"] = formulation["products"][0]["id"]
    places = refused(client, "formulations", formulation)
    assert len(places) >= 3
    assert {"/wish/tone", "/products/1/id"} <= places.keys()
    assert any(pointer.startswith("/limits") for pointer in places)


def test_an_unknown_wish_word_is_answered_with_the_list(client, formulation):
    formulation["wish"] = {"level": 10, "tone": ["sparkling"]}
    sentence = refused(client, "formulations", formulation)["/wish/tone"]
    assert "sparkling" in sentence
    assert "pearl" in sentence


def test_a_reading_says_nothing_about_hair_that_carries_colour(client, prediction):
    prediction["hair"]["reading"] = {"lab": [80, 1, 20], "state": "dry"}
    prediction["hair"]["already_on"] = [prediction["mix"]]
    assert any("/hair" in place for place in refused(client, "predictions", prediction))


def test_two_classes_do_not_go_into_one_bowl(client, prediction):
    other = prediction["products"][0] | {"id": "other", "class": "acid_demi"}
    prediction["products"].append(other)
    prediction["mix"]["parts"].append({"product": "other", "grams": 5})
    places = refused(client, "predictions", prediction)
    assert any(place.startswith("/mix") for place in places)


def test_two_lines_go_into_one_bowl_only_when_each_names_the_other(client, prediction):
    one = prediction["products"][0]
    other = one | {"id": "other", "line": "Elsewhere"}
    prediction["products"].append(other)
    prediction["mix"]["parts"].append({"product": "other", "grams": 5})
    other["may_mix_with"] = [one["line"]]
    refused(client, "predictions", prediction)
    one["may_mix_with"] = ["Elsewhere"]
    assert client.post("/api/predictions", json=prediction).status_code == 200


def test_a_product_is_never_left_on_longer_than_its_leaflet_says(client, prediction):
    prediction["mix"]["minutes"] = prediction["products"][0]["window"]["max"] + 1
    assert "/mix/minutes" in refused(client, "predictions", prediction)


def test_the_summary_counts_the_places(client, prediction):
    prediction["mix"]["parts"] = [{"product": "a", "grams": 5}, {"product": "b", "grams": 5}]
    reply = client.post("/api/predictions", json=prediction).json()
    assert reply["detail"].startswith("2 places need another look. The first: ")


def test_every_wrong_place_of_a_schedule_is_named_at_once(client):
    window = {"earliest": 5, "best": 9, "latest": 12}
    zone = {"name": "roots", "window": window, "apply_min": 10}
    turned = zone | {"window": {"earliest": 12, "best": 9, "latest": 5}}
    without = zone | {"name": "ends", "window": {"reason": "No minute lands near."}}
    places = refused(client, "schedules", {"zones": [zone, turned, without]})
    assert places.keys() == {"/zones/1/name", "/zones/1/window", "/zones/2/window"}
    assert "earliest, best and latest" in places["/zones/2/window"]


def test_what_went_on_after_now_or_before_it_began_is_refused(client):
    window = {"earliest": 5, "best": 9, "latest": 12}
    zones = [
        {"name": f"zone {to}", "window": window, "apply_min": 3, "put_on": {"from_min": at, **to}}
        for at, to in ((8, {}), (4, {"to_min": 3}), (4, {"to_min": 8}), (4, {"to_min": 7}))
    ]
    places = refused(client, "schedules", {"zones": zones, "now_min": 7})
    assert places.keys() == {
        "/zones/0/put_on/from_min",
        *(f"/zones/{at}/put_on/to_min" for at in (1, 2)),
    }
    assert "minute 7 now" in places["/zones/0/put_on/from_min"]


def test_every_wrong_place_of_a_mix_to_weigh_is_named_at_once(client, prediction):
    asked = {key: prediction[key] for key in ("mix", "products")}
    asked["mix"]["parts"].append({"product": "gone", "grams": 5})
    asked["products"][0]["window"] = {"min": 20, "max": 5}
    places = refused(client, "mixes", asked | {"minutes": 5, "hair": {}})
    assert places.keys() == {
        "/mix/parts/1/product", "/products/0/window", "/minutes", "/hair/level"
    }  # fmt: skip
