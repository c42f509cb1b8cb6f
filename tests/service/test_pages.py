"""The built page: its own files and no others, compressed where welcome, kept where safe."""

import pytest

SCRIPT = "/assets/main-4f2a9c1b.js"


def test_the_index_is_asked_for_each_time(client):
    reply = client.get("/")
    assert "Built" in reply.text
    assert reply.headers["content-type"] == "text/html; charset=utf-8"
    assert reply.headers["cache-control"] == "no-cache"
    assert client.get("/index.html").text == reply.text


def test_a_hashed_asset_is_kept_for_good(client):
    reply = client.get(SCRIPT, headers={"accept-encoding": "identity"})
    assert reply.headers["cache-control"] == "public, max-age=31536000, immutable"
    assert reply.headers["content-type"] == "text/javascript; charset=utf-8"
    assert reply.text == "let plain = 1;"


def test_wasm_has_the_type_browsers_stream_and_compile(client):
    # WebAssembly Web API, §3 "Streaming module compilation": the type must be exactly this.
    reply = client.get("/assets/engine-0a1b2c3d.wasm")
    assert reply.headers["content-type"] == "application/wasm"


@pytest.mark.parametrize(
    ("accepts", "compressed"),
    [
        ("br", True),
        ("gzip, deflate, br, zstd", True),
        ("br;q=0.5", True),
        ("BR", True),
        ("br;q=0", False),  # RFC 9110 §12.5.3: a weight of 0 means not acceptable
        ("br; q=0.0, gzip", False),
        ("gzip", False),
        ("", False),
        ("brotli", False),
    ],
)
def test_the_compressed_twin_is_sent_where_it_is_welcome(client, accepts, compressed):
    with client.stream("GET", SCRIPT, headers={"accept-encoding": accepts}) as reply:
        raw = b"".join(reply.iter_raw())
    assert (reply.headers.get("content-encoding") == "br") == compressed
    assert raw.startswith(b"brotli") == compressed
    assert reply.headers["vary"] == "accept-encoding"
    assert int(reply.headers["content-length"]) == len(raw)


def test_what_has_not_changed_is_not_sent_again(client):
    tag = client.get("/").headers["etag"]
    again = client.get("/", headers={"if-none-match": f'"other", {tag}'})
    assert (again.status_code, again.content) == (304, b"")
    assert again.headers["etag"] == tag
    assert client.get("/", headers={"if-none-match": '"other"'}).status_code == 200


@pytest.mark.parametrize(
    "path",
    ["/../beside.txt", "/%2e%2e/beside.txt", "/assets/../../beside.txt", "/..%2fbeside.txt"],
)
def test_nothing_beside_the_page_is_served(client, path):
    assert client.get(path).status_code == 404


@pytest.mark.parametrize("path", ["a" * 255, "a" * 256, "b/" + "é" * 200, "c" * 8000, "a%00b"])
def test_a_name_that_no_file_can_have_is_not_found(client, path):
    assert client.get(f"/{path}").status_code == 404


# As Chromium asks for a page that somebody opens.
OPENED = {"accept": "text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8"}


@pytest.mark.parametrize("path", ["/settings", "/client/0199", "/shared", "/old/bookmark/"])
def test_a_browser_that_opens_an_unknown_path_gets_the_page(client, path):
    reply = client.get(path, headers=OPENED)
    assert (reply.status_code, reply.text) == (200, client.get("/").text)
    assert reply.headers["cache-control"] == "no-cache"
    assert client.get(path).status_code == 404  # a program is told that nothing is there


@pytest.mark.parametrize(
    "path", ["/api/nothing", "/api", "/assets/gone-1234.js", "/assets/gone", "/gone.png", "/docs/x"]
)
def test_a_missing_call_or_file_is_never_the_page(client, path):
    assert client.get(path, headers=OPENED).status_code == 404


def test_a_shared_file_that_no_worker_took_opens_the_page_that_says_so(client):
    reply = client.post("/shared", files={"file": b"BEGIN:VCALENDAR"}, follow_redirects=False)
    assert (reply.status_code, reply.headers["location"]) == (303, "/#/shared")


def test_a_page_that_is_not_built_says_how_to_build_it(client, app, monkeypatch, tmp_path):
    monkeypatch.setattr(app.state, "web_folder", tmp_path)
    reply = client.get("/")
    assert reply.status_code == 404
    assert "make run" in reply.json()["detail"]
