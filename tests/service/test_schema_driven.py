"""Requests drawn from the document itself, right and wrong: nothing but documented replies."""

import copy
import json
from collections import Counter

import pytest
import schemathesis
from drawing import LONG, seeds
from drawn import each_case
from schemathesis.config import SchemathesisConfig
from schemathesis.generation import GenerationMode

from basinside.app import create_app
from basinside.service.http.document.openapi import openapi_text

# By the document as it is, and, for most, by one narrowed to reach the engine more often. Of fewer
# than forty mixes hardly one would fit its products, so more than a tenth is drawn each time.
CASES_AS_DOCUMENTED = 20 if LONG else 4
CASES_NARROWED = 150 if LONG else 40
CASES_OF_THE_LIKE = 50 if LONG else 10
CASES_WITHOUT_A_BODY = 10
FEWEST_DRAWN = 2  # one of each mode

DOCUMENTED = json.loads(openapi_text())

# 422 is documented everywhere: the shape is right, and a rule that no schema can say is broken.
REFUSED = {
    "positive_data_acceptance": {"expected-statuses": ["2xx", 422]},
    "negative_data_rejection": {"expected-statuses": [400, 422]},
}
# What only the narrowed document forbids may well be answered; any other check stands.
REFUSED_OR_NARROWED_AWAY = REFUSED | {
    "negative_data_rejection": {"expected-statuses": ["2xx", 400, 422]},
}


@pytest.fixture
def app(tmp_path):
    """A new application, as the tester stops it for good after each test."""
    return create_app(tmp_path)


def narrowed(document):
    """Return the document with words, ids and numbers that fit together, and short lists.

    What it allows, the true one allows. Drawn words would all be unknown ones, drawn ids
    never on the shelf, drawn weights never whole steps; and long lists take the drawing,
    not the server, most of the time. Replies are held to the true shapes.
    """
    document = copy.deepcopy(document)
    true_shapes = document["components"]["schemas"]
    shapes = json.loads(json.dumps(true_shapes).replace("/schemas/", "/schemas/Narrow"))
    for shape in shapes.values():
        for field in shape.get("properties", {}).values():
            for choice in (field, *field.get("anyOf", [])):
                if "maxItems" in choice and "prefixItems" not in choice:
                    choice["maxItems"] = min(choice["maxItems"], 2)
    shapes["Product"]["properties"] |= {
        "id": {"enum": ["a", "b"]},
        "class": {"enum": ["neutral_demi", "permanent"]},
        "tone": {"enum": [["violet"], ["beige", "violet"], ["clear"]]},
        "window": {"enum": [{"min": 5, "max": 20}, {"min": 0, "max": 30}]},
        "developer_percent": {"enum": [[1.9], [3, 6, 9, 12]]},
        "line": {"const": "Still"},
    }
    shapes["Part"]["properties"]["product"] = {"const": "a"}
    shapes["Mix"]["properties"]["minutes"]["maximum"] = 20
    shapes["PredictionRequest"]["properties"]["minutes"]["anyOf"][0]["items"]["maximum"] = 20
    shapes["Hair"]["properties"]["level"] = {"enum": [8, 9.5, 10]}
    shapes["Hair"]["required"] = ["level"]
    shapes["OtherHair"]["properties"]["share"]["exclusiveMaximum"] = 0.5
    shapes["Wish"]["properties"] |= {
        "level": {"enum": [9, 10]},
        "tone": {"enum": [["pearl"], ["beige", "ash"]]},
    }
    shapes["Wish"]["required"] = ["level", "tone"]
    shapes["ReachesRequest"]["properties"]["tones"]["items"] = {"enum": ["pearl", "copper"]}
    shapes["Reading"]["properties"] |= {
        "source": {"const": "eye"},
        "words": {"enum": ["pinker", "as_shown", "patchy"]},
    }
    shapes["Reading"]["required"] = ["minute", "where", "source", "words"]
    shapes["MendRequest"]["properties"]["hair"] = {
        "type": "object",
        "properties": {
            "level": {"enum": [8, 9.5]},
            "already_on": {
                "type": "array",
                "items": shapes["Hair"]["properties"]["already_on"]["items"],
                "minItems": 1,
                "maxItems": 2,
            },
        },
        "required": ["level", "already_on"],
        "additionalProperties": False,
    }
    del shapes["Reading"]["properties"]["lab"], shapes["Sure"]["properties"]["correlations"]
    shapes["Limits"]["properties"] |= {"total_g": {"enum": [20, 60]}, "step_g": {"enum": [5, 10]}}
    del shapes["Wish"]["properties"]["lab"], shapes["Hair"]["properties"]["reading"]
    del shapes["Known"]["properties"]["correlations"], shapes["Reading"]["properties"]["sd"]
    dried = {"minute": 10, "where": "dried", "source": "instrument", "lab": [70, 2, 12]}
    read = {"reading": {"lab": [80, 1, 20], "state": "dry"}}
    shapes["Swatch"]["properties"] |= {
        "after": {"enum": [dried, dried | {"minute": 0, "sd": 2}]},
        "hair": {"enum": [read, {"level": 9}, read | {"level": 9.5, "white_share": 0.3}]},
        "of": {"const": "head"},
    }
    shapes["Window"] = {
        "enum": [{"earliest": at, "best": at + 3, "latest": at + 8} for at in (2, 5, 20)]
    }
    shapes["Zone"]["properties"]["name"] = {"enum": ["roots", "lengths", "ends", "fringe"]}
    # a mix or parts, not both; and amounts that a scale shows
    for name in ("parts", "developer", "minutes", "hair"):
        del shapes["MixRequest"]["properties"][name]
    shapes["MixRequest"]["required"] = ["products", "mix"]
    shapes["MixRequest"]["properties"] |= {
        "mix": {"$ref": "#/components/schemas/NarrowMix"},
        "developers_in_stock": {"enum": [None, [0, 12], [6]]},
        "step_g": {"enum": [0.1, 1]},
    }
    true_shapes |= {f"Narrow{name}": shape for name, shape in shapes.items()}
    for methods in document["paths"].values():
        for body in (operation.get("requestBody") for operation in methods.values()):
            # A file that is brought in has no shape to narrow.
            if body and "application/json" in body["content"]:
                schema = body["content"]["application/json"]["schema"]
                schema["$ref"] = schema["$ref"].replace("/schemas/", "/schemas/Narrow")
    return document


def try_each(app, document, path, modes, cases, checks=REFUSED):
    """Draw, send and check the cases of one call; return how often each status came."""
    config = SchemathesisConfig.from_dict({"checks": checks})
    schema = schemathesis.openapi.from_dict(document, config=config)
    schema.app = app
    (operation,) = schema[path].values()
    statuses = Counter()

    def ask(case):
        statuses[case.call_and_validate().status_code] += 1

    for mode in modes:
        each_case(operation, mode, cases, ask)
    return statuses


# What labels, reaches, mends and lightenings ask of the engine, the others have asked already.
CALCULATIONS = [
    ("/api/formulations", CASES_NARROWED),
    ("/api/labels", CASES_OF_THE_LIKE),
    ("/api/mixes", CASES_NARROWED),
    ("/api/predictions", CASES_NARROWED),
    ("/api/reaches", CASES_OF_THE_LIKE),
    ("/api/mends", CASES_OF_THE_LIKE),
    ("/api/judgements", CASES_NARROWED),
    ("/api/lightenings", CASES_OF_THE_LIKE),
    ("/api/schedules", CASES_NARROWED),
    ("/api/calibrations", CASES_OF_THE_LIKE),
    ("/api/swatch_plans", CASES_OF_THE_LIKE),
]


# A third of them each day: drawing takes longer than answering.
@pytest.mark.parametrize(
    ("path", "cases"), [CALCULATIONS[place] for place in seeds(len(CALCULATIONS), parts=3)]
)
def test_no_calculation_drawn_from_the_document_gets_an_undocumented_answer(app, path, cases):
    modes = list(GenerationMode)
    statuses = try_each(app, DOCUMENTED, path, modes, CASES_AS_DOCUMENTED)
    statuses += try_each(app, narrowed(DOCUMENTED), path, modes, cases, REFUSED_OR_NARROWED_AWAY)
    assert statuses.total() >= FEWEST_DRAWN * cases
    # Were they all refused alike, this would prove little.
    assert statuses.keys() == {200, 400, 422}
    if LONG:
        assert min(statuses.values()) >= cases / 10, statuses


@pytest.mark.parametrize("path", ["/api/products", "/api/health", "/api/safety/rules"])
def test_what_is_got_fits_what_is_documented(app, path):
    statuses = try_each(app, DOCUMENTED, path, [GenerationMode.POSITIVE], CASES_WITHOUT_A_BODY)
    assert statuses.keys() == {200}
