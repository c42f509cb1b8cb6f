"""What the page does with its own engine, and what it says where that cannot be.

The real page, server and browser; what goes wrong is made to go wrong on the way between them.
"""

import re
import time

import pytest
from browser import PATIENCE_MS
from drawing import in_turn, seeds
from playwright.sync_api import expect
from visit import Visit

ENGINE = re.compile(r"/assets/engine-[0-9a-f]+/")
READY = re.compile(r"^Ready on this device, version \w+\.$")


def say_of_engine(page):
    """What the settings say of the engine on this device."""
    if not page.locator("#engine").count():
        page.get_by_role("link", name="Settings").click()
    return page.locator("#engine").get_by_role("status")


def where(page):
    """The line under the formulas that says where and when they were worked out."""
    return page.locator("#mix").get_by_text(re.compile("^Worked out on"))


def test_a_warm_device_asks_no_server_and_goes_on_when_it_is_gone(page, server_to_stop):
    visit = Visit(page, server_to_stop.address).open()
    expect(say_of_engine(page)).to_have_text(READY)
    page.get_by_role("button", name="Done").click()
    asked = []
    page.on("request", lambda request: asked.append(request.url))
    visit.to_the_mix()
    expect(where(page)).to_contain_text("this device")
    assert [url for url in asked if "/api/" in url] == []
    for_pearl = visit.mixes.first.inner_text()
    server_to_stop.stop()
    visit.fold("wish").click()
    visit.radio("copper", "Tone").click()
    visit.button("What to mix").click()
    expect(visit.mixes.first).not_to_have_text(for_pearl, use_inner_text=True)
    expect(where(page)).to_contain_text("this device")
    visit.button("Mix this").click()
    expect(visit.minute).to_be_visible()


def no_webassembly(route):
    answer = route.fetch()
    policy = answer.headers["content-security-policy"].replace(" 'wasm-unsafe-eval'", "")
    route.fulfill(response=answer, headers=answer.headers | {"content-security-policy": policy})


def no_memory(route):
    """A phone that has no memory left for the runtime."""
    refused = "WebAssembly.instantiateStreaming = async () => {"
    refused += " throw new RangeError('WebAssembly.instantiate(): Out of memory') };"
    answer = route.fetch()
    route.fulfill(response=answer, body=refused + answer.text())


def cut_short(route):
    answer = route.fetch()
    route.fulfill(response=answer, body=answer.body()[:-1000])


def another_answer(route):
    answer = route.fetch()
    route.fulfill(response=answer, body=answer.text().replace('"level 9', '"level 3'))


WORKER, LIST = re.compile(r"/assets/worker-.*\.js"), re.compile("/engine.json")
# What goes wrong on the way: where, how, and the words for it. A third of them each day.
MISHAPS = {
    "webassembly blocked": (WORKER, no_webassembly, "does not let the page run"),
    "no pack": (LIST, lambda route: route.fulfill(status=404), "No signal. Your work is safe."),
    "no network": (LIST, lambda route: route.abort(), "Check the signal"),
    "file missing": (
        re.compile(ENGINE.pattern + "python_stdlib.zip.1"),
        lambda route: route.fulfill(status=404),
        "is missing. Update the page",
    ),
    "half a file": (re.compile(ENGINE.pattern + "engine.zip"), cut_short, "interrupted"),
    "another answer": (LIST, another_answer, "failed its self-test"),
    "download broken off": (ENGINE, lambda route: route.abort(), "interrupted"),
    "no worker": (WORKER, lambda route: route.abort(), "could not start"),
}


@pytest.mark.parametrize("mishap", [list(MISHAPS)[place] for place in seeds(len(MISHAPS), parts=3)])
def test_a_device_that_cannot_says_why_and_the_server_works_out(page, served, mishap):
    path, goes_wrong, words = MISHAPS[mishap]
    page.route(path, goes_wrong)
    visit = Visit(page, served).open()
    expect(say_of_engine(page)).to_contain_text(words)
    expect(say_of_engine(page)).to_contain_text("The server calculates instead.")
    page.get_by_role("button", name="Done").click()
    visit.to_the_mix()
    expect(where(page)).to_contain_text("the server")


def test_a_worker_that_never_answers_is_ended_and_the_server_works_out(page, served):
    never = "onmessage = ({data}) => { if (data.pack) postMessage({state: 'ready', kept: true}) }"
    page.route(
        WORKER,
        lambda route: route.fulfill(response=route.fetch(), body=never),
    )
    visit = Visit(page, served).open()
    expect(say_of_engine(page)).to_have_text(READY)
    page.get_by_role("button", name="Done").click()
    visit.to_the_mix()
    expect(where(page)).to_contain_text("the server")
    expect(say_of_engine(page)).to_contain_text("found no answer in 20 s")


def test_a_phone_short_of_memory_ends_the_engine_and_the_server_works_out(page, served):
    page.route(WORKER, no_memory)
    visit = Visit(page, served).open()
    expect(say_of_engine(page)).to_contain_text("short of memory")
    page.get_by_role("button", name="Done").click()
    visit.to_the_mix()
    expect(where(page)).to_contain_text("the server")


def by_itself(page):
    page.evaluate("dispatchEvent(new Event('online'))")


def asked_to(page):
    page.get_by_role("button", name="Try again").click()


@pytest.mark.parametrize("goes_on", in_turn([by_itself, asked_to]), ids=lambda how: how.__name__)
def test_a_download_that_was_broken_off_goes_on_where_it_stopped(page, served, goes_on):
    last = re.compile(ENGINE.pattern + "python_stdlib.zip.2")
    page.route(last, cut_short)
    # Still on its way when the other breaks off, and kept all the same.
    on_its_way = []
    page.route(
        re.compile(ENGINE.pattern + "python_stdlib.zip.1"),
        lambda route, _: on_its_way.append(route),
    )
    with page.expect_event("requestfinished", lambda request: last.search(request.url)):
        Visit(page, served).open()
    page.wait_for_timeout(300)
    on_its_way[0].continue_()
    expect(say_of_engine(page)).to_contain_text("interrupted")
    expect(say_of_engine(page)).to_contain_text("The next try comes by itself.")
    page.unroute(last)
    fetched = []
    page.on("request", lambda request: fetched.append(request.url.split("/")[-1]))
    goes_on(page)
    expect(say_of_engine(page)).to_have_text(READY)
    # The scripts are loaded by the browser itself, from its own cache.
    assert {name for name in fetched if ".zip" in name or ".wasm" in name} == {
        "python_stdlib.zip.2"
    }


def test_a_full_phone_uses_the_engine_and_is_told_that_it_is_not_kept(page, served):
    Visit(page, served).open()
    full = page.context.new_cdp_session(page)
    full.send("Storage.overrideQuotaForOrigin", {"origin": served, "quotaSize": 1_000_000})
    expect(say_of_engine(page)).to_contain_text("the phone has no room to keep it")
    expect(say_of_engine(page)).to_contain_text("Ready on this device")


def test_a_pack_is_kept_once_without_an_old_one_and_starts_as_the_page_opens(page, served):
    Visit(page, served).open()
    page.evaluate("caches.open('engine /assets/engine-000000000000/')")
    expect(say_of_engine(page)).to_have_text(READY)
    page.wait_for_function("caches.keys().then((names) => names.length === 1)")
    fetched = []
    page.on("request", lambda request: fetched.append(request.url))
    page.reload()
    said = say_of_engine(page)
    until_s = time.monotonic() + PATIENCE_MS / 1000
    # Somebody types all the time, so that the page is never at rest: a kept one waits for no rest.
    while not READY.match(said.inner_text()):
        assert time.monotonic() < until_s, said.inner_text()
        page.keyboard.press("Shift")
    assert [url for url in fetched if ".wasm" in url or ".zip" in url] == []


def test_an_engine_nobody_sees_is_ended_and_comes_back_with_a_question(page, served):
    """The browser says that the page is out of sight, and eleven minutes pass on its clock."""
    page.clock.install()
    visit = Visit(page, served).open()
    expect(say_of_engine(page)).to_have_text(READY)
    page.evaluate(
        """() => {
          Object.defineProperty(document, 'hidden', { value: true, configurable: true })
          document.dispatchEvent(new Event('visibilitychange'))
        }"""
    )
    page.clock.fast_forward("11:00")
    expect(say_of_engine(page)).to_contain_text("stopped while nobody saw the page")
    page.evaluate("() => delete document.hidden")
    page.get_by_role("button", name="Done").click()
    visit.to_the_mix()
    # The server and the engine that comes back are both asked; the first answer counts.
    expect(where(page)).to_be_visible()
    expect(say_of_engine(page)).to_have_text(READY)


def test_the_engine_waits_while_somebody_types(page, served):
    """The page's clock is stopped, so that the test says when a second has passed."""
    page.clock.install(time=0)
    page.clock.pause_at(1_000)
    fetched = []
    page.on("request", lambda request: fetched.append(request.url))
    Visit(page, served).open()
    for _ in range(5):
        page.clock.run_for(1_500)
        page.keyboard.press("Shift")
    assert not [url for url in fetched if "engine" in url]
    with page.expect_request(re.compile("/engine.json")):
        page.clock.run_for(2_500)


SPOILT = """async ([name, how]) => {
    const names = await caches.keys();
    const cache = await caches.open(names.find((kept) => kept.startsWith("engine ")));
    const key = (await cache.keys()).find(({ url }) => url.endsWith(`/${name}`));
    const kept = await cache.match(key);
    const bytes = new Uint8Array(await kept.arrayBuffer());
    if (how === "a bit") bytes[Math.floor(bytes.length / 2)] ^= 1;
    const left = how === "cut" ? bytes.slice(0, 5000) : bytes;
    await cache.put(key, new Response(left, { headers: kept.headers }));
}"""


@pytest.mark.parametrize(
    ("name", "how"), in_turn([("pyodide.asm.wasm.1", "cut"), ("python_stdlib.zip.0", "a bit")])
)
def test_a_kept_piece_that_is_damaged_comes_again_and_no_other_does(page, served, name, how):
    visit = Visit(page, served).open()
    expect(say_of_engine(page)).to_have_text(READY)
    asked = []
    page.on("request", lambda request: asked.append(request.url))
    page.evaluate(SPOILT, [name, how])
    with page.expect_request(re.compile(ENGINE.pattern + re.escape(name))) as again:
        page.reload()
    # Past the caches, which may hold what is damaged too.
    assert again.value.all_headers()["cache-control"] == "no-cache"
    visit.open()
    expect(say_of_engine(page)).to_have_text(READY)
    assert [url.split("/")[-1] for url in asked if ".wasm" in url or ".zip" in url] == [name]
