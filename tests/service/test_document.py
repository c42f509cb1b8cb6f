"""The OpenAPI document says what is really served, and its examples are really answered."""

import json
import re
from html.parser import HTMLParser

import jsonschema_rs
import pytest

from basinside.engine.door import QUESTIONS
from basinside.service.http.document.calls.table import CALLS
from basinside.service.http.document.field_words import ANY, WORDS, says_what_it_is
from basinside.service.http.document.openapi import openapi_text
from basinside.service.http.document.written import FOLDER

DOCUMENTED = json.loads(openapi_text())
OPERATIONS = [
    (method, path, operation)
    for path, methods in DOCUMENTED["paths"].items()
    for method, operation in methods.items()
]
PAIRED = {call.path for call in CALLS if call.paired} | {"/api/devices/pair"}
ASKING = [
    (path, operation)
    for _, path, operation in OPERATIONS
    if "requestBody" in operation and path not in PAIRED
]
# An operation may say more than this version knows.
OPEN = {"Operation"}


def validator(schema):
    # OpenAPI 3.1 schemas are JSON Schema 2020-12 (OAS 3.1.0 §4.8.24).
    root = {"components": DOCUMENTED["components"], **schema}
    return jsonschema_rs.Draft202012Validator(root)


def examples_of(content):
    return [example["value"] for example in content["examples"].values()]


def with_examples(written, folder):
    """The written document with each reference to an example replaced by what it names."""
    match written:
        case {"$ref": str() as ref} if not ref.startswith("#"):
            file, _, place = ref.partition("#/")
            part, _, name = place.partition("/")
            return json.loads((folder / file).read_text("utf-8"))[part][name]
        case dict():
            return {name: with_examples(value, folder) for name, value in written.items()}
        case list():
            return [with_examples(value, folder) for value in written]
    return written


def test_the_document_served_is_the_one_kept_with_its_examples_in_place(client):
    assert client.get("/openapi.json").text == openapi_text()
    kept = json.loads((FOLDER / "openapi.json").read_text("utf-8"))
    assert with_examples(kept, FOLDER) == DOCUMENTED


def test_every_call_that_has_worked_examples_has_them_in_a_file_of_its_own():
    named = {path.stem for path in (FOLDER / "examples").glob("*.json")}
    assert named == {call.operation for call in CALLS} | {"refusals"}
    kept = (FOLDER / "openapi.json").read_text("utf-8")
    titles = [title for call in CALLS for title in call.examples]
    assert titles
    assert not [title for title in titles if f'"summary": "{title}"' in kept]


def test_every_question_of_the_door_is_a_call_and_documents_every_refusal():
    asked = {path.removeprefix("/api/"): operation for path, operation in ASKING}
    assert asked.keys() == QUESTIONS.keys()
    for operation in asked.values():
        assert {"200", "400", "404", "413", "422"} <= operation["responses"].keys()


def test_every_call_is_described_and_worked():
    for call, (method, path, operation) in zip(CALLS, OPERATIONS, strict=True):
        assert (method, path) == (call.method, call.path)
        assert operation["summary"]
        assert operation["description"]
        replied = operation["responses"]["200"]["content"]
        assert list(replied) == [call.events or "application/json"]
        assert all(content["examples"] for content in replied.values())


def test_every_field_and_parameter_says_what_it_is():
    schemas = DOCUMENTED["components"]["schemas"]
    fields = [
        (name, field, value)
        for name, schema in schemas.items()
        for choice in schema.get("oneOf", [schema])
        for field, value in choice["properties"].items()
    ]
    assert len(fields) > 800
    silent = [f"{name}.{field}" for name, field, value in fields if not says_what_it_is(value)]
    silent += [name for name, schema in schemas.items() if not schema["description"]]
    for _, path, operation in OPERATIONS:
        asked = operation.get("parameters", [])
        silent += [f"{path}?{each['name']}" for each in asked if not each["description"]]
    assert not silent


def test_no_words_are_left_of_a_field_that_went():
    schemas = DOCUMENTED["components"]["schemas"]
    for shape, words in WORDS.items():
        shapes = schemas.values() if shape == ANY else [schemas[shape]]
        told = json.dumps(list(shapes), ensure_ascii=False)
        for field, said in words.items():
            assert f'"{field}": {{' in told, (shape, field)
            assert json.dumps(said, ensure_ascii=False) in told, (shape, field)


def test_every_call_says_whether_it_needs_a_token():
    for call, (_, path, operation) in zip(CALLS, OPERATIONS, strict=True):
        token = {"device": [call.right]}
        if path == "/api/products":  # a token gets the salon's own
            assert operation["security"] == [{}, token]
        else:
            assert operation["security"] == ([token] if call.paired else []), path


def test_a_list_of_fixed_length_says_what_its_items_are():
    """A generator of clients stops at `items: false`, which JSON Schema allows all the same."""
    text = json.dumps(DOCUMENTED)
    assert '"items": false' not in text
    lab = DOCUMENTED["components"]["schemas"]["Colour"]["properties"]["lab"]
    assert lab["items"] == {"type": "number", "minimum": -128, "maximum": 127}
    three = validator({"$ref": "#/components/schemas/Colour/properties/lab"})
    assert three.is_valid([50, 0, 0])
    assert not three.is_valid([50, 0])
    assert not three.is_valid([50, 0, 0, 0])
    assert not three.is_valid([101, 0, 0])


def test_a_file_and_a_stream_have_schemas():
    paths = DOCUMENTED["paths"]
    sent = paths["/api/sync/import"]["post"]["requestBody"]["content"]["application/gzip"]
    assert sent["schema"]["format"] == "binary"
    told = paths["/api/sync/live"]["get"]["responses"]["200"]["content"]["text/event-stream"]
    (example,) = examples_of(told)
    validator(told["schema"]).validate(example)
    data = example.partition("data: ")[2]
    validator({"$ref": "#/components/schemas/Live"}).validate(json.loads(data))


def test_no_object_of_the_contract_takes_fields_it_does_not_know():
    for name, schema in DOCUMENTED["components"]["schemas"].items():
        for shape in schema.get("oneOf", [schema]):
            assert shape.get("additionalProperties", True) is (name in OPEN), name


def test_every_number_of_a_request_has_bounds():
    """A number without bounds is one somebody can break the engine with."""
    schemas = DOCUMENTED["components"]["schemas"]
    seen = set()
    waiting = [call.asked.__name__ for call in CALLS if call.asked]
    numbers = 0
    while waiting:
        if (name := waiting.pop()) in seen:
            continue
        seen.add(name)
        text = json.dumps(schemas[name])
        waiting += re.findall(r"#/components/schemas/(\w+)", text)
        for schema in re.findall(r'\{[^{}]*"type": "(?:number|integer)"[^{}]*\}', text):
            assert "inimum" in schema, (name, schema)
            assert "aximum" in schema, (name, schema)
            numbers += 1
    assert numbers > 30


@pytest.mark.parametrize(("path", "operation"), ASKING)
def test_a_worked_request_fits_its_schema_and_is_answered_as_shown(client, path, operation):
    asked = operation["requestBody"]["content"]["application/json"]
    replied = operation["responses"]["200"]["content"]["application/json"]
    for request, shown in zip(examples_of(asked), examples_of(replied), strict=True):
        validator(asked["schema"]).validate(request)
        validator(replied["schema"]).validate(shown)
        reply = client.post(path, json=request)
        assert reply.status_code == 200
        validator(replied["schema"]).validate(reply.json())
        assert close(shown, reply.json())


def close(shown, got):
    """Equal to the two decimals the document shows; the engine's version is not compared."""
    match shown:
        case float():
            return abs(shown - got) <= 0.00501
        case list():
            return len(shown) == len(got) and all(map(close, shown, got))
        case dict():
            return shown.keys() == got.keys() and all(
                name == "engine_version" or close(value, got[name]) for name, value in shown.items()
            )
    return shown == got


def test_what_is_got_fits_its_schema(client):
    for method, path, operation in OPERATIONS:
        if method == "get" and path not in PAIRED:
            replied = operation["responses"]["200"]["content"]["application/json"]
            validator(replied["schema"]).validate(client.get(path).json())
            for example in examples_of(replied):
                validator(replied["schema"]).validate(example)


def test_a_worked_refusal_fits_its_schema():
    for status, response in DOCUMENTED["components"]["responses"].items():
        content = response["content"]["application/problem+json"]
        for example in content.get("examples", {}).values():
            validator(content["schema"]).validate(example["value"])
            assert example["value"]["status"] == int(status)


def test_a_window_is_three_minutes_or_a_reason_and_nothing_between():
    window = validator({"$ref": "#/components/schemas/Window"})
    assert window.is_valid({"earliest": 5, "best": 7, "latest": 9})
    assert window.is_valid({"reason": "none"})
    for neither in ({}, {"earliest": 5, "best": 7}, {"earliest": 5, "reason": "none"}):
        assert not window.is_valid(neither)


class Links(HTMLParser):
    def __init__(self):
        super().__init__()
        self.tags, self.ids, self.links = set(), [], []

    def handle_starttag(self, tag, attrs):
        named = dict(attrs)
        self.tags.add(tag)
        self.ids += [named["id"]] if "id" in named else []
        self.links += [named[name] for name in ("href", "src") if name in named]
        assert "style" not in named, "the content policy would drop an inline style"


# What the build puts beside the page; tests/screens/test_api_page.py opens the real ones.
BUILT = {"/docs/viewer.css", "/docs/viewer.js"}


def test_the_api_page_asks_no_other_origin(client):
    page = Links()
    page.feed(client.get("/docs").text)
    assert "style" not in page.tags
    assert set(page.links) > BUILT
    for link in page.links:
        assert link.startswith(("/", "#", "data:,")), link
        assert not link.startswith("//")
    for link in (link for link in page.links if link.startswith("/") and link not in BUILT):
        assert client.get(link).status_code == 200, link


def test_the_type_of_every_refusal_of_records_is_explained(client):
    page = Links()
    page.feed(client.get("/docs").text)
    assert len(page.ids) == len(set(page.ids))
    statuses = {name[:3] for name in DOCUMENTED["components"]["responses"]}
    assert {f"refusal-{status}" for status in statuses} <= set(page.ids)


def test_a_problem_type_leads_to_its_explanation(client, formulation):
    page = Links()
    page.feed(client.get("/docs").text)
    formulation["limits"]["count"] = 99
    kind = client.post("/api/formulations", json=formulation).json()["type"]
    path, _, fragment = kind.partition("#")
    assert path == "/docs"
    assert fragment in page.ids
