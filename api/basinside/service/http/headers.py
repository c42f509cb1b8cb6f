"""The headers of every response: what a page may do, and what a cache may keep."""

from litestar.types import Message, Scope

# WebAssembly is compiled from our own origin only; without this word the engine never starts.
CONTENT_SECURITY_POLICY = (
    "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; img-src 'self' data: blob:;"
    " object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
)

# As bytes, ready to send: on answers to calculations each conversion costs time.
_FOR_ALL = [
    (b"content-security-policy", CONTENT_SECURITY_POLICY.encode()),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"x-content-type-options", b"nosniff"),
]
# These matter for a document only; browsers read them nowhere else.
_FOR_DOCUMENTS = [
    *_FOR_ALL,
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"permissions-policy", b"geolocation=(), microphone=(), payment=(), usb=()"),
    (b"referrer-policy", b"no-referrer"),
]
_NOT_KEPT = (b"cache-control", b"no-store")


async def add_headers(message: Message, scope: Scope) -> None:  # noqa: ARG001
    """Add the safeguards, and forbid caching unless the response says otherwise."""
    if message["type"] != "http.response.start":
        return
    headers = list(message["headers"])
    named = dict(headers)
    if _NOT_KEPT[0] not in named:
        headers.append(_NOT_KEPT)
    document = b"json" not in named.get(b"content-type", b"")
    message["headers"] = headers + (_FOR_DOCUMENTS if document else _FOR_ALL)
