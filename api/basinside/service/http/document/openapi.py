"""Writes the OpenAPI 3.1 document from the table of calls and the contract's own shapes.

We write it because the framework's lacks `additionalProperties: false`. A tester driven by that
would call every refusal of an unknown field a fault.

The engine works out the replies shown while the document is written, rounded to two decimals. Only
a real change of the engine moves them, and no Python release does. So if the document has drifted,
its replies are no longer what a caller gets.
"""

import inspect
import json
import re
from functools import cache
from typing import Any

import msgspec

from .... import __version__
from ....contract.problems import Problem
from ....contract.safety import SafetyRules
from ....contract.sync import Change, Operation, SyncProblem
from ....engine.door import JSON, PROBLEM_JSON, answer
from . import examples
from .calls.call import Call
from .calls.records import RECORD_CALLS
from .calls.table import CALLS, GROUPS
from .field_words import describe_fields

Json = dict[str, Any]

_SCHEMA = "#/components/schemas/{name}"
_RESPONSE = "#/components/responses/{name}"
_OF_RECORDS = "{status}OfRecords"
_DECIMALS = 2
# A file, as generators know it (OpenAPI 3.0 §4.7.14.2; 3.1 leaves such formats open).
_BYTES = {"type": "string", "format": "binary", "description": "The bytes of the file."}
_ABOUT = """\
Works out what to mix for the hair in front of a colourist, and shows its colour minute by minute:
on the head, wiped, and dry if rinsed now.

Percent are percent, grams are grams, and minutes are whole minutes. Colours are CIELAB, D65 and
the 10 degree observer. `hex` shows a colour on an sRGB screen. A call refuses unknown fields. No
prediction is certain: each says how sure it is. The maker's leaflet, local law and an allergy
alert test come before anything computed here."""
_REFUSALS = {
    "400": "The body is not JSON, or does not have this shape. `errors` names the first place.",
    "404": "Nothing is at this path.",
    "405": "The path exists, but not with this method. `Allow` lists the methods.",
    "413": "The body is larger than 1 MiB.",
    "422": "The shape is right but the meaning is not, as in a mix of a missing product."
    " `errors` names every place.",
    "503": "Too many questions wait already (128, or 32 of this client), or the server stops."
    " `Retry-After` says when to come back.",
}
# Refusals of calls on records: problem details with a `code`, after the statuses that every call
# shares. A shared status that such a call gives itself has a code as well.
_REFUSALS_OF_RECORDS = {
    "401": "No token, or an unknown or expired one: `pairing_expired`. Operations that wait on"
    " the device stay there.",
    "403": "A revoked token (`device_revoked`), one that may only read (`reads_only`), a token of"
    " another device (`other_device`), a wrong or expired code (`code_unknown`), a pairing sent by"
    " a page of another site (`foreign_page`), or a code asked for away from the server's machine"
    " (`at_the_desk_only`).",
    "409": "`seq_gap`, `device_forked`, `epoch_changed` or `schema_ahead`: the desk stored"
    " nothing.",
    "429": "Asked too often; `Retry-After` says when to come back.",
    "507": "The desk's disk is full, so it stored nothing.",
}
# The same statuses as every call's, but with a `code`.
_CODED = {
    "400": "The body or the query does not have this shape: `body_unreadable`.",
    "404": "The salon never paired this device: `device_unknown`.",
    "413": "Too much at once; `max_ops` and `max_bytes` are the limits.",
    "503": "The records are `busy` or `damaged`, or the server stops; `Retry-After` says when to"
    " come back.",
}


_SENT_ON = (
    ("Push", "ops", "Operation"),
    ("Pulled", "changes", "Change"),
    ("Page", "changes", "Change"),
    ("Live", "changes", "Change"),
)


# Kept, for the document and the page that shows it: the worked replies take the engine a second.
@cache
def openapi_document() -> Json:
    """Return the document as plain values, ready to be written as JSON."""
    return {
        "openapi": "3.1.0",
        "info": {
            "title": "Basinside",
            "version": __version__,
            "summary": "Says what to mix, and shows its colour minute by minute.",
            "description": _ABOUT,
            "license": {"name": "Apache-2.0", "identifier": "Apache-2.0"},
        },
        "servers": [{"url": "/", "description": "This server."}],
        "tags": [{"name": name, "description": about} for name, about in GROUPS.items()],
        "paths": _paths(),
        "components": {
            "schemas": _schemas(),
            "responses": _refusals(),
            "securitySchemes": {
                "device": {
                    "type": "http",
                    "scheme": "bearer",
                    "description": "The token that pairing gave this device. Each call names the"
                    " right that it needs: `read` or `write`. Every token reads. One from"
                    " `basinside pair --reads-only` does not write (403 `reads_only`). One from"
                    " `basinside pair --days N` ends by itself (401 `pairing_expired`).",
                }
            },
        },
    }


def openapi_text() -> str:
    """Return the document as text, as `/openapi.json` serves it."""
    return json.dumps(openapi_document(), indent=2, ensure_ascii=False) + "\n"


def _paths() -> Json:
    paths: Json = {}
    for call in CALLS:
        paths.setdefault(call.path, {})[call.method] = _operation(call)
    return paths


def _operation(call: Call) -> Json:
    operation: Json = {
        "operationId": call.operation,
        "tags": [call.group],
        "summary": call.summary,
        "description": call.description,
    }
    refused = ["404", "405"]
    replies = call.examples
    if call.asked is not None:
        operation["requestBody"] = {
            "required": True,
            "content": {JSON: _content(call.asked, call.examples)},
        }
        # Nonsense in a record is answered write by write in the receipts, not by a 422.
        refused = [status for status in _REFUSALS if status != "422" or not _has_codes(call)]
        replies = call.shown or {
            title: _worked(call.path, request, 200) for title, request in call.examples.items()
        }
    if call.file:
        operation["requestBody"] = {"required": True, "content": {call.file: {"schema": _BYTES}}}
        refused = [status for status in _REFUSALS if status != "422"]
        replies = call.shown or {}
    parameters = [("path", call.named)] if call.named else []
    parameters += [("query", each) for each in call.query]
    if parameters:
        operation["parameters"] = [
            {
                "name": each.name,
                "in": place,
                "schema": each.schema,
                "description": each.about,
                **({"required": True} if each.needed else {}),
            }
            for place, each in parameters
        ]
    # Said of each call: without the word, a reader must guess that a call needs no token.
    operation["security"] = _needed(call)
    if call.paired:
        refused += ["401", "403", "503"]
    refused = sorted({*refused, *call.refused})
    content = _content(call.replied, replies)
    if call.events:
        told = {title: _event(value) for title, value in replies.items()}
        content = {"schema": _events(call.replied), "examples": _titled(told)}
    operation["responses"] = {
        "200": {"description": "The answer.", "content": {call.events or JSON: content}},
        **{status: {"$ref": _RESPONSE.format(name=_named(call, status))} for status in refused},
    }
    return operation


def _needed(call: Call) -> list[Json]:
    token: Json = {"device": [call.right]}
    if call.paired:
        return [token]
    return [{}, token] if call.tokens_too else []


def _events(shape: type) -> Json:
    """Return the schema of a stream of events: text that never ends."""
    return {
        "type": "string",
        "description": "Server-sent events. The data of a `change` event has the shape"
        f" `{shape.__name__}`.",
    }


def _named(call: Call, status: str) -> str:
    """Return the name under which the document keeps a refusal of a call."""
    if not _has_codes(call) or status not in _CODED:
        return status
    if status == "404" and not call.named:
        return status
    # A pairing is small, so a body too large for it was never meant as one.
    return status if status == "413" and not call.paired else _OF_RECORDS.format(status=status)


def _has_codes(call: Call) -> bool:
    return call.paired or call in RECORD_CALLS or "401" in call.refused


def _content(shape: type, worked: Json) -> Json:
    content: Json = {"schema": {"$ref": _SCHEMA.format(name=shape.__name__)}}
    if worked:
        content["examples"] = _titled(worked)
    return content


def _titled(worked: Json) -> Json:
    return {
        re.sub(r"[^a-z]+", "-", title.lower()): {"summary": title, "value": value}
        for title, value in worked.items()
    }


def _event(data: Json) -> str:
    return f"event: change\ndata: {json.dumps(data)}\n\n"


def _worked(path: str, request: Json, status: int) -> Json:
    """Return the engine's reply to a request of the examples, rounded for reading."""
    reply = answer(path.removeprefix("/api/"), msgspec.json.encode(request))
    if reply.status != status:
        raise ValueError(f"A worked example of {path} was answered {reply.status}: {reply.body!r}")
    rounded: Json = _rounded(msgspec.json.decode(reply.body))
    if "engine_version" in rounded:
        rounded["engine_version"] = examples.ENGINE_VERSION
    return rounded


def _rounded(value: Any) -> Any:
    match value:
        case float():
            return round(value, _DECIMALS) + 0.0  # so that -0.001 is shown as 0.0, not -0.0
        case list():
            return [_rounded(item) for item in value]
        case dict():
            return {name: _rounded(item) for name, item in value.items()}
    return value


def _refusals() -> Json:
    worked = {
        "400": ("A volume entered as percent", examples.MISSHAPEN),
        "422": ("Two places at once", examples.MEANINGLESS),
    }
    responses: Json = {}
    for status, description in _REFUSALS.items():
        shown: Json = {}
        if status in worked:
            title, request = worked[status]
            shown = {title: _worked("/api/formulations", request, int(status))}
        content = {PROBLEM_JSON: _content(Problem, shown)}
        responses[status] = {"description": description, "content": content}
    coded = {_OF_RECORDS.format(status=status): about for status, about in _CODED.items()}
    for name, description in (_REFUSALS_OF_RECORDS | coded).items():
        content = {PROBLEM_JSON: _content(SyncProblem, {})}
        responses[name] = {"description": description, "content": content}
    return responses


def _schemas() -> Json:
    shapes = [shape for call in CALLS for shape in (call.asked, call.replied) if shape]
    _, schemas = msgspec.json.schema_components(
        [*shapes, Problem, SyncProblem, Operation, Change], ref_template=_SCHEMA
    )
    for schema in schemas.values():
        if "description" in schema:
            schema["description"] = inspect.cleandoc(schema["description"])
    rules = msgspec.json.decode(answer("safety/rules", b"").body, type=SafetyRules)
    describe_fields(schemas, {fact.name: fact.question for fact in rules.facts})
    _say_items(schemas)
    schemas["Window"] = _either(schemas["Window"], ["earliest", "best", "latest"], ["reason"])
    # Kept and sent on as bytes, so the shapes' own description ends at the list.
    for shape, field, item in _SENT_ON:
        schemas[shape]["properties"][field]["items"] = {"$ref": _SCHEMA.format(name=item)}
    return dict(sorted(schemas.items()))


def _say_items(value: Any) -> None:
    """Say what is in a list of fixed length, and that an object by names may hold any.

    Generators stop at `items: false`. The bounds of each place stay in `prefixItems`, and the
    length forbids more items. An object of which nothing is said they take for an empty one.
    """
    match value:
        case {"type": "object"} if not value.keys() & {"properties", "additionalProperties"}:
            value["additionalProperties"] = True
        case {"prefixItems": [first, *_] as items, "items": False}:
            value["items"] = {key: first[key] for key in ("type", "$ref") if key in first}
            for bound, widest in (("minimum", min), ("maximum", max)):
                if all(bound in item for item in items):
                    value["items"][bound] = widest(item[bound] for item in items)
    for part in value.values() if isinstance(value, dict) else value:
        if isinstance(part, dict | list):
            _say_items(part)


def _either(schema: Json, *choices: list[str]) -> Json:
    """Return a schema for an object that has all the fields of exactly one choice."""
    return {
        "title": schema["title"],
        "description": schema["description"],
        "oneOf": [
            {
                "type": "object",
                "properties": {name: schema["properties"][name] for name in fields},
                "required": fields,
                "additionalProperties": False,
            }
            for fields in choices
        ],
    }
