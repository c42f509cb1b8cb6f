"""Each number of the desk at its bound: the value itself, one step inside, one step outside.

The numbers are the promises of docs/sync.md, written here once more and imported from nowhere.
"""

import base64
import gzip
import hashlib
import json
import sqlite3
from contextlib import closing
from types import SimpleNamespace

import msgspec
import pytest
from phone import NOON_MS
from test_push import problem, refused_one

from basinside.contract.devices import Pairing
from basinside.contract.sync import Push
from basinside.service.http.asked import inflated
from basinside.service.records.instants import instant_text
from basinside.service.store.salon import DATABASE_FILE
from basinside.service.sync.clock import Clock, read_stamp, stamp_text, tick
from basinside.service.sync.pairing import Gate, new_code
from basinside.service.sync.pull import page_of
from basinside.service.sync.push import push, read_operations
from basinside.service.sync.refused import Refused
from basinside.service.whole.erasing import erase_client
from basinside.service.whole.ledger import Ledger

CLIENT = "0199c0de-0000-7000-8000-00000000c11e"
FIVE_MIN_MS = 300_000
TEN_MIN_MS = 600_000
MIB = 1024 * 1024


def pushed(phone, salon, *ops, sent_ms, now_ms=NOON_MS):
    """What becomes of operations that a phone sends by its clock, when the desk's says `now_ms`."""
    body = json.dumps(phone.push_body(*ops) | {"sent_at": instant_text(sent_ms)}).encode()
    read = msgspec.json.decode(body, type=Push)
    return push(salon, read, read_operations(read.ops), now_ms)


@pytest.mark.parametrize(
    ("off_ms", "is_off"),
    [
        (0, False),
        (FIVE_MIN_MS - 1, False),
        (FIVE_MIN_MS, False),
        (FIVE_MIN_MS + 1, True),
        (-FIVE_MIN_MS, False),
        (-FIVE_MIN_MS - 1, True),
    ],
)
def test_times_are_marked_where_a_clock_is_off_by_more_than_five_minutes(
    phone, salon, off_ms, is_off
):
    phone.now_ms = NOON_MS - FIVE_MIN_MS - 1000  # no stamp is ahead of the desk's clock
    note = phone.note()
    pushed(phone, salon, note, sent_ms=NOON_MS + off_ms)
    (change,) = phone.pull().json()["changes"]
    assert change["fields"]["text"].get("clock") == ("off" if is_off else None)


@pytest.mark.parametrize(
    ("ahead_ms", "is_clamped"),
    [(FIVE_MIN_MS - 1, False), (FIVE_MIN_MS, False), (FIVE_MIN_MS + 1, True)],
)
def test_a_stamp_counts_as_it_is_up_to_five_minutes_ahead(phone, salon, ahead_ms, is_clamped):
    phone.now_ms = NOON_MS + ahead_ms
    note = phone.note()
    told = pushed(phone, salon, note, sent_ms=NOON_MS)
    if is_clamped:
        (clamped,) = told.clamped
        assert read_stamp(clamped.eff)[0].at_ms == NOON_MS
    else:
        assert told.clamped == []


def test_a_push_holds_five_hundred_operations(phone):
    assert len(phone.push(*[phone.note() for _ in range(499)]).json()["accepted"]) == 499
    assert len(phone.push(*[phone.note() for _ in range(500)]).json()["accepted"]) == 500
    told = problem(phone.push(*[phone.note() for _ in range(501)]), 413, "too_large")
    assert told["max_ops"] == 500


@pytest.mark.parametrize(("beyond", "status"), [(-1, 200), (0, 200), (1, 413)])
def test_a_body_is_taken_up_to_two_mebibytes(phone, beyond, status):
    body = json.dumps(phone.push_body(phone.note())).encode()
    whole = body + b" " * (2 * MIB + beyond - len(body))
    headers = phone.headers | {"content-type": "application/json"}
    assert phone.client.post("/api/sync/push", content=whole, headers=headers).status_code == status


@pytest.mark.parametrize(("beyond", "code"), [(-1, None), (0, None), (1, "too_large")])
def test_an_operation_is_taken_up_to_64_kibibytes(phone, beyond, code):
    note = phone.note("")
    note["fields"]["text"] = "x" * (65_536 + beyond - len(json.dumps(note).encode()))
    reply = phone.push(note)
    assert (refused_one(reply)["code"] if code else reply.json()["refused"]) == (code or [])


@pytest.mark.parametrize("call", ["pull", "snapshot"])
def test_a_page_is_asked_for_by_one_to_five_hundred(phone, call):
    for limit in (1, 500):
        assert getattr(phone, call)(limit=limit).status_code == 200
    for limit in (0, 501):
        problem(getattr(phone, call)(limit=limit), 400, "body_unreadable")


def test_a_page_holds_five_hundred_records_and_says_whether_there_are_more(phone):
    phone.push(*[phone.note() for _ in range(500)])
    pulled = phone.pull().json()
    assert (len(pulled["changes"]), pulled["more"]) == (500, False)
    phone.push(phone.note())
    pulled = phone.pull().json()
    assert (len(pulled["changes"]), pulled["more"]) == (500, True)
    rest = phone.pull(cursor=pulled["next"]).json()
    assert (len(rest["changes"]), rest["more"]) == (1, False)


@pytest.mark.parametrize(
    ("sizes", "fit"),
    [
        ([MIB // 2, MIB // 2 - 1], 2),
        ([MIB // 2, MIB // 2], 2),
        ([MIB // 2, MIB // 2 + 1], 1),
        ([MIB + 1, 1], 1),  # the first goes out however large it is
    ],
)
def test_a_page_ends_at_one_mebibyte_to_the_byte(sizes, fit):
    records = [SimpleNamespace(change=b"x" * size) for size in sizes]
    page, more = page_of(records, 500)
    assert (len(page), more) == (fit, fit < len(sizes))


def test_a_clock_counts_to_ffff_and_then_takes_the_next_millisecond():
    at = Clock(NOON_MS, 0xFFFE)
    assert tick(at, NOON_MS) == Clock(NOON_MS, 0xFFFF)
    assert tick(tick(at, NOON_MS), NOON_MS) == Clock(NOON_MS + 1, 0)


def test_a_clock_ends_with_the_year_9999_so_that_stamps_sort_as_text():
    last_ms = 253402300799999  # 9999-12-31T23:59:59.999Z (RFC 3339 has four digits of a year)
    for wall_ms in (last_ms, last_ms + 1):
        stamp = stamp_text(tick(Clock(), wall_ms), "0199c0de-0000-7000-8000-000000000001")
        assert stamp.startswith("9999-12-31T23:59:59.999Z-0000-")
    before = stamp_text(tick(Clock(), last_ms - 1), "0199c0de-0000-7000-8000-000000000001")
    assert before.startswith("9999-12-31T23:59:59.998Z-0000-")


def asking(code, number=1):
    device_id = f"0199c0de-0000-7000-8000-{number:012d}"
    return Pairing(v=1, code=code, device_id=device_id, name="Basin phone")


@pytest.mark.parametrize(
    ("later_ms", "is_good"), [(TEN_MIN_MS - 1, True), (TEN_MIN_MS, True), (TEN_MIN_MS + 1, False)]
)
def test_a_code_is_good_for_ten_minutes(salon, later_ms, is_good):
    code = new_code(salon, NOON_MS)
    if is_good:
        assert Gate().pair(salon, asking(code), NOON_MS + later_ms).token
    else:
        with pytest.raises(Refused) as refused:
            Gate().pair(salon, asking(code), NOON_MS + later_ms)
        assert refused.value.code == "code_unknown"


def wrong_codes(gate, salon, count, address="192.0.2.7"):
    for _ in range(count):
        with pytest.raises(Refused) as refused:
            gate.pair(salon, asking("2222-2222"), NOON_MS, address)
        assert refused.value.code == "code_unknown"


def is_closed(gate, salon, address, later_ms=0):
    with pytest.raises(Refused) as refused:
        gate.pair(salon, asking(new_code(salon, NOON_MS)), NOON_MS + later_ms, address)
    return refused.value.code == "too_many_codes"


def lets_in(gate, salon, address, later_ms=0):
    code = new_code(salon, NOON_MS)
    return bool(gate.pair(salon, asking(code), NOON_MS + later_ms, address).token)


def test_nine_wrong_codes_leave_the_gate_open_and_the_tenth_closes_it_for_a_minute(salon):
    gate, here = Gate(), "192.0.2.7"
    wrong_codes(gate, salon, 9)
    assert lets_in(gate, salon, here)
    # A right one begins the count again.
    wrong_codes(gate, salon, 10)
    assert is_closed(gate, salon, here)
    assert is_closed(gate, salon, here, 59_999)
    assert lets_in(gate, salon, here, 60_000)


# Addresses of RFC 5737 and RFC 3849, which nobody has.
@pytest.mark.parametrize(
    ("guesses", "another"),
    [
        ("192.0.2.7", "192.0.2.8"),
        ("2001:db8:0:1::1", "2001:db8:0:2::1"),
        ("2001:db8:0:1::1", "192.0.2.7"),
        ("::ffff:192.0.2.7", "::ffff:192.0.2.8"),
    ],
)
def test_wrong_codes_close_the_gate_to_their_own_address_alone(salon, guesses, another):
    gate = Gate()
    wrong_codes(gate, salon, 10, guesses)
    assert is_closed(gate, salon, guesses)
    assert lets_in(gate, salon, another)
    assert is_closed(gate, salon, guesses)


@pytest.mark.parametrize(
    ("one", "other"),
    [("2001:db8:0:1::1", "2001:db8:0:1::2"), ("192.0.2.7", "::ffff:192.0.2.7")],
)
def test_addresses_that_one_caller_can_have_count_as_one(salon, one, other):
    gate = Gate()
    wrong_codes(gate, salon, 5, one)
    wrong_codes(gate, salon, 5, other)
    assert is_closed(gate, salon, one)


def test_a_thousand_wrong_codes_from_everywhere_close_the_gate_to_all(salon):
    gate = Gate()
    for number in range(100):
        wrong_codes(gate, salon, 10, f"198.51.100.{number}")
    assert is_closed(gate, salon, "192.0.2.7")
    assert lets_in(gate, salon, "192.0.2.7", 60_000)


def test_a_clock_that_is_set_back_opens_the_gate(salon):
    gate = Gate()
    wrong_codes(gate, salon, 10)
    assert lets_in(gate, salon, "192.0.2.7", -1)


@pytest.mark.parametrize(
    ("call", "most"),
    [("clients", 500), ("matters", 200), ("search", 100), ("sync/photos/missing", 500)],
)
def test_other_pages_are_asked_for_up_to_their_most(phone, call, most):
    def status(limit):
        query = {"limit": limit} | ({"q": "ona"} if call == "search" else {})
        path = f"/api/{call}"
        return phone.client.get(path, params=query, headers=phone.headers).status_code

    assert [status(limit) for limit in (1, most - 1, most)] == [200, 200, 200]
    assert [status(limit) for limit in (0, most + 1)] == [400, 400]


def test_a_packed_body_is_inflated_up_to_its_most_and_no_byte_further():

    packed = gzip.compress(b"x" * 1000)
    assert inflated(packed, 1000) == b"x" * 1000
    assert inflated(packed, 1001) == b"x" * 1000
    with pytest.raises(Refused) as refused:
        inflated(packed, 999)
    assert refused.value.code == "too_large"


def test_an_erased_person_s_record_id_is_kept_with_no_refusal(phone, salon, folder):
    phone.push(phone.op("client.create", CLIENT, {"name": "Ona"}))
    erase_client(salon, Ledger(folder), CLIENT, NOON_MS)
    late = phone.op("client.set", CLIENT, {"phone": "1"})
    about = phone.note(client=CLIENT) | {"fields": {"text": "hers", "client": CLIENT}}
    for op in (late, about):
        assert refused_one(phone.push(op))["code"] == "erased"
    with closing(sqlite3.connect(folder / DATABASE_FILE)) as kept:
        rows = kept.execute("SELECT entity_id, receipt FROM refused").fetchall()
    assert [entity_id for entity_id, _ in rows] == ["", ""]
    assert CLIENT not in json.dumps([str(receipt) for _, receipt in rows])


@pytest.mark.parametrize("letters", [199, 200, 201])
def test_up_to_two_hundred_letters_are_searched_for(phone, letters):
    reply = phone.client.get("/api/search", params={"q": "x" * letters}, headers=phone.headers)
    assert reply.status_code == (200 if letters <= 200 else 400)


@pytest.mark.parametrize("beyond", [-1, 0, 1])
def test_a_photo_is_taken_up_to_512_kibibytes(phone, beyond):
    picture = b"\xff\xd8" + b"x" * (512 * 1024 + beyond - 2)
    sha256 = hashlib.sha256(picture).hexdigest()
    phone.push(phone.note() | {"fields": {"text": "", "photo": sha256}})
    sent = {"v": 1, "device_id": phone.device_id, "sha256": sha256, "type": "image/jpeg"}
    sent["bytes"] = base64.b64encode(picture).decode()
    reply = phone.client.post("/api/sync/photos", json=sent, headers=phone.headers)
    assert reply.status_code == (200 if beyond <= 0 else 413)
