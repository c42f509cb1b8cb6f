"""Changes as they come, from a real server on the loopback interface."""

import json
import time

import httpx
import pytest
from phone import Phone
from running import PATIENCE_S, Server
from test_push import problem

from basinside.cli.devices import revoke
from basinside.cli.serve import Settings
from basinside.service.store.salon import DATABASE_FILE, Salon


@pytest.fixture(scope="module")
def phones(tmp_path_factory):
    """Two phones of one real server, over HTTP."""
    folder = tmp_path_factory.mktemp("live")
    server = Server(folder).start()
    salon = Salon(folder / DATABASE_FILE)
    with httpx.Client(base_url=server.address, timeout=PATIENCE_S) as client:
        now_ms = time.time_ns() // 1_000_000
        two = [Phone(client, salon, number, now_ms) for number in (1, 2)]
        for phone in two:
            phone.pair(now_ms)
        yield two
    salon.close()
    server.stop()


def following(phone, cursor):
    return phone.client.stream(
        "GET", "/api/sync/live", params={"cursor": cursor}, headers=phone.headers
    )


def events(lines):
    """The events of a stream: their name, id and value."""
    event = {}
    for line in lines:
        if line:
            name, _, value = line.partition(": ")
            event[name] = value
        elif "data" in event:
            yield event["event"], event.get("id"), json.loads(event["data"])
            event = {}


def test_what_one_writes_comes_to_the_other_chained_to_where_it_stands(phones):
    ana, ben = phones
    _, cursor = ben.all_changes()
    with following(ben, cursor) as stream:
        assert stream.headers["content-type"].startswith("text/event-stream")
        coming = events(stream.iter_lines())
        for text in ("the first", "the second"):
            ana.push(ana.note(text))
            name, after, told = next(coming)
            assert (name, told["from"]) == ("change", cursor)
            assert [change["fields"]["text"]["v"] for change in told["changes"]] == [text]
            cursor = after
    assert ben.all_changes()[1] == cursor


def test_who_is_far_behind_is_told_to_fetch(phones):
    ana, ben = phones
    _, cursor = ben.all_changes()
    ana.push(*[ana.note() for _ in range(101)])
    with following(ben, cursor) as stream:
        assert next(events(stream.iter_lines()))[0] == "poke"


def test_who_stands_in_another_history_is_told_so(phones):
    _, ben = phones
    _, cursor = ben.all_changes()
    with ben.salon.writing() as writing:
        writing.begin_epoch(2, "2026-11-25T10:00:00Z", "a copy was put back")
    with following(ben, cursor) as stream:
        assert next(events(stream.iter_lines()))[0] == "epoch"
    for phone in phones:  # what is written from now on is of the new history
        phone.epoch = "e2"


def test_who_comes_with_a_cursor_that_was_never_given_is_sent_to_the_pull(phones):
    _, ben = phones
    with following(ben, "e9.1.00000000") as stream:
        assert next(events(stream.iter_lines()))[0] == "poke"


def test_a_stream_is_for_paired_devices(phones):
    ana, _ = phones
    reply = ana.client.get("/api/sync/live")
    assert (reply.status_code, reply.json()["code"]) == (401, "pairing_expired")


def test_a_stream_ends_when_its_device_is_revoked_and_tells_nothing_more(phones):
    ana, ben = phones
    _, cursor = ben.all_changes()
    with following(ben, cursor) as stream:
        coming = events(stream.iter_lines())
        ana.push(ana.note("before"))
        assert next(coming)[0] == "change"
        revoke(Settings("127.0.0.1", 0, ben.salon.path.parent), ben.device_id)
        ana.push(ana.note("after"))
        assert [name for name, _, _ in coming] == ["poke"]
    problem(ben.pull(), 403, "device_revoked")


def test_a_phone_that_only_listens_is_heard_of(phones):
    follower, _ = phones
    before = last_seen(follower)
    with follower.client.stream("GET", "/api/sync/live", headers=follower.headers) as stream:
        lines = stream.iter_lines()  # let go of, it would hang up
        next(lines)
        until = time.monotonic() + PATIENCE_S
        while last_seen(follower) == before and time.monotonic() < until:
            time.sleep(0.1)
    assert last_seen(follower) != before


def last_seen(phone):
    devices = phone.client.get("/api/devices", headers=phone.headers).json()["devices"]
    [mine] = [each for each in devices if each["device_id"] == phone.device_id]
    return mine["last_seen_at"]
