"""Connections that hold a place and ask nothing keep nobody else waiting, nor fill the log.

Source: RFC 9112 §9.5 and RFC 6585 leave time limits to servers; the attack is the slow request of
OWASP's "Denial of Service Cheat Sheet". The limits are our own.
"""

import asyncio
import http.client
import os
import re
import signal
import socket
import subprocess
import sys
import threading
from contextlib import ExitStack, contextmanager

import pytest
from own_thread import served_in_a_thread
from running import PATIENCE_S
from waiting import once

from basinside.service.http.connections import Room, guarded, most_connections

HEAD = b"GET / HTTP/1.1\r\nHost: here\r\n\r\n"
POST = b"POST / HTTP/1.1\r\nHost: here\r\nContent-Length: 100000\r\n\r\n"
SHORT_S, LONG_S = 0.3, 3600.0
ENDED = (b"", None)


let_go = threading.Event()


async def echo(scope, receive, send):
    """Answers once the body is there; on /held not before it is let go."""
    while (await receive()).get("more_body"):
        pass
    if scope["path"] == "/held":
        await asyncio.to_thread(let_go.wait, PATIENCE_S)
    await send(
        {"type": "http.response.start", "status": 200, "headers": [(b"content-length", b"2")]}
    )
    await send({"type": "http.response.body", "body": b"ok"})


@contextmanager
def serving(room):
    """A real server in such a room; gives what opens a connection to it."""
    settings = {"http": guarded(room), "lifespan": "off"}
    with ExitStack() as opened, served_in_a_thread(echo, **settings) as address:

        def connected(sent=b""):
            connection = opened.enter_context(socket.create_connection(address, PATIENCE_S))
            connection.sendall(sent)
            return connection

        yield connected


def said_on(connection):
    """What comes next on a connection, or None where it was cut."""
    try:
        return connection.recv(1024)
    except ConnectionResetError:
        return None


@pytest.mark.parametrize("sent", [b"", b"GET / HT", HEAD[:-2]])
def test_a_head_that_does_not_come_is_waited_for_no_longer_than_its_time(sent):
    with serving(Room(50, head_s=SHORT_S, body_s=LONG_S)) as connected:
        assert said_on(connected(sent)) in ENDED


def only_one(room):
    """The one connection of a room, once it is there."""
    return next(iter(once(lambda: [*room._of.get("127.0.0.1", ())], len)))


def at_its_limit(connection):
    """Lets a connection's time run out now."""
    connection.loop.call_soon_threadsafe(connection._at_limit)


def test_after_an_answer_the_next_head_has_its_time_again():
    room = Room(50, head_s=LONG_S, body_s=LONG_S)
    with serving(room) as connected:
        connection = connected(HEAD)
        assert said_on(connection).startswith(b"HTTP/1.1 200")
        once(lambda: room.silent, bool)
        connection.sendall(b"GET")
        at_its_limit(only_one(room))
        # The end of the answer may come before.
        once(lambda: said_on(connection), lambda said: said in ENDED)


def test_a_body_that_stops_coming_is_waited_for_no_longer_than_its_time():
    with serving(Room(50, head_s=LONG_S, body_s=SHORT_S)) as connected:
        assert said_on(connected(POST + b"a")) in ENDED


def test_a_body_that_comes_on_is_taken_however_long_it_takes():
    room = Room(50, head_s=LONG_S, body_s=10.0)
    with serving(room) as connected:
        connection = connected(POST)
        held = only_one(room)
        # What comes together with the head is not counted.
        once(lambda: held._phase, lambda phase: phase == "body")
        for _ in range(3):
            connection.sendall(b"a" * 25_000)
            once(lambda: held._came, lambda came: came >= 25_000)
            at_its_limit(held)
            once(lambda: held._came, lambda came: came == 0)
        connection.sendall(b"a" * 25_000)
        assert said_on(connection).startswith(b"HTTP/1.1 200")


def test_an_answer_has_no_limit():
    room = Room(50, head_s=LONG_S, body_s=LONG_S)
    let_go.clear()
    with serving(room) as connected:
        connection = connected(HEAD.replace(b" / ", b" /held "))
        held = only_one(room)
        once(lambda: held._phase, lambda phase: phase == "answer")
        assert (held._limit, room.silent) == (None, {})
        let_go.set()
        assert said_on(connection).startswith(b"HTTP/1.1 200")


@pytest.mark.parametrize(("most", "most_of_one"), [(5, 100), (100, 5)])
def test_the_longest_silent_connection_makes_room_for_a_new_one(most, most_of_one):
    room = Room(most, most_of_one, head_s=LONG_S, body_s=LONG_S)
    with serving(room) as connected:
        silent = []
        for count in range(1, 6):
            silent.append(connected())
            once(lambda: len(room.silent), lambda n, count=count: n == count)
        assert said_on(connected(HEAD)).startswith(b"HTTP/1.1 200")
        assert said_on(silent[0]) in ENDED
        silent[1].sendall(HEAD)
        assert said_on(silent[1]).startswith(b"HTTP/1.1 200")


def test_who_is_being_answered_is_never_ended_for_another():
    room = Room(2, head_s=LONG_S, body_s=LONG_S)
    let_go.clear()
    with serving(room) as connected:
        answered = [connected(HEAD.replace(b" / ", b" /held ")) for _ in range(2)]
        once(lambda: (room._open, len(room.silent)), lambda found: found == (2, 0))
        assert said_on(connected(HEAD)) in ENDED
        let_go.set()
        for connection in answered:
            assert said_on(connection).startswith(b"HTTP/1.1 200")


@pytest.mark.parametrize(("files", "most"), [(8192, 8032), (256, 96), (100, 16)])
def test_as_many_connections_as_leave_files_for_the_rest(files, most):
    assert most_connections(files) == most


def test_four_hundred_silent_connections_and_few_files_delay_nobody(tmp_path):
    serve = f"ulimit -n 256; exec {sys.executable} -m basinside.cli serve"
    process = subprocess.Popen(
        ["sh", "-c", serve],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env=os.environ | {"PORT": "0", "BASINSIDE_DATA": str(tmp_path)},
    )
    port = int(re.search(rb":(\d+)/", process.stdout.readline())[1])
    with ExitStack() as opened:
        for n in range(400):
            silent = opened.enter_context(socket.create_connection(("127.0.0.1", port), PATIENCE_S))
            if n % 2:
                silent.sendall(b"POST /api/mixes HTTP/1.1\r\nHost: here\r\nContent-Len")
        for _ in range(20):
            asking = http.client.HTTPConnection("127.0.0.1", port, timeout=PATIENCE_S)
            opened.callback(asking.close)
            asking.request("GET", "/api/health")
            assert asking.getresponse().status == 200
    process.send_signal(signal.SIGINT)
    _, said = process.communicate(timeout=PATIENCE_S)
    assert process.returncode == 0
    assert len(said.splitlines()) <= 1, said.decode()
