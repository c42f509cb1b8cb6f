"""What the page weighs, and that it keeps to itself."""

import re
from urllib.parse import urlsplit

from browser import BUILT, need_the_built_page
from playwright.sync_api import expect

MOST_SCRIPT_BYTES = 60 * 1024
# These visits do without the page's service worker, and the driver says so on the console.
WORKER_KEPT_OUT = "Service Worker registration blocked by Playwright"


def test_the_shells_scripts_weigh_sixty_kilobytes_at_most():
    need_the_built_page()
    index = (BUILT / "index.html").read_text()
    scripts = re.findall(
        r'<(?:script|link rel="modulepreload")[^>]*?(?:src|href)="/([^"]+)"', index
    )
    assert scripts
    packed = {name: (BUILT / f"{name}.br").stat().st_size for name in scripts}
    assert 0 < sum(packed.values()) <= MOST_SCRIPT_BYTES, packed


def test_what_is_sent_is_what_was_packed(visit):
    shown = visit()
    with shown.page.expect_response(re.compile(r"/assets/.*\.js$")) as script:
        shown.open()
    assert script.value.headers["content-encoding"] == "br"


def test_the_walk_breaks_no_policy_and_asks_no_other_origin(visit, memory):
    shown = visit(memory=memory)
    page = shown.page
    asked, said = [], []
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: said.append((message.location["url"], message.text)))
    page.on("pageerror", lambda fault: said.append(("", str(fault))))
    page.add_init_script(
        """globalThis.broken = [];
        addEventListener("securitypolicyviolation",
          ({ violatedDirective, blockedURI }) => broken.push(`${violatedDirective} ${blockedURI}`));
        """
    )
    assert len(list(shown.every_screen())) == 9
    assert page.evaluate("broken") == []
    # A walk that rests for two seconds asks for the engine, which these visits do without.
    about = [(url, text) for url, text in said if not url.endswith("/engine.json")]
    assert [text for _, text in about if text != WORKER_KEPT_OUT] == []
    assert {f"{urlsplit(url).scheme}://{urlsplit(url).netloc}" for url in asked} == {shown.address}
    assert {urlsplit(url).path for url in asked} >= {"/", "/api/products", "/api/predictions"}


def test_the_policy_lets_in_no_inline_and_no_foreign_script(visit):
    shown = visit()
    said = []
    shown.page.on("console", lambda message: said.append(message.text))
    policy = shown.page.goto(shown.address).headers["content-security-policy"]
    assert "'unsafe-inline'" not in policy
    assert "'unsafe-eval'" not in policy.replace("'wasm-unsafe-eval'", "")
    shown.page.evaluate(
        """() => {
          const inline = document.createElement("script");
          inline.textContent = "globalThis.slipped_in = true";
          document.body.append(inline);
        }"""
    )
    expect(shown.page.get_by_role("heading", name="Basinside")).to_be_visible()
    assert shown.page.evaluate("globalThis.slipped_in") is None
    assert any("Content Security Policy" in text for text in said)
