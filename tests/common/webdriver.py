"""The few commands of W3C's WebDriver that a walk needs: over HTTP, or over Firefox's own socket.

Playwright drives Chromium alone here: of the others it wants builds of its own. Debian's WebKitGTK
has a WebDriver server, and Firefox takes the same commands by its Marionette protocol. So neither
needs a further package. Source: W3C WebDriver (Recommendation 2018), for names and endpoints;
Firefox Source Docs, "Marionette protocol", for its messages, from memory.
"""

import contextlib
import itertools
import json
import socket
import time
import urllib.error
import urllib.request

from browser import PATIENCE_MS

EVERY_S = 0.1
# W3C WebDriver, "Elements": the key under which an element's id is told.
ELEMENT = "element-6066-11e4-a52e-4f735466cecf"
# What a page that is drawn again does to a command; the next try may find it settled.
PASSING = {
    *("stale element reference", "element click intercepted", "element not interactable"),
    *("no such element", "javascript error", "no such frame", "no such execution context"),
}
ENDPOINTS = {
    "Navigate": ("POST", "/url"),
    "ExecuteScript": ("POST", "/execute/sync"),
    "ElementClick": ("POST", "/element/{id}/click"),
    "ElementSendKeys": ("POST", "/element/{id}/value"),
}
# The first thing in sight of this kind and these words, once it takes taps.
FIND = """
const [kind, words, whole] = arguments;
const plain = (text) => (text ?? "").replace(/\\s+/g, " ").trim();
const named = (one) => {
    const by = one.getAttribute("aria-labelledby");
    const label = by
        ? by.split(" ").map((id) => document.getElementById(id)?.textContent).join(" ")
        : (one.getAttribute("aria-label") ??
            (one.labels?.length ? one.labels[0].textContent : one.textContent));
    return plain(label);
};
return [...document.querySelectorAll(kind)].find((one) => {
    const shown = one.getClientRects().length > 0 && !one.closest("[inert], .settles");
    const name = named(one);
    return shown && !one.disabled && (whole ? name === words : name.includes(words));
}) ?? null;
"""


class CommandFailedError(Exception):
    """What the browser says of a command that it did not do: its code, and its words."""


class OverHttp:
    """The commands as a WebDriver server takes them, on a port of this machine."""

    def __init__(self, port):
        self._session = f"http://127.0.0.1:{port}"

    def begin(self, capabilities):
        given = {"capabilities": {"alwaysMatch": capabilities}}
        begun = self._ask("POST", "/session", given)
        self._session += f"/session/{begun['sessionId']}"

    def do(self, name, given):
        method, path = ENDPOINTS[name]
        return self._ask(method, path.format(**given), given)

    def close(self):
        """Has nothing to close: each command is a connection of its own."""

    def _ask(self, method, path, given):
        asked = urllib.request.Request(
            self._session + path,
            json.dumps(given).encode(),
            {"content-type": "application/json"},
            method=method,
        )
        try:
            with urllib.request.urlopen(asked, timeout=PATIENCE_MS / 1000) as reply:
                return json.load(reply)["value"]
        except urllib.error.HTTPError as refused:
            with refused:
                said = json.load(refused)["value"]
            raise CommandFailedError(said["error"], said["message"]) from None


class OverMarionette:
    """The commands as Firefox takes them: a length, a colon, [type, id, name or fault, values]."""

    def __init__(self, port):
        self._socket = socket.create_connection(("127.0.0.1", port), timeout=PATIENCE_MS / 1000)
        self._said = self._socket.makefile("rb")
        self._numbers = itertools.count(1)
        self._next()

    def begin(self, capabilities):
        self.do("NewSession", {"capabilities": {"alwaysMatch": capabilities}})

    def do(self, name, given):
        message = json.dumps([0, next(self._numbers), f"WebDriver:{name}", given]).encode()
        self._socket.sendall(b"%d:%b" % (len(message), message))
        _, _, fault, values = self._next()
        if fault:
            raise CommandFailedError(fault["error"], fault["message"])
        return values.get("value")

    def close(self):
        self._said.close()
        self._socket.close()

    def _next(self):
        length = b""
        while (digit := self._said.read(1)) != b":":
            if not digit:
                raise ConnectionError("Firefox ended.")
            length += digit
        return json.loads(self._said.read(int(length)))


class Window:
    """The window of a browser that is driven this way, and what a person does in it."""

    def __init__(self, way):
        self._way = way

    def close(self):
        self._way.close()

    def go(self, address):
        self._way.do("Navigate", {"url": address})

    def says(self, selector, begins=""):
        """Return the text of the first such element, once it begins so."""
        script = "return document.querySelector(arguments[0])?.textContent ?? ''"
        return self._once(
            f"text “{begins}…” in {selector}",
            lambda: self._run(script, selector),
            lambda text: text and text.startswith(begins),
        )

    def shows(self, kind, words="", *, whole=False):
        """Return the element of this kind and these words, once it is in sight and takes taps."""
        return self._once(f"{kind} “{words}”", lambda: self._run(FIND, kind, words, whole), bool)

    def tap(self, kind, words, *, whole=True):
        self._do_to("ElementClick", {}, kind, words, whole)

    def write(self, kind, words, text):
        self._do_to("ElementSendKeys", {"text": text}, kind, words, True)

    def _do_to(self, name, values, kind, words, whole):
        def tried():
            found = self.shows(kind, words, whole=whole)
            self._way.do(name, {"id": found[ELEMENT], **values})
            return True

        self._once(f"{name} at {kind} “{words}”", tried, bool)

    def _run(self, script, *values):
        return self._way.do("ExecuteScript", {"script": script, "args": list(values)})

    def _once(self, what, read, holds):
        """Return what `read` says once `holds` is true of it; fail with all the page says."""
        until_s = time.monotonic() + PATIENCE_MS / 1000
        while time.monotonic() < until_s:
            with passing_over():
                if holds(said := read()):
                    return said
            time.sleep(EVERY_S)
        shown = self._run("return document.body.innerText")
        raise AssertionError(f"There is no {what}. The page says:\n{shown}")


@contextlib.contextmanager
def passing_over():
    """Let a command fail that came while the page was drawn again."""
    try:
        yield
    except CommandFailedError as fault:
        if fault.args[0] not in PASSING:
            raise
