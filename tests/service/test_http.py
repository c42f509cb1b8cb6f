"""What every caller may count on: statuses, methods, headers, and one address for each thing."""

import http.client
import json
from urllib.parse import urlsplit

import pytest
from running import PATIENCE_S

from basinside import __version__
from basinside.engine.door import engine_version

SERVED = ["/api/health", "/api/products", "/openapi.json", "/docs", "/"]
CALCULATIONS = [
    "/api/formulations",
    "/api/predictions",
    "/api/judgements",
    "/api/mixes",
    "/api/schedules",
    "/api/mends",
    "/api/lightenings",
    "/api/labels",
    "/api/reaches",
    "/api/calibrations",
    "/api/swatch_plans",
]
UNKNOWN = ["/nope", "/api", "/api/nope", "/docs/nope", "/assets/nope.js", "/a%00b", "/api/health/x"]
SAFE_HEADERS = {
    "x-content-type-options": "nosniff",
    "cross-origin-resource-policy": "same-origin",
}
DOCUMENT_HEADERS = {
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
}


def problem_of(reply, status):
    assert reply.status_code == status, reply.text
    assert reply.headers["content-type"] == "application/problem+json"
    problem = reply.json()
    assert problem["status"] == status
    assert problem["title"]
    assert problem["detail"].endswith(".")
    return problem


def test_health_says_which_versions_answer(client):
    assert client.get("/api/health").json() == {
        "status": "ok",
        "version": __version__,
        "engine_version": engine_version(),
        "backup_proven_at": None,
        "backup_failed": "",
    }


def test_the_demo_shelf_is_invented_and_says_so(client):
    shelf = client.get("/api/products").json()
    assert shelf["demo"] is True
    assert 20 <= len(shelf["products"]) <= 30
    assert len({product["class"] for product in shelf["products"]}) == 5
    for product in shelf["products"]:
        # Common practice, no published source: the trade's windows for toning lightened hair.
        assert 1 <= product["window"]["min"] < product["window"]["max"] <= 30
        assert (product["class"] == "direct") == (product["developer_percent"] == [])


def test_the_demo_shelf_goes_into_a_calculation_unchanged(client):
    products = client.get("/api/products").json()["products"]
    for product in products:
        mix = {"parts": [{"product": product["id"], "grams": 30}], "minutes": 5}
        asked = {"hair": {"level": 10}, "mix": mix, "products": products, "minutes": [5]}
        reply = client.post("/api/predictions", json=asked)
        assert reply.status_code == 200, reply.text


@pytest.mark.parametrize("path", UNKNOWN)
@pytest.mark.parametrize("method", ["GET", "POST", "PUT", "PATCH", "DELETE", "HEAD"])
def test_an_unknown_path_is_a_404_whatever_is_done_to_it(client, path, method):
    reply = client.request(method, path)
    if method == "HEAD":
        assert reply.status_code == 404
    else:
        assert "/docs" in problem_of(reply, 404)["detail"]


@pytest.mark.parametrize("path", [*SERVED, *CALCULATIONS])
@pytest.mark.parametrize("method", ["PUT", "PATCH", "DELETE", "TRACE"])
def test_a_wrong_method_is_a_405_that_says_which_are_right(client, path, method):
    reply = client.request(method, path)
    allowed = reply.headers["allow"].split(", ")
    assert ("POST" if path in CALCULATIONS else "GET") in allowed
    assert method not in allowed
    assert reply.headers["allow"] in problem_of(reply, 405)["detail"]


@pytest.mark.parametrize("path", CALCULATIONS)
def test_a_calculation_is_not_got(client, path):
    assert "POST" in client.get(path).headers["allow"]


@pytest.mark.parametrize("path", SERVED)
def test_what_can_be_got_can_be_asked_about(client, path):
    got, asked = client.get(path), client.head(path)
    assert asked.status_code == got.status_code == 200
    assert asked.content == b""
    assert asked.headers["content-type"] == got.headers["content-type"]


@pytest.mark.parametrize("path", [*SERVED, *UNKNOWN, "/docs/reference.css", "/api/formulations"])
def test_every_response_carries_the_same_safeguards(client, path):
    headers = client.get(path).headers
    assert SAFE_HEADERS.items() <= dict(headers).items()
    if "json" not in headers["content-type"]:
        assert DOCUMENT_HEADERS.items() <= dict(headers).items()
    policy = headers["content-security-policy"]
    assert "default-src 'self'" in policy
    assert "unsafe-inline" not in policy
    assert "'unsafe-eval'" not in policy
    # Without this word the phone's engine would never start, and say nothing.
    assert "'wasm-unsafe-eval'" in policy
    assert "frame-ancestors 'none'" in policy


def test_answers_are_not_kept_by_anything_on_the_way(client, prediction):
    assert client.post("/api/predictions", json=prediction).headers["cache-control"] == "no-store"
    assert client.get("/api/health").headers["cache-control"] == "no-store"


def test_a_body_of_a_mebibyte_is_read_and_one_byte_more_is_a_413(client):
    limit = 1024 * 1024
    assert client.post("/api/predictions", content=b" " * limit).status_code == 400
    problem = problem_of(client.post("/api/predictions", content=b" " * (limit + 1)), 413)
    assert "1 MiB" in problem["detail"]


def test_a_body_that_does_not_say_how_long_it_is_is_measured_as_it_comes(client):
    def too_much():
        for _ in range(3 * 1024):
            yield b"[" * 1024

    problem_of(client.post("/api/formulations", content=too_much()), 413)


@pytest.mark.parametrize("announced", [True, False], ids=["announced", "chunked"])
def test_three_megabytes_never_bring_the_server_down(served, announced):
    """Over a real socket the early refusal may cut the connection while we still write."""
    address = urlsplit(served)
    connection = http.client.HTTPConnection(address.hostname, address.port, timeout=PATIENCE_S)
    body = b"[" * 3_000_000 if announced else iter([b"[" * 100_000] * 30)
    try:
        connection.request("POST", "/api/predictions", body, encode_chunked=not announced)
        assert connection.getresponse().status == 413
    except (BrokenPipeError, ConnectionResetError):
        pass
    finally:
        connection.close()
    after = http.client.HTTPConnection(address.hostname, address.port, timeout=PATIENCE_S)
    after.request("GET", "/api/health")
    assert json.load(after.getresponse())["status"] == "ok"
    after.close()


def test_a_fault_of_ours_is_a_500_that_tells_a_caller_nothing_of_the_client(
    client, app, monkeypatch, caplog
):
    class Broken:
        def __getattr__(self, name):
            raise RuntimeError("Ada Example, patch test positive")

    monkeypatch.setattr(app.state, "shelf", Broken())
    reply = client.get("/api/products")
    problem_of(reply, 500)
    assert "Ada" not in reply.text
    assert "Ada" not in caplog.text
    assert "products.py" in caplog.text


@pytest.mark.parametrize(
    ("path", "says"),
    [
        ("/api/health?verbose=1", 'no parameter "verbose". It takes none.'),
        ("/api/safety/rules?x", 'no parameter "x". It takes none.'),
        ("/api/products?line=a&line=b", 'no parameter "line". It takes none.'),
    ],
)
def test_a_parameter_that_a_call_does_not_take_is_refused_in_words(client, path, says):
    assert says in problem_of(client.get(path), 400)["detail"]


def test_a_calculation_takes_no_parameter(client):
    reply = client.post("/api/mixes?step=5", json={})
    assert 'no parameter "step"' in problem_of(reply, 400)["detail"]


def test_a_path_with_line_breaks_forges_no_line_of_the_log(client, monkeypatch, caplog):
    def broken(*_):
        raise RuntimeError

    monkeypatch.setattr("basinside.service.http.pages._find", broken)
    problem_of(client.get("/a%0aERROR%20forged"), 500)
    assert "forged" in caplog.text
    assert not [line for line in caplog.text.splitlines() if line.startswith("ERROR forged")]
