"""Who is not let in, and what a desk that cannot take anything just now says."""

import json
import sqlite3
import subprocess
import sys
import time
from pathlib import Path

import pytest
from running import PATIENCE_S
from test_push import CLIENT, problem

from basinside.cli import main
from basinside.cli.devices import list_devices, revoke
from basinside.cli.serve import Settings
from basinside.service.http.document.calls.records import RECORD_CALLS
from basinside.service.http.open_desk import Desk
from basinside.service.store.unready import Unready

GUARDED = [call for call in RECORD_CALLS if call.paired]
# Takes the write lock of the database named to it, says so, and keeps it until its input ends.
HOLD_THE_LOCK = """
import sqlite3, sys
held = sqlite3.connect(sys.argv[1], isolation_level=None)
held.execute("BEGIN IMMEDIATE")
print("held", flush=True)
sys.stdin.read()
"""


@pytest.fixture
def settings(folder):
    return Settings("127.0.0.1", 0, folder)


def ask(client, call, headers):
    body = json.dumps(next(iter(call.examples.values()))) if call.asked else None
    return client.request(call.method, call.path, content=body, headers=headers)


def test_there_are_calls_to_guard():
    assert len(GUARDED) >= 7


@pytest.mark.parametrize("call", GUARDED, ids=lambda call: call.operation)
def test_no_call_on_records_answers_without_a_token_that_is_good_now(
    client, phone, settings, capsys, call
):
    for headers in (
        {},
        {"authorization": "Bearer"},
        {"authorization": "Bearer "},
        {"authorization": "Bearer not-a-token"},
        {"authorization": f"Basic {phone.token}"},
        {"authorization": f"Bearer {phone.token}x"},
    ):
        reply = ask(client, call, headers)
        problem(reply, 401, "pairing_expired")
        assert reply.headers["www-authenticate"] == "Bearer"
    revoke(settings, phone.device_id)
    assert "is removed" in capsys.readouterr().out
    problem(ask(client, call, phone.headers), 403, "device_revoked")


def test_a_revoked_phone_comes_in_again_with_a_new_code_and_its_numbers_go_on(
    new_phone, settings, capsys
):
    phone, other = new_phone(), new_phone()
    note = phone.note()
    phone.push(note)
    revoke(settings, "Phone 1")
    late = phone.note()
    problem(phone.push(late), 403, "device_revoked")
    assert set(other.all_changes()[0]) == {note["entity_id"]}  # nothing of it was taken
    old_token = phone.token
    assert phone.pair(time.time_ns() // 1_000_000)["acked_through"] == 1
    assert phone.token != old_token
    assert len(phone.push(late).json()["accepted"]) == 1
    phone.token = old_token
    problem(phone.pull(), 401, "pairing_expired")
    capsys.readouterr()


def test_the_list_says_who_is_let_in_and_a_name_of_two_is_not_enough(new_phone, settings, capsys):
    phones = [new_phone(), new_phone()]
    # In all 13 wait; the one that is sent waits no more.
    phones[0].push(phones[0].note(), queued=13)
    list_devices(settings)
    lines = capsys.readouterr().out.splitlines()
    assert {line.split()[0] for line in lines} == {phone.device_id for phone in phones}
    assert sum("12 waiting" in line for line in lines) == 1
    revoke(settings, phones[0].device_id.upper())
    assert "12 entries waited" in capsys.readouterr().out
    revoke(settings, phones[0].device_id)
    assert "already" in capsys.readouterr().out
    list_devices(settings)
    assert capsys.readouterr().out.count("removed") == 1
    phones[1].number = 1
    phones[1].pair(time.time_ns() // 1_000_000)  # now both are called Phone 1
    with pytest.raises(Unready, match="2 devices are called Phone 1"):
        revoke(settings, "Phone 1")
    with pytest.raises(Unready, match="`basinside devices`"):
        revoke(settings, "nobody")


def test_both_commands_are_there_and_say_where_there_is_no_salon(tmp_path, monkeypatch, capsys):
    monkeypatch.setenv("BASINSIDE_DATA", str(tmp_path))
    assert [main(["devices"]), main(["revoke", CLIENT])] == [1, 1]
    assert capsys.readouterr().err.count("There is no salon in") == 2


def test_ten_wrong_codes_close_the_door_for_a_minute(client, new_phone):
    phone = new_phone(paired=False)
    asked = {"v": 1, "code": "2222-2222", "device_id": phone.device_id, "name": "x"}
    for _ in range(10):
        problem(client.post("/api/devices/pair", json=asked), 403, "code_unknown")
    reply = client.post("/api/devices/pair", json=asked)
    problem(reply, 429, "too_many_codes")
    assert reply.headers["retry-after"] == "60"


@pytest.mark.parametrize(
    "headers",
    [
        {"sec-fetch-site": "cross-site", "origin": "http://127.0.0.1"},
        {"sec-fetch-site": "same-site"},
        {"origin": "https://elsewhere.example"},
        {"origin": "null"},
        {"origin": "http://127.0.0.1:8001"},
        {"origin": "https://elsewhere.example", "content-type": "text/plain"},
    ],
    ids=str,
)
def test_a_page_of_another_site_neither_pairs_nor_uses_up_wrong_codes(client, new_phone, headers):
    phone = new_phone(paired=False)
    asked = {"v": 1, "code": "2222-2222", "device_id": phone.device_id, "name": "x"}
    for _ in range(11):
        reply = client.post("/api/devices/pair", json=asked, headers=headers)
        problem(reply, 403, "foreign_page")
    assert phone.pair(phone.now_ms)["token"]


@pytest.mark.parametrize(
    "headers",
    [
        {"sec-fetch-site": "same-origin", "origin": "https://salon.example"},
        {"origin": "http://127.0.0.1"},
        {"origin": "https://Salon.example", "x-forwarded-host": "salon.example"},
    ],
    ids=str,
)
def test_the_servers_own_page_pairs_through_a_proxy_too(client, new_phone, headers):
    phone = new_phone(paired=False)
    client.headers.update(headers)
    assert phone.pair(phone.now_ms)["token"]


def test_while_another_process_holds_the_records_the_phone_is_told_when_to_come_back(
    client, new_phone, salon
):
    phone = new_phone()
    desk: Desk = client.app.state.desk
    # The patience of the thread that writes; its five seconds would only make the test longer.
    desk._writer.submit(salon.run_alone, "PRAGMA busy_timeout = 50").result()
    note = phone.note()
    with subprocess.Popen(
        [sys.executable, "-c", HOLD_THE_LOCK, str(salon.path)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
    ) as holder:
        assert holder.stdout.readline() == b"held\n"
        reply = phone.push(note)
        problem(reply, 503, "busy")
        assert int(reply.headers["retry-after"]) > 0
        assert phone.pull().json()["changes"] == []  # reading goes on
        holder.stdin.close()
        assert holder.wait(timeout=PATIENCE_S) == 0
    assert len(phone.push(note).json()["accepted"]) == 1


def test_a_full_disk_takes_nothing_says_so_and_all_comes_once_there_is_room(client, phone, salon):
    desk: Desk = client.app.state.desk

    def in_the_writer(statement):
        return desk._writer.submit(salon.run_alone, statement).result()

    # SQLite answers SQLITE_FULL at its own bound just as at the disk's (sqlite.org/rescode.html).
    ((pages,),) = in_the_writer("PRAGMA page_count")
    in_the_writer(f"PRAGMA max_page_count = {pages + 4}")
    notes = [phone.note("wheat " * 1000) for _ in range(20)]
    reply = phone.push(*notes)
    problem(reply, 507, "disk_full")
    assert int(reply.headers["retry-after"]) > 0
    assert phone.pull().json()["changes"] == []
    in_the_writer("PRAGMA max_page_count = 1000000")
    assert len(phone.push(*notes).json()["accepted"]) == 20
    ((sound,),) = in_the_writer("PRAGMA integrity_check")
    assert sound == "ok"


def test_a_ledger_that_finds_no_room_is_told_as_a_full_disk(client, phone, monkeypatch):
    """No room for the file of erasures, beside the database: the kernel's own ENOSPC."""
    desk: Desk = client.app.state.desk

    def full(*_):
        with Path("/dev/full").open("wb", buffering=0) as device:  # every write to it finds no room
            device.write(b"x")

    monkeypatch.setattr(desk.salon, "writing", full)
    reply = phone.push(phone.note())
    problem(reply, 507, "disk_full")
    monkeypatch.undo()
    assert len(phone.push(*[phone.note() for _ in range(0)]).json()["accepted"]) == 0


def test_the_database_knows_no_token_and_no_code(phone, salon):
    with sqlite3.connect(salon.path) as kept:
        kept.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    files = list(salon.path.parent.glob("salon.db*"))
    assert files
    assert not any(phone.token.encode() in file.read_bytes() for file in files)
