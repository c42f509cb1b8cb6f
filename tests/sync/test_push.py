"""What becomes of each operation that a phone sends: once, or refused once and for all."""

import copy
import gzip
import json
import threading

import pytest
from phone import ids

OTHER = "0199c0de-0000-7000-8000-00000000beef"
CLIENT = "0199c0de-0000-7000-8000-00000000c11e"


def refused_one(reply):
    assert reply.status_code == 200, reply.text
    (receipt,) = reply.json()["refused"]
    assert receipt["message"].endswith(".")
    return receipt


def problem(reply, status, code):
    assert (reply.status_code, reply.json()["code"]) == (status, code), reply.text
    assert reply.headers["content-type"] == "application/problem+json"
    assert reply.json()["detail"].endswith(".")
    return reply.json()


TOO_LONG = [
    ({"app": "x" * 41}, "/app", "40"),
    ({"device_id": "x"}, "/device_id", ""),
    ({"queued": -1}, "/queued", "0"),
]


@pytest.mark.parametrize(("wrong", "pointer", "bound"), TOO_LONG)
def test_a_field_that_does_not_fit_is_named_with_its_place_and_bound(phone, wrong, pointer, bound):
    told = problem(phone.push(phone.note(), **wrong), 400, "body_unreadable")
    assert [fault["pointer"] for fault in told["errors"]] == [pointer]
    assert bound in told["detail"]
    assert "Send half" not in told["detail"]


def test_a_name_that_is_too_long_to_pair_under_is_refused_by_its_own_bound(phone):
    asked = {"v": 1, "code": "AAAA-AAAA", "device_id": phone.device_id, "name": "x" * 61}
    told = problem(phone.client.post("/api/devices/pair", json=asked), 400, "body_unreadable")
    assert told["errors"][0]["pointer"] == "/name"
    assert "60" in told["detail"]


def test_a_note_sent_twice_lands_once(phone):
    note = phone.note()
    first, second = phone.push(note).json(), phone.push(note).json()
    assert [op["op_id"] for op in first["accepted"]] == [note["op_id"]]
    assert second["accepted"] == []
    assert second["duplicate"] == first["accepted"]
    records, _ = phone.all_changes()
    assert len(records) == 1


def test_what_is_sent_packed_is_taken_like_what_is_sent_plain(phone):
    assert len(phone.push(phone.note(), phone.note(), packed=True).json()["accepted"]) == 2


def test_the_order_of_keys_and_white_space_make_no_other_operation(phone):
    note = phone.note()
    phone.push(note)
    turned = dict(reversed(list(note.items())))
    assert len(phone.push(turned).json()["duplicate"]) == 1


def test_a_note_sent_on_by_another_phone_lands_once_and_uses_up_its_number_there(new_phone):
    first, second = new_phone(), new_phone()
    note = first.note()
    accepted = first.push(note).json()["accepted"]
    second.seq += 1
    orig = {"device_id": first.device_id, "device_seq": note["device_seq"]}
    told = second.push(note | {"device_seq": second.seq, "orig": orig}, second.note()).json()
    assert told["duplicate"] == accepted
    assert (told["refused"], len(told["accepted"]), told["acked_through"]) == ([], 1, 2)


def test_other_words_under_a_used_id_are_refused_each_time_the_same(phone):
    note = phone.note("as it was")
    phone.push(note)
    other = note | {"fields": {"text": "another"}}
    receipts = [refused_one(phone.push(other)) for _ in range(2)]
    assert receipts[0] == receipts[1]
    assert receipts[0]["code"] == "op_id_reused"
    records, _ = phone.all_changes()
    assert records[note["entity_id"]]["fields"]["text"]["v"] == "as it was"


def test_a_refused_operation_uses_up_its_number_and_the_next_one_lands(phone):
    bad = phone.op("client.set", CLIENT, {"colour_reaction": 7})
    answer = phone.push(bad, phone.note()).json()
    assert answer["acked_through"] == 2
    assert len(answer["accepted"]) == 1
    again = phone.push(bad).json()
    assert again["refused"] == answer["refused"]
    assert again["accepted"] == []


@pytest.mark.parametrize(
    ("kind", "fields", "more", "code", "pointer", "then"),
    [
        ("client.set", {"gone": 1}, {}, "field_invalid", "/fields/gone", "edit"),
        ("client.set", {"name": 5}, {}, "field_invalid", "/fields/name", "edit"),
        ("note.set", {"text": "x"}, {}, "field_invalid", "/fields/text", "edit"),
        ("client.set", {"answers": "x"}, {}, "field_invalid", "/fields/answers", "edit"),
        ("client.explode", {}, {}, "kind_unknown", "/kind", "ask_desk"),
        ("horoscope.create", {}, {}, "kind_unknown", "/kind", "ask_desk"),
        (
            "client.set",
            {"colour_reaction": "none"},
            {"from": {"colour_reaction": "severe"}, "base": {"colour_reaction": [OTHER]}},
            "caution_needs_decision",
            "/fields",
            "edit",
        ),
        (
            "safety.clear",
            {"colour_reaction": "none"},
            {},
            "caution_needs_decision",
            "/fields",
            "edit",
        ),
        ("note.create", {"text": "x" * 66_000}, {}, "too_large", "", "edit"),
        (
            "note.create",
            {"text": "x"},
            {"hlc": "2026-13-45T10:15:03.120Z-0000-0199c0de-0000-7000-8000-000000000001"},
            "field_invalid",
            "/hlc",
            "edit",
        ),
    ],
)
def test_what_can_never_be_taken_is_refused_with_its_place_and_what_to_do(
    phone, kind, fields, more, code, pointer, then
):
    receipt = refused_one(phone.push(phone.op(kind, OTHER, fields, **more)))
    assert (receipt["code"], receipt["pointer"], receipt["then"]) == (code, pointer, then)


def test_a_note_is_not_written_into_a_client(phone):
    phone.push(phone.op("client.create", CLIENT, {"name": "Ona"}))
    receipt = refused_one(phone.push(phone.op("note.create", CLIENT, {"text": "x"})))
    assert (receipt["code"], receipt["pointer"]) == ("not_allowed", "/entity_id")


def test_who_was_removed_before_writing_waits_at_the_desk_and_who_wrote_before_is_taken(phone):
    ben = next(phone.ids)
    create = phone.op("person.create", ben, {"name": "Ben"})
    before = phone.note() | {"by": ben}
    gone = phone.op("person.gone", ben, seen=[create["op_id"]], base={"gone": []})
    after = phone.note() | {"by": ben}
    assert len(phone.push(create).json()["accepted"]) == 1
    answer = phone.push(before, gone, after).json()
    assert [op["op_id"] for op in answer["accepted"]] == [before["op_id"], gone["op_id"]]
    assert [receipt["code"] for receipt in answer["refused"]] == ["person_removed"]
    restore = phone.op("person.restore", ben, base={"gone": [gone["op_id"]]})
    assert len(phone.push(restore, phone.note() | {"by": ben}).json()["accepted"]) == 2


def test_a_number_that_is_missing_is_asked_for_and_nothing_is_taken(phone):
    first, second, third = phone.note(), phone.note(), phone.note()
    phone.push(first)
    asked = problem(phone.push(third), 409, "seq_gap")
    assert asked["expected"] == 2
    assert len(phone.push(second, third).json()["accepted"]) == 2


def test_a_cloned_phone_is_told_so_and_nothing_is_taken(phone):
    clone = copy.copy(phone)
    clone.ids = ids(99 << 32)
    phone.push(phone.note())
    problem(clone.push(clone.note()), 409, "device_forked")
    records, _ = phone.all_changes()
    assert len(records) == 1


def test_a_newer_app_waits_until_the_desk_knows_its_kinds_and_its_new_fields_are_kept(phone):
    newer = phone.op("perm_rod.create", OTHER, {}, schema=99)
    problem(phone.push(newer), 409, "schema_ahead")
    phone.seq -= 1
    known = phone.op("client.create", CLIENT, {"name": "Ona", "star_sign": "none"}, schema=99)
    assert len(phone.push(known | {"mood": "calm"}).json()["accepted"]) == 1
    records, _ = phone.all_changes()
    assert records[CLIENT]["fields"]["star_sign"]["v"] == "none"


def test_another_epoch_is_told_with_how_far_this_server_got(phone):
    phone.push(phone.note())
    told = problem(phone.push(phone.note(), epoch="e7"), 409, "epoch_changed")
    assert (told["epoch"], told["acked_through"]) == ("e1", 1)


def test_a_push_for_another_device_than_the_token_is_not_let_in(phone):
    problem(phone.push(device_id=OTHER), 403, "other_device")


def test_a_number_set_aside_is_used_up_and_makes_no_record(phone):
    aside = phone.op("set_aside", OTHER)
    assert len(phone.push(aside).json()["accepted"]) == 1
    records, _ = phone.all_changes()
    assert records == {}


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"op_id": "one"}, "op_id"),
        ({"device_seq": 0}, "device_seq"),
        ({"hlc": "noon"}, "hlc"),
        ({"kind": "note"}, "kind"),
        ({"entity_id": None}, "entity_id"),
        ({"by": "x" * 65}, "by"),
        ({"fields": []}, "fields"),
    ],
)
def test_one_unreadable_operation_keeps_the_whole_body_out(phone, change, says):
    good, bad = phone.note(), phone.note() | change
    told = problem(phone.push(good, bad), 400, "body_unreadable")
    assert told["errors"][0]["pointer"] == "/ops/1"
    assert says in told["detail"]
    assert phone.push(good).json()["duplicate"] == []


def test_too_many_operations_and_too_many_bytes_are_told_the_limits(phone):
    for reply in (
        phone.push(*([phone.note()] * 501)),
        phone.push(*[phone.note("x" * 60_000) for _ in range(40)]),
    ):
        told = problem(reply, 413, "too_large")
        assert (told["max_ops"], told["max_bytes"]) == (500, 2 * 1024 * 1024)


def test_a_body_cut_at_any_byte_is_refused_and_nothing_is_applied(phone):
    body = json.dumps(phone.push_body(phone.note(), phone.note(), phone.note())).encode()
    packed = gzip.compress(body)
    headers = phone.headers | {"content-type": "application/json"}
    for whole, coding in ((body, {}), (packed, {"content-encoding": "gzip"})):
        for length in range(0, len(whole), 7):
            reply = phone.client.post(
                "/api/sync/push", content=whole[:length], headers=headers | coding
            )
            problem(reply, 400, "body_unreadable")
    assert phone.all_changes()[0] == {}


def test_what_is_no_gzip_or_swells_past_reason_is_refused(phone):
    headers = phone.headers | {"content-type": "application/json", "content-encoding": "gzip"}

    def send(body):
        return phone.client.post("/api/sync/push", content=body, headers=headers)

    problem(send(b"plain"), 400, "body_unreadable")
    problem(send(gzip.compress(b"{}") + b"more"), 400, "body_unreadable")
    problem(send(gzip.compress(b" " * 1_000_000)), 413, "too_large")  # 1:1000, under the limit
    problem(send(gzip.compress(b" " * 50_000_000)), 413, "too_large")
    headers["content-encoding"] = "br"
    problem(send(b"{}"), 400, "body_unreadable")


def test_the_same_push_at_the_same_moment_lands_once(phone):
    notes = [phone.note() for _ in range(20)]
    answers = []
    threads = [
        threading.Thread(target=lambda: answers.append(phone.push(*notes).json())) for _ in range(6)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(len(answer["accepted"]) for answer in answers) == [0, 0, 0, 0, 0, 20]
    assert len(phone.all_changes()[0]) == 20


def test_a_clock_that_runs_ahead_is_counted_from_receipt_and_keeps_its_own_order(phone):
    phone.now_ms += 2 * 365 * 86_400_000
    first, second = phone.note(), phone.note()
    answer = phone.push(first, second).json()
    effs = [clamped["eff"] for clamped in answer["clamped"]]
    assert [clamped["op_id"] for clamped in answer["clamped"]] == [first["op_id"], second["op_id"]]
    assert effs == sorted(set(effs))
    assert effs[0][:10] <= answer["server_time"][:10]
    assert answer["clock_offset_ms"] < -5 * 60_000
    records, _ = phone.all_changes()
    assert records[first["entity_id"]]["fields"]["text"]["eff"] == effs[0]
    assert records[first["entity_id"]]["fields"]["text"]["clock"] == "off"


def test_a_right_clock_is_marked_nowhere(phone):
    answer = phone.push(phone.note()).json()
    assert answer["clamped"] == []
    (record,) = phone.all_changes()[0].values()
    assert "clock" not in record["fields"]["text"]


def test_what_a_push_settled_waits_on_the_device_no_more(phone):
    phone.push(phone.note(), phone.note(), queued=12)
    (device,) = phone.client.get("/api/devices", headers=phone.headers).json()["devices"]
    assert device["queued"] == 10
    phone.push(phone.note(), queued=1)
    (device,) = phone.client.get("/api/devices", headers=phone.headers).json()["devices"]
    assert device["queued"] == 0
