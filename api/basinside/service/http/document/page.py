"""Shows the OpenAPI document as one page of plain HTML: no script, nothing from elsewhere."""

import json
import re
from collections.abc import Iterator
from html import escape
from typing import Any

Json = dict[str, Any]

_PROBLEMS = {"400": "problem-shape", "413": "problem-too-large", "422": "problem-meaning"}
_KINDS = {
    "number": "number",
    "integer": "whole number",
    "string": "text",
    "boolean": "true or false",
    "null": "null",
}


def reference_html(document: Json) -> str:
    """Return the whole page for an OpenAPI document as `openapi.py` writes it."""
    schemas = document["components"]["schemas"]
    calls = [
        (method, path, operation)
        for path, methods in document["paths"].items()
        for method, operation in methods.items()
    ]
    parts = [
        *_head(document["info"]),
        _contents(calls, schemas),
        "<main>",
        *(part for tag in document["tags"] for part in _group(tag, calls)),
        *_problems(document["components"]["responses"]),
        '<section><h2 id="shapes">Shapes</h2>',
        *(part for name, schema in schemas.items() for part in _shape(name, schema)),
        "</section></main></body></html>\n",
    ]
    return "\n".join(parts)


def _head(about: Json) -> Iterator[str]:
    title = f"{escape(about['title'])}: the API"
    yield '<!doctype html><html lang="en"><head><meta charset="utf-8">'
    yield '<meta name="viewport" content="width=device-width, initial-scale=1">'
    yield f'<title>{title}</title><link rel="icon" href="data:,">'
    yield '<link rel="stylesheet" href="/docs/reference.css"></head><body>'
    yield f'<header><h1>{title}</h1><p class="lead">{escape(about["summary"])}</p>'
    yield from _paragraphs(about["description"])
    yield f"<p>Version {escape(about['version'])}, OpenAPI 3.1: "
    yield '<a href="/openapi.json">openapi.json</a>.</p></header>'


def _contents(calls: list[tuple[str, str, Json]], schemas: Json) -> str:
    links = [
        f'<li><a href="#{operation["operationId"]}"><code>{method.upper()} {path}</code></a>'
        f" {escape(operation['summary'])}</li>"
        for method, path, operation in calls
    ]
    shapes = ", ".join(f'<a href="#shape-{name}">{name}</a>' for name in schemas)
    return (
        f'<nav aria-label="Contents"><ul>{"".join(links)}<li><a href="#refusals">Refusals</a></li>'
        f'<li><a href="#shapes">Shapes</a>: {shapes}</li></ul></nav>'
    )


def _group(tag: Json, calls: list[tuple[str, str, Json]]) -> Iterator[str]:
    yield f"<section><h2>{escape(tag['name'])}</h2><p>{_prose(tag['description'])}</p>"
    for method, path, operation in calls:
        if tag["name"] in operation["tags"]:
            yield from _call(method, path, operation)
    yield "</section>"


def _call(method: str, path: str, operation: Json) -> Iterator[str]:
    yield f'<article id="{operation["operationId"]}"><h3>{escape(operation["summary"])}</h3>'
    yield f'<p class="call"><code>{method.upper()} {path}</code></p>'
    yield from _paragraphs(operation["description"])
    (answered,) = operation["responses"]["200"]["content"].values()
    if asked := operation.get("requestBody", {}).get("content", {}).get("application/json"):
        yield f"<p>Send {_kind(asked['schema'])}, get {_kind(answered['schema'])}:</p>"
        yield f'<pre tabindex="0"><code>curl --json @request.json "$ADDRESS{path}"</code></pre>'
        for title, example in asked["examples"].items():
            yield f"<details><summary>{escape(example['summary'])}</summary>"
            yield _code("Request", example["value"])
            yield _code("Reply", answered["examples"][title]["value"]) + "</details>"
    else:
        sent = "Send a file, get" if "requestBody" in operation else "Get"
        yield f"<p>{sent} {_kind(answered['schema'])}.</p>"
        for example in answered["examples"].values():
            yield f"<details><summary>{escape(example['summary'])}</summary>"
            yield _code("Reply", example["value"]) + "</details>"
    refused = [status for status in operation["responses"] if status != "200"]
    links = ", ".join(f'<a href="#refusal-{status}">{status}</a>' for status in refused)
    yield f"<p>May refuse with {links}.</p></article>"


def _problems(responses: Json) -> Iterator[str]:
    yield '<section><h2 id="refusals">Refusals</h2><p>Every refusal is problem details (RFC 9457,'
    yield f" <code>application/problem+json</code>): {_kind({'$ref': '/Problem'})}. Each entry of"
    yield " <code>errors</code> points to a place in the request (JSON Pointer, RFC 6901) and says"
    yield " what was expected, what came and what to do.</p>"
    for status, response in responses.items():
        kind = _PROBLEMS.get(status)
        yield f'<article id="refusal-{status}"><h3{f" id={kind}" if kind else ""}>{status}</h3>'
        yield from _paragraphs(response["description"])
        for example in response["content"]["application/problem+json"].get("examples", {}).values():
            yield f"<details><summary>{escape(example['summary'])}</summary>"
            yield _code("Reply", example["value"]) + "</details>"
        yield "</article>"
    yield "</section>"


def _shape(name: str, schema: Json) -> Iterator[str]:
    yield f'<article id="shape-{name}"><h3>{name}</h3>'
    yield from _paragraphs(schema.get("description", ""))
    choices = schema.get("oneOf", [schema])
    for place, choice in enumerate(choices):
        if place:
            yield "<p>or</p>"
        yield "<dl>"
        for field, value in choice["properties"].items():
            needed = "" if field in choice.get("required", []) else _default(value)
            kind = _kind(value) + _example(value) + needed
            yield f"<div><dt><code>{field}</code></dt><dd><p>{kind}</p>"
            yield f"{_note(value)}</dd></div>"
        yield "</dl>"
    yield "</article>"


def _kind(schema: Json) -> str:
    """Return a value's type, in words, as HTML."""
    if reference := schema.get("$ref"):
        name = reference.rpartition("/")[2]
        return f'<a href="#shape-{name}">{name}</a>'
    if choices := schema.get("anyOf"):
        return " or ".join(_kind(choice) for choice in choices)
    if values := schema.get("enum"):
        return "one of " + ", ".join(f"<code>{escape(str(value))}</code>" for value in values)
    if fixed := schema.get("prefixItems"):
        return f"list of {len(fixed)}: " + "; ".join(_kind(item) for item in fixed)
    if schema.get("type") == "array":
        return f"list of {_span(schema, 'Items')}{_kind(schema['items'])}"
    kind = _KINDS.get(schema.get("type", ""), "value")
    if length := _span(schema, "Length"):
        kind += f" of {length}characters"
    said = {"minimum": "from", "exclusiveMinimum": "above", "maximum": "to"}
    return " ".join(
        [kind, *(f"{word} {schema[key]:g}" for key, word in said.items() if key in schema)]
    )


def _span(schema: Json, what: str) -> str:
    fewest, most = schema.get(f"min{what}", 0), schema.get(f"max{what}")
    if most is None:
        return f"at least {fewest} " if fewest else ""
    return f"{fewest} to {most} "


def _default(schema: Json) -> str:
    absent = schema.get("default")
    if absent is None or isinstance(absent, dict):  # an object's defaults are in its shape
        return "; may be absent"
    return f"; <code>{escape(json.dumps(absent))}</code> when absent"


def _example(schema: Json) -> str:
    """Return one example value, also if it is on the choice that is not null."""
    for choice in (schema, *schema.get("anyOf", [])):
        for example in choice.get("examples", []):
            return f", such as <code>{escape(json.dumps(example))}</code>"
    return ""


def _note(schema: Json) -> str:
    """Return the field's description, also if it is on the choice that is not null."""
    note = schema.get("description") or next(
        (choice["description"] for choice in schema.get("anyOf", []) if "description" in choice), ""
    )
    return f"<p>{_prose(note)}</p>" if note else ""


def _code(title: str, value: Json) -> str:
    text = escape(json.dumps(value, indent=2, ensure_ascii=False))
    return f'<h4>{title}</h4><pre tabindex="0"><code>{text}</code></pre>'


def _paragraphs(text: str) -> Iterator[str]:
    for paragraph in text.split("\n\n"):
        if paragraph:
            yield f"<p>{_prose(paragraph)}</p>"


def _prose(text: str) -> str:
    return re.sub(r"`([^`]+)`", r"<code>\1</code>", escape(text))
