"""The plain page that helps a phone to trust the desk: two files and a style sheet.

It is the only page served without TLS, and holds nothing of the salon: a phone cannot read a page
over TLS from a desk it does not trust yet. The comparison with the desk's own screen makes it safe.
"""

from html import escape
from pathlib import Path

from litestar import Litestar, Response, get

from .headers import add_headers

CERTIFICATE = "/basinside-desk.crt"

_STYLE = (
    "body{max-width:36rem;margin:1.5rem auto;padding:0 1rem;font:1.1rem/1.5 system-ui,sans-serif;"
    "color:#111;background:#fff}"
    "a.main{display:block;min-height:64px;line-height:64px;text-align:center;border:2px solid #111;"
    "color:#111;text-decoration:none;font-weight:600}"
    "code{display:block;font-size:1.05rem;word-spacing:.2em;overflow-wrap:anywhere}"
    "summary{min-height:56px;line-height:56px;font-weight:600}"
)

_STEPS = {
    "iPhone or iPad": (
        "Tap the button above in Safari and allow the download.",
        "Open Settings. Near the top is the downloaded profile. Open it, compare the fingerprint"
        " under more details, and install it.",
        "Still in Settings: General, About, at the very end Certificate Trust Settings. Turn on the"
        " salon’s desk.",
    ),
    "Android": (
        "Tap the button above and keep the file.",
        "Open the phone’s settings and search for “CA certificate”. The system warns you about"
        " such a certificate. This one works only in private networks.",
        "Choose the file. Under trusted credentials, user, open it and compare the fingerprint.",
    ),
    "A computer": (
        "Download the file with the button above and open it.",
        "Add it as a root certificate for websites, in the system’s or the browser’s settings.",
        "Open its details and compare the fingerprint.",
    ),
}


def trust_app(authority: Path, fingerprint: str, address: str) -> Litestar:
    """Return the application of the page.

    `authority` is the certificate's file, `fingerprint` its SHA-256, `address` the desk's own.
    """

    @get("/", sync_to_thread=False)
    def page() -> Response[str]:
        return Response(trust_page(fingerprint, address), media_type="text/html; charset=utf-8")

    @get("/trust.css", sync_to_thread=False)
    def style() -> Response[str]:
        return Response(_STYLE, media_type="text/css; charset=utf-8")

    @get(CERTIFICATE, sync_to_thread=True)
    def certificate() -> Response[bytes]:
        return Response(authority.read_bytes(), media_type="application/x-x509-ca-cert")

    return Litestar(
        [page, style, certificate],
        before_send=[add_headers],
        openapi_config=None,
        logging_config=None,
    )


def trust_page(fingerprint: str, address: str) -> str:
    """Return the page as HTML."""
    steps = "".join(
        f"<details><summary>{escape(system)}</summary><ol>"
        + "".join(f"<li>{escape(step)}</li>" for step in each)
        + "</ol></details>"
        for system, each in _STEPS.items()
    )
    return (
        '<!doctype html><html lang="en"><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        '<title>Trust the salon’s desk</title><link rel="stylesheet" href="/trust.css">'
        "<h1>Trust the salon’s desk</h1>"
        "<p>Do this once on each phone. Then nobody on the salon’s network can read or change what"
        " the phone and the desk send each other.</p>"
        f'<p><a class="main" href="{CERTIFICATE}" download>Get the desk’s certificate</a></p>'
        "<p>Compare before you trust it. The desk’s computer shows this fingerprint (SHA-256), and"
        " so does the phone. If they differ, stop and delete the file.</p>"
        f"<code>{escape(fingerprint)}</code>"
        f"{steps}"
        "<p>The names of menus differ from phone to phone. To undo it, delete the certificate in"
        " the same place.</p>"
        f'<p><a class="main" href="{escape(address)}">Open Basinside</a></p></html>'
    )
