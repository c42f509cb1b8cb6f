"""Writes the page of the API: a viewer of the document, and each refusal explained below it."""

import re
from collections.abc import Iterator
from html import escape
from typing import Any

Json = dict[str, Any]

_PROBLEMS = {"400": "problem-shape", "413": "problem-too-large", "422": "problem-meaning"}


def reference_html(document: Json) -> str:
    """Return the whole page for an OpenAPI document as `openapi.py` writes it."""
    parts = [
        *_head(document["info"]),
        '<main><div id="viewer"><noscript><p>The viewer needs JavaScript. The document itself is'
        ' <a href="/openapi.json">openapi.json</a>.</p></noscript></div>',
        *_problems(document["components"]["responses"]),
        "</main></body></html>\n",
    ]
    return "\n".join(parts)


def _head(about: Json) -> Iterator[str]:
    title = f"{escape(about['title'])}: the API"
    yield '<!doctype html><html lang="en"><head><meta charset="utf-8">'
    yield '<meta name="viewport" content="width=device-width, initial-scale=1">'
    yield f'<title>{title}</title><link rel="icon" href="data:,">'
    yield '<link rel="stylesheet" href="/docs/viewer.css">'
    yield '<link rel="stylesheet" href="/docs/reference.css">'
    yield '<script src="/docs/viewer.js" defer></script>'
    yield '<script src="/docs/start.js" defer></script></head><body>'
    yield f"<header><h1>{title}</h1>"
    yield from _paragraphs(about["description"])
    yield f"<p>Version {escape(about['version'])}, OpenAPI 3.1: "
    yield '<a href="/openapi.json">openapi.json</a>. What <a href="#refusals">each refusal</a>'
    yield " means is below the calls.</p></header>"


def _problems(responses: Json) -> Iterator[str]:
    yield '<section id="refusals"><h2>Refusals</h2><p>Every refusal is problem details (RFC 9457,'
    yield " <code>application/problem+json</code>). Each entry of <code>errors</code> points to a"
    yield " place in the request (JSON Pointer, RFC 6901) and says what was expected, what came"
    yield " and what to do.</p>"
    for name, response in responses.items():
        kind = _PROBLEMS.get(name)
        status = re.sub(r"(\d+)OfRecords", r"\1, of a call on records", name)
        yield f'<article id="refusal-{name}"><h3{f" id={kind}" if kind else ""}>{status}</h3>'
        yield from _paragraphs(response["description"])
        yield "</article>"
    yield "</section>"


def _paragraphs(text: str) -> Iterator[str]:
    for paragraph in text.split("\n\n"):
        if paragraph:
            yield f"<p>{_prose(paragraph)}</p>"


def _prose(text: str) -> str:
    return re.sub(r"`([^`]+)`", r"<code>\1</code>", escape(text))
