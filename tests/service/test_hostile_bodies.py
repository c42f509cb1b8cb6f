"""Bodies that are no question at all: refused with a sentence, never a fault of ours."""

import json

import pytest

from basinside.engine.door import QUESTIONS, answer

NESTED_ALSO = b'{"hair":{"also":[' * 20_000

BODIES = {
    "nothing": b"",
    "white space": b" \r\n\t ",
    "not JSON": b"hair: 9",
    "half of an object": b'{"hair"',
    "a list": b"[]",
    "null": b"null",
    "a number": b"12",
    "fifty thousand lists": b"[" * 50_000,
    "fifty thousand objects": b'{"hair":' * 50_000,
    "a million lists, just under the limit": b"[" * 1_000_000,
    "hair within hair": NESTED_ALSO,
    "a whole number of a million digits": b'{"hair":{"level":' + b"9" * 1_000_000 + b"}}",
    "a key of a million characters": b'{"' + b"k" * 1_000_000 + b'":1}',
    "NaN": b'{"hair":{"level":NaN}}',
    "Infinity": b'{"hair":{"level":Infinity}}',
    "minus Infinity": b'{"hair":{"level":-Infinity}}',
    "a number past every float": b'{"hair":{"level":1e999}}',
    "half a surrogate pair": b'{"\\ud800":1}',
    "half a surrogate pair as text": b'{"hair":{},"wish":{"tone":["\\udfff"]},"products":[]}',
    "bytes that are no UTF-8": b'{"hair":"\xff"}',
    "UTF-16": '{"hair":{}}'.encode("utf-16"),
    "a byte order mark": b"\xef\xbb\xbf{}",
    "a null byte in a key": b'{"\\u0000":1}',
    "a key made to look like a place": b'{"x` - at `$.nothing[9].a":1}',
    "two documents": b"{}{}",
}


@pytest.mark.parametrize("question", list(QUESTIONS))
@pytest.mark.parametrize("body", list(BODIES.values()), ids=list(BODIES))
def test_a_hostile_body_is_a_400_with_one_sentence(client, question, body):
    reply = client.post(f"/api/{question}", content=body)
    assert reply.status_code == 400
    assert reply.headers["content-type"] == "application/problem+json"
    (error,) = reply.json()["errors"]
    assert error["message"].endswith((".", "?"))
    assert len(error["message"]) < 400


@pytest.mark.parametrize(
    ("body", "says"),
    [
        (b"", "The body is empty."),
        (b'{"hair"', "stops in the middle, at byte 7"),
        (b'{"hair":{"level":NaN}}', "JSON has no NaN or Infinity (byte 17)."),
        (b'{"hair":"\xff"}', "not UTF-8: byte 9"),
        (b"\xef\xbb\xbf{}", "byte order mark"),
        (b'{"hair" 1}', "breaks at byte 8, at '1}'"),
        (b"{}{}", "more text follows"),
        (b"[" * 50_000, "nested too deeply"),
        (b'{"hair":{"level":1e999}}', "`wish` is missing"),
    ],
)
def test_the_sentence_names_what_is_wrong_with_the_bytes(body, says):
    reply = answer("formulations", body)
    assert reply.status == 400
    if b"1e999" in body:  # a number past every float is met before what is missing
        assert b"Level must be a number from 1 to 10.5" in reply.body
    else:
        assert says in json.loads(reply.body)["detail"]


def test_a_question_unknown_at_the_door_is_a_404_naming_the_known_ones():
    reply = answer("horoscopes", b"{}")
    assert reply.status == 404
    assert all(question in json.loads(reply.body)["detail"] for question in QUESTIONS)


def test_the_same_request_twice_gives_the_same_bytes(client, formulation, prediction):
    for question, request in (("formulations", formulation), ("predictions", prediction)):
        first, second = (client.post(f"/api/{question}", json=request) for _ in range(2))
        assert first.status_code == 200, first.text
        assert first.content == second.content


def test_http_and_the_door_answer_with_the_same_bytes(client, prediction):
    body = json.dumps(prediction).encode()
    assert client.post("/api/predictions", content=body).content == answer("predictions", body).body


@pytest.mark.parametrize(("depth", "status"), [(2, 422), (200, 422), (20_000, 400)])
def test_other_hair_within_other_hair_is_refused_at_any_depth(client, formulation, depth, status):
    opened, closed = '{"also":[{"name":"n","share":0.1,"hair":', "}]}"
    hair = opened * depth + '{"level":9}' + closed * depth
    body = json.dumps(formulation | {"hair": "HAIR"}).replace('"HAIR"', hair)
    reply = client.post("/api/formulations", content=body)
    assert reply.status_code == status, reply.text[:300]
