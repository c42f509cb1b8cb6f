"""The server tags and packs its answers. A program that asks again gets a few bytes."""

import gzip
import re

import pytest

TAGGED = [
    "/api/clients",
    "/api/devices",
    "/api/health",
    "/api/matters",
    "/api/products",
    "/api/safety/rules",
    "/docs",
    "/openapi.json",
]


@pytest.fixture
def ask(client, phone):
    def asked(path, **headers):
        named = {name.replace("_", "-"): value for name, value in headers.items()}
        return client.get(path, headers=phone.headers | named)

    return asked


@pytest.mark.parametrize("path", TAGGED)
def test_what_has_not_changed_is_not_sent_again(ask, path):
    tag = ask(path).headers["etag"]
    # RFC 9110 §8.8.3: a weak tag, in quotes.
    assert re.fullmatch(r'W/"[0-9a-f]{32}"', tag)
    strong = tag.removeprefix("W/")
    for known in (tag, strong, f'"other", {tag}', "*"):
        again = ask(path, if_none_match=known)
        assert (again.status_code, again.content) == (304, b"")
        assert again.headers["etag"] == tag
    assert ask(path, if_none_match='"other"').status_code == 200


def test_a_tag_changes_with_what_it_is_of(ask, phone):
    tag = ask("/api/clients").headers["etag"]
    phone.push(phone.op("client.create", next(phone.ids), {"name": "Ona Petrel"}))
    changed = ask("/api/clients", if_none_match=tag)
    assert changed.status_code == 200
    assert changed.json()["records"][0]["values"]["name"] == "Ona Petrel"


def test_what_is_long_is_packed_where_that_is_welcome(client):
    for path in ("/api/safety/rules", "/openapi.json", "/docs"):
        plain = client.get(path, headers={"accept-encoding": "identity"})
        assert "content-encoding" not in plain.headers
        with client.stream("GET", path, headers={"accept-encoding": "br, gzip"}) as reply:
            raw = b"".join(reply.iter_raw())
        assert reply.headers["content-encoding"] == "gzip"
        assert reply.headers["vary"] == "accept-encoding"
        assert int(reply.headers["content-length"]) == len(raw) < len(plain.content) / 2
        assert gzip.decompress(raw) == plain.content
        assert reply.headers["etag"] == plain.headers["etag"]


def test_a_page_of_sync_is_packed_and_has_no_tag(client, phone):
    phone.push(*(phone.note() for _ in range(20)))
    for path in ("/api/sync/pull", "/api/sync/snapshot"):
        reply = client.get(path, headers=phone.headers | {"accept-encoding": "gzip"})
        assert reply.headers["content-encoding"] == "gzip"
        assert "etag" not in reply.headers
        assert len(reply.json()["changes"]) == 20


def test_what_is_short_or_refused_is_sent_as_it_is(client):
    packed = {"accept-encoding": "gzip"}
    assert "content-encoding" not in client.get("/api/health", headers=packed).headers
    refused = client.get("/api/clients", headers=packed)
    assert refused.status_code == 401
    assert not {"content-encoding", "etag"} & set(refused.headers)
