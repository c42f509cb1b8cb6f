"""The numbers of the desk's own work, each at its bound and one step to either side of it.

They are how much the desk takes at once and how often it looks: import, stream, recheck, search.
Each number is written here once more and imported from nowhere.
"""

import asyncio
import gzip
import random
import selectors
from contextlib import suppress
from itertools import pairwise
from types import SimpleNamespace

import pytest
from litestar import Request
from own_thread import in_its_own_thread
from phone import NOON_MS
from test_import import lines_of, packed

from basinside.service.desk.recheck import Piece, keep, next_piece
from basinside.service.desk.record_file import _lines
from basinside.service.desk.starts import Asked, Start
from basinside.service.http import live, recheck
from basinside.service.http.open_desk import Desk
from basinside.service.sync.pairing import device_of
from basinside.service.sync.refused import Refused

CLIENT = "0199c0de-0000-7000-8000-00000000c11e"
MIB = 1024 * 1024


@pytest.fixture(autouse=True)
def never(monkeypatch):
    """The desk itself looks at nothing again while a test counts what there is to look at."""
    monkeypatch.setattr(recheck, "EVERY_S", 1e6)


def found(phone, q):
    """The words of what a search finds."""
    reply = phone.client.get("/api/search", params={"q": q}, headers=phone.headers)
    return [each["words"] for each in reply.json()["found"]]


@pytest.mark.parametrize(("beyond", "code"), [(-1, 200), (0, 200), (1, 413)])
def test_a_file_is_imported_up_to_32_mebibytes(phone, beyond, code):
    file = packed(lines_of())
    whole = filled_up(file, 32 * MIB + beyond)
    headers = phone.headers | {"content-type": "application/gzip"}
    reply = phone.client.post("/api/sync/import", content=whole, headers=headers)
    assert reply.status_code == code


def filled_up(file, size):
    """A gzip made longer by a name, which its header may carry (RFC 1952 §2.3.1)."""
    named = file[:3] + bytes([file[3] | 8]) + file[4:10]
    whole = named + b"x" * (size - len(file) - 1) + b"\0" + file[10:]
    assert len(whole) == size
    return whole


def lines_of_blanks(size):
    line = b" " * 999_999 + b"\n"
    return (line * (size // len(line) + 1))[-size:]


@pytest.mark.parametrize(
    ("size", "packed_size"),
    [(128 * MIB, 4 * MIB), (5_000_000, 100_000)],
    ids=["128 MiB in all", "50 times its size"],
)
def test_a_file_is_unpacked_up_to_each_bound(size, packed_size):
    for beyond in (-1, 0):
        file = gzip.compress(lines_of_blanks(size + beyond), compresslevel=1)
        came = sum(len(line) + 1 for line in _lines(filled_up(file, packed_size)))
        assert came == size + beyond
    file = gzip.compress(lines_of_blanks(size + 1), compresslevel=1)
    with pytest.raises(Refused) as refusal:
        sum(1 for _ in _lines(filled_up(file, packed_size)))
    assert refusal.value.code == "too_large"


@pytest.mark.parametrize(("beyond", "fits"), [(-1, True), (0, True), (1, False)])
def test_a_line_of_a_file_may_have_two_mebibytes(beyond, fits):
    long = random.Random(1).randbytes(MIB).hex().encode() + b"a" * max(beyond, 0)
    file = gzip.compress(b"first\n" + long[: 2 * MIB + beyond] + b"\nlast", compresslevel=1)
    if fits:
        assert [len(line) for line in _lines(file)] == [5, 2 * MIB + beyond, 4]
    else:
        with pytest.raises(Refused):
            list(_lines(file))


@pytest.mark.parametrize("count", [499, 500, 501])
def test_all_of_a_file_is_found_however_many_records_are_indexed_at_once(phone, new_phone, count):
    lost = new_phone(paired=False)
    made = [
        lost.op("client.create", next(lost.ids), {"name": f"Wren{at:04}"}) for at in range(count)
    ]
    headers = phone.headers | {"content-type": "application/gzip"}
    file = packed(lines_of(made))
    assert phone.client.post("/api/sync/import", content=file, headers=headers).status_code == 200
    for at in (0, 498, count - 1):
        assert found(phone, f"Wren{at:04}") == [f"Wren{at:04}"]


@pytest.mark.parametrize(("typed", "is_found"), [(7, True), (8, True), (9, True)])
def test_the_first_eight_words_must_match_and_further_ones_need_not(phone, typed, is_found):
    words = [f"wren{at}" for at in range(8)]
    phone.push(phone.note(" ".join(words)))
    asked = [*words, "elsewhere"][:typed]
    assert bool(found(phone, " ".join(asked))) is is_found
    assert found(phone, " ".join([*words[:7], "elsewhere"])) == []


def pieces(salon):
    """How far each piece of the check reaches, until all of the log was checked."""
    while piece := next_piece(salon):
        yield piece
        keep(salon, piece, [])


@pytest.mark.parametrize(("count", "most"), [(99, [99]), (100, [100]), (101, [100, 1])])
def test_a_hundred_operations_on_services_are_checked_at_once(phone, salon, count, most):
    *_, last = [0, *(piece.through for piece in pieces(salon))]
    phone.push(*[phone.op("client.create", next(phone.ids), {"name": "A"}) for _ in range(count)])
    ends = [last, *(piece.through for piece in pieces(salon))]
    assert [after - before for before, after in pairwise(ends)] == most


@pytest.mark.parametrize(("count", "most"), [(1999, [1999]), (2000, [2000]), (2001, [2000, 1])])
def test_two_thousand_other_operations_are_checked_at_once(phone, salon, count, most):
    *_, last = [0, *(piece.through for piece in pieces(salon))]
    for first in range(0, count, 500):
        phone.push(*[phone.note() for _ in range(min(500, count - first))])
    ends = [last, *(piece.through for piece in pieces(salon))]
    assert [after - before for before, after in pairwise(ends)] == most


@pytest.mark.parametrize(("count", "asked"), [(999, 999), (1000, 1000), (1001, 1000)])
def test_a_late_client_asks_about_up_to_a_thousand_services(phone, salon, count, asked):
    planned = {"client": CLIENT, "planned_at": "2026-11-25T10:00:00+01:00"}
    for first in range(0, count, 500):
        phone.push(
            *[
                phone.op("service.create", next(phone.ids), planned)
                for _ in range(min(500, count - first))
            ]
        )
    for _ in pieces(salon):
        pass
    phone.push(phone.op("client.create", CLIENT, {"name": "Ona"}))
    (piece,) = pieces(salon)
    assert len(piece.asked) + len(piece.not_started) == asked


class Leaping(asyncio.SelectorEventLoop):
    """An event loop whose clock leaps to the next timer, so that no test waits for one."""

    def __init__(self):
        self.leapt_s = 0.0
        leaping = self

        class Selector(selectors.DefaultSelector):
            def select(self, timeout=None):
                if timeout:
                    # What another thread has finished comes first.
                    ready = super().select(0)
                    if not ready:
                        leaping.leapt_s += timeout
                    return ready
                return super().select(timeout)

        super().__init__(Selector())

    def time(self):
        return self.leapt_s


def streamed(client, phone, cursor, seconds, monkeypatch):
    """When a stream speaks, with the text; when it looks; when it notes that a device is there."""
    said, looked, noted = [], [], []
    loop = Leaping()
    monkeypatch.setattr(live, "now_ms", lambda: NOON_MS + round(loop.time() * 1000))
    pull, keep_seen = live.pull, live._keep_seen

    def looking(*asked):
        looked.append(round(loop.time(), 3))
        return pull(*asked)

    async def noting(*asked):
        noted.append(round(loop.time(), 3))
        return await keep_seen(*asked)

    monkeypatch.setattr(live, "pull", looking)
    monkeypatch.setattr(live, "_keep_seen", noting)
    headers = [(name.lower().encode(), text.encode()) for name, text in phone.headers.items()]
    salon = client.app.state.desk.salon
    device = device_of(salon, phone.token, phone.now_ms)

    async def follow():
        desk = Desk(salon)  # its own: the served one belongs to another loop
        app = SimpleNamespace(state=SimpleNamespace(desk=desk))
        scope = {"type": "http", "method": "GET", "headers": headers, "litestar_app": app}
        request = Request(scope)
        events = live._events(request, desk, device, cursor)
        async for each in events:
            said.append((round(loop.time(), 3), each.decode()))
            if loop.time() >= seconds and looked:
                break
        await events.aclose()

    try:
        in_its_own_thread(loop.run_until_complete, follow())
    finally:
        loop.close()
    return said, looked, noted


def test_a_stream_looks_each_second_speaks_every_twenty_and_notes_its_device_each_minute(
    client, phone, monkeypatch
):
    cursor = phone.pull().json()["next"]
    said, looked, kept = streamed(client, phone, cursor, 60, monkeypatch)
    assert [at for at, each in said if each.endswith(": hb\n\n")] == [0, 20, 40, 60]
    assert looked == list(range(61))
    assert kept == [0, 60]


@pytest.mark.parametrize(
    ("starts", "turns"),
    [
        ([1] * 49, [49]),
        ([1] * 50, [50]),
        ([1] * 51, [50, 1]),
        ([20, 20, 20], [40, 20]),
        ([30, 51, 1], [30, 51, 1]),
        ([], []),
    ],
)
def test_the_engine_looks_at_fifty_starts_before_others_have_their_turn(
    salon, monkeypatch, starts, turns
):
    """A turn is one call on the engine's thread; between two it takes what others ask.

    The rules cannot read such a start, which is an answer too.
    """
    asked = [
        Asked(f"service {at}", CLIENT, [(Start(f"stamp {n}", ""), b"") for n in range(count)])
        for at, count in enumerate(starts)
    ]
    pieces, reviewed, kept, each_turn = [Piece(asked, [], 0)], [], [], []
    desk = Desk(salon)
    work_out, review = desk.lanes.safety.work_out, recheck._reviewed

    async def in_a_turn(*inputs):
        before = len(reviewed)
        found = await work_out(*inputs)
        each_turn.append(len(reviewed) - before)
        return found

    def counted(request):
        reviewed.append(request)
        return review(request)

    monkeypatch.setattr(desk.lanes.safety, "work_out", in_a_turn)
    monkeypatch.setattr(recheck, "_reviewed", counted)
    monkeypatch.setattr(recheck, "next_piece", lambda _: pieces.pop() if pieces else None)
    monkeypatch.setattr(recheck, "keep", lambda _, __, started: kept.extend(started))
    in_its_own_thread(asyncio.run, recheck._look_at_all(desk))
    desk.lanes.close()
    assert each_turn == turns
    assert [each.service for each in kept] == [each.service for each in asked]


@pytest.mark.parametrize(("count", "event"), [(99, "change"), (100, "change"), (101, "poke")])
def test_a_stream_sends_up_to_a_hundred_changes_at_once(client, phone, count, event, monkeypatch):
    cursor = phone.pull().json()["next"]
    phone.push(*[phone.note() for _ in range(count)])
    said, _, _ = streamed(client, phone, cursor, 0, monkeypatch)
    assert f"event: {event}" in said[-1][1]


def test_what_came_in_is_looked_at_again_each_second(salon, monkeypatch):
    monkeypatch.undo()
    looked = []
    loop = Leaping()

    def looking(of_salon):
        looked.append(loop.time())
        if len(looked) == 3:
            raise asyncio.CancelledError
        return next_piece(of_salon)

    monkeypatch.setattr(recheck, "next_piece", looking)
    try:
        with suppress(asyncio.CancelledError):
            in_its_own_thread(loop.run_until_complete, recheck.keep_looking_again(Desk(salon)))
    finally:
        loop.close()
    assert looked == [1.0, 2.0, 3.0]
