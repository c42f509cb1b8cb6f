"""One engine in two places: what the worker on the device answers is what the server answers.

The worker is the built one, in Chromium, under the policy the server sends; the server's side is
asked over HTTP. Numbers may differ by 1e-9 (two Pythons differ in the last digits), nothing else:
names, order, words and refusals are equal.
"""

import json
import urllib.error
import urllib.request
from collections import Counter

import pytest
from drawing import LONG, seeds
from questions import body_of

from basinside.engine import door

QUESTIONS = seeds(300)
TOLERANCE = 1e-9

# Speaks to the built worker as the page does, without the page in between.
START = """
async () => {
  const text = async (path) => (await fetch(path)).text();
  const main = /assets\\/index-[\\w-]+\\.js/.exec(await text('/'))[0];
  // The page starts it from whichever of its own scripts is built to do so.
  const first = await text('/' + main);
  const named = [...new Set(first.match(/[\\w-]+-[\\w-]{8}\\.js/g))];
  const others = await Promise.all(named.map((name) => text('/assets/' + name)));
  const script = /\\bworker-[\\w-]+\\.js/.exec([first, ...others].join())[0];
  const pack = JSON.parse(await text('/engine.json'));
  const worker = new Worker('/assets/' + script, { type: 'module' });
  globalThis.states = [];
  await new Promise((ready, failed) => {
    worker.onerror = (event) => failed(new Error(event.message));
    worker.onmessage = ({ data }) => {
      states.push(data.state);
      if (data.state === 'failed') failed(new Error(data.why));
      if (data.state === 'ready') ready();
    };
    worker.postMessage({ pack });
  });
  globalThis.put = (question, body) => new Promise((answered) => {
    worker.onmessage = ({ data }) => answered([data.status ?? data.why, data.body]);
    worker.postMessage({ id: 1, question, body });
  });
  return pack.engine_version;
}
"""


@pytest.fixture(scope="module")
def worker(browser, served):
    """A page in which the built worker is warm."""
    context = browser.new_context()
    page = context.new_page()
    # A page of this origin on which nothing else asks.
    page.goto(f"{served}/font-license.txt")
    page.engine_version = page.evaluate(START)
    yield page
    context.close()


def on_server(address, name, body):
    request = urllib.request.Request(
        f"{address}/api/{name}", body.encode(), {"content-type": "application/json"}
    )
    try:
        with urllib.request.urlopen(request) as reply:
            return reply.status, reply.read()
    except urllib.error.HTTPError as refused:
        with refused:
            return refused.code, refused.read()


def differences(given, known, place=""):
    """Yield where two parsed answers differ, order of names included."""
    if isinstance(given, dict) and isinstance(known, dict):
        if list(given) != list(known):
            yield f"{place}: {list(given)} for {list(known)}"
        for name in given.keys() & known.keys():
            yield from differences(given[name], known[name], f"{place}/{name}")
    elif isinstance(given, list) and isinstance(known, list):
        if len(given) != len(known):
            yield f"{place}: {len(given)} for {len(known)}"
        for at, (one, other) in enumerate(zip(given, known, strict=False)):
            yield from differences(one, other, f"{place}/{at}")
    elif isinstance(given, float) and isinstance(known, float):
        if abs(given - known) > TOLERANCE * max(1, abs(known)):
            yield f"{place}: {given!r} for {known!r}"
    elif type(given) is not type(known) or given != known:
        yield f"{place}: {given!r} for {known!r}"


@pytest.mark.parametrize(
    "other",
    [
        {"a": [1 + 2e-9, {"b": "x"}], "c": None},
        {"a": [1.0, {"b": "y"}], "c": None},
        {"a": [{"b": "x"}, 1.0], "c": None},
        {"c": None, "a": [1.0, {"b": "x"}]},
        {"a": [1.0], "c": None},
        {"a": [1, {"b": "x"}], "c": None},
    ],
)
def test_an_answer_that_differs_is_seen(other):
    known = {"a": [1.0, {"b": "x"}], "c": None}
    assert list(differences(other, known))
    assert list(differences({"a": [1 + 9e-10, {"b": "x"}], "c": None}, known)) == []


def test_device_and_server_carry_the_same_engine(worker, served):
    with urllib.request.urlopen(f"{served}/api/health") as health:
        assert json.load(health)["engine_version"] == worker.engine_version


def test_the_worker_says_how_far_it_is_and_is_ready_last(worker):
    states = worker.evaluate("states")
    assert states[-2:] == ["starting", "ready"]
    assert set(states[:-2]) == {"loading"}


def test_the_same_questions_get_the_same_answers_and_the_same_refusals(worker, served):
    statuses = Counter()
    astray = []
    for seed in QUESTIONS:
        name, body = body_of(seed)
        status, reply = on_server(served, name, body)
        given_status, given = worker.evaluate("asked => put(...asked)", [name, body])
        statuses[name, status] += 1
        if given_status != status:
            astray.append(f"seed {seed}: {given_status} for {status}")
        else:
            found = differences(json.loads(given), json.loads(reply))
            astray += [f"seed {seed}: {difference}" for difference in found]
    assert astray == []
    # Were they all refused, or all alike, this would prove little.
    answered = sum(count for (_, status), count in statuses.items() if status == 200)
    assert len(QUESTIONS) / 2 < answered < len(QUESTIONS)
    if LONG:
        assert statuses.keys() == {
            (name, status) for name in ("formulations", "predictions") for status in (200, 400, 422)
        }
        assert min(statuses.values()) >= 10, statuses


def test_every_call_answers_its_examples_alike_in_both_places(worker, served):
    with urllib.request.urlopen(f"{served}/openapi.json") as reply:
        paths = json.load(reply)["paths"]
    asked = [
        (path.removeprefix("/api/"), json.dumps(example["value"]))
        for path, calls in paths.items()
        if "examples"
        in (
            body := calls.get("post", {})
            .get("requestBody", {})
            .get("content", {})
            .get("application/json", {})
        )
        for example in body["examples"].values()
        if path.removeprefix("/api/") in door.QUESTIONS
    ]
    assert {name for name, _ in asked} >= {
        *("mixes", "schedules", "judgements", "mends", "lightenings", "labels", "reaches"),
        *("calibrations", "swatch_plans"),
    }
    for name, body in asked:
        status, known = on_server(served, name, body)
        given_status, given = worker.evaluate("asked => put(...asked)", [name, body])
        assert (name, given_status) == (name, status)
        assert list(differences(json.loads(given), json.loads(known))) == []
