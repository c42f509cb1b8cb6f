"""Writes the document for people who read its changes: worked examples beside it, one file a call.

The files say together what `/openapi.json` says in one. In the written document a reference takes
the place of each example, as OpenAPI 3.1 allows (§4.8.10).
"""

import copy
import json
from typing import Any

from ... import ROOT
from .openapi import Json, openapi_document

FOLDER = ROOT / "openapi"
_DOCUMENT = "openapi.json"
_EXAMPLES = "examples"
_REFUSALS = "refusals"


def openapi_files() -> dict[str, str]:
    """Return the text of each file of the written document, by its path under `openapi/`."""
    document = copy.deepcopy(openapi_document())
    beside: dict[str, Json] = {}
    for methods in document["paths"].values():
        for operation in methods.values():
            file = f"{_EXAMPLES}/{operation['operationId']}.json"
            _move(operation.get("requestBody", {}), "request", file, beside)
            for status, response in operation["responses"].items():
                _move(response, status, file, beside)
    for name, response in document["components"]["responses"].items():
        _move(response, name, f"{_EXAMPLES}/{_REFUSALS}.json", beside)
    return {_DOCUMENT: _text(document)} | {file: _text(beside[file]) for file in sorted(beside)}


def _move(body: Json, part: str, file: str, beside: dict[str, Json]) -> None:
    """Move the examples of a body to a file beside the document; references take their place."""
    for content in body.get("content", {}).values():
        if examples := content.get("examples"):
            beside.setdefault(file, {})[part] = examples
            content["examples"] = {name: {"$ref": f"{file}#/{part}/{name}"} for name in examples}


def _text(content: Any) -> str:
    return json.dumps(content, indent=2, ensure_ascii=False) + "\n"
