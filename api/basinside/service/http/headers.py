"""The headers every response carries: what a page may do, and what may be kept."""

from litestar.datastructures import MutableScopeHeaders
from litestar.types import Message, Scope

# WebAssembly is compiled from our own origin only; without the word the engine never starts.
CONTENT_SECURITY_POLICY = (
    "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; img-src 'self' data:;"
    " object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
)

_ALWAYS = {
    "content-security-policy": CONTENT_SECURITY_POLICY,
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "geolocation=(), microphone=(), payment=(), usb=()",
    "referrer-policy": "no-referrer",
    "x-content-type-options": "nosniff",
    "cache-control": "no-store",
}


async def add_headers(message: Message, scope: Scope) -> None:  # noqa: ARG001
    """Add each header that the response does not already set for itself."""
    if message["type"] != "http.response.start":
        return
    headers = MutableScopeHeaders.from_message(message)
    for name, value in _ALWAYS.items():
        headers.setdefault(name, value)
