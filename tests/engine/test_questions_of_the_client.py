"""The client's questions in the client's own words, for a phone that was handed over."""

import json

import pytest
from safety_asking import bent, reviewed

from basinside.contract.fact_rows import fact_rows
from basinside.engine.door import answer

# Told on a screen of their own, once the client has left.
ELSEWHERE = {"signs_later", "outcome"}
OF_THE_CLIENT = [
    name
    for name, row in fact_rows().items()
    if row.asked_of == "client" and row.input != "elsewhere"
]


@pytest.mark.parametrize("name", OF_THE_CLIENT)
def test_a_client_is_asked_as_you_in_few_words(name):
    words = fact_rows()[name].to_client
    assert words.split()[0] in {
        "Are", "At", "Could", "Do", "Has", "Have", "How", "Is", "What",
    }  # fmt: skip
    assert {"you", "your"} & set(words.replace("?", " ").replace(",", " ").split())
    assert "client" not in words
    assert len(words.split()) <= 20


def test_nobody_else_s_question_is_put_to_the_client():
    for name, row in fact_rows().items():
        assert not row.to_client or name in OF_THE_CLIENT
        assert name not in ELSEWHERE or not row.to_client


def test_the_reply_has_the_client_s_words_beside_the_colourist_s():
    facts = {"colour_reaction": None, "scalp": None}
    questions = {each["fact"]: each for each in reviewed(bent(facts))["questions"]}
    asked = questions["colour_reaction"]
    assert asked["of"] == "client"
    assert "given you a reaction" in asked["to_client"]
    assert questions["scalp"]["to_client"] == ""


def test_the_door_says_the_same_words():
    reply = answer("safety/reviews", json.dumps(bent({"black_tattoo": None})).encode())
    told = {each["fact"]: each["to_client"] for each in json.loads(reply.body)["questions"]}
    assert told["black_tattoo"] == fact_rows()["black_tattoo"].to_client
