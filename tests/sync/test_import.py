"""A phone's file at the desk: whole or not at all, once however often, faults with their place."""

import base64
import gzip
import hashlib
import json
import random
import tracemalloc

import pytest
from phone import Phone
from test_push import CLIENT, problem

from basinside.cli import main

PICTURE = b"a picture"
SHA256 = hashlib.sha256(PICTURE).hexdigest()


def lines_of(operations=(), photos=(), tray=(), base=()):
    """The lines of a file, as web/src/records/files/format.ts describes them."""
    counts = {
        "base": len(base), "operations": len(operations), "tray": len(tray), "photos": len(photos),
    }  # fmt: skip
    header = {"format": "basinside records", "version": 1, "device_id": CLIENT, "written_at": ""}
    return [
        header | {"counts": counts},
        *({"base": state} for state in base),
        *({"op": op} for op in operations),
        *({"tray": row, "id": "x"} for row in tray),
        *photos,
    ]


def photo(picture=PICTURE, sha256=SHA256, of_type="image/jpeg"):
    return {"photo": base64.b64encode(picture).decode(), "sha256": sha256, "type": of_type}


def packed(lines, *, sha256=None):
    body = "".join(json.dumps(line) + "\n" for line in lines).encode()
    trailer = {"sha256": sha256 or hashlib.sha256(body).hexdigest(), "lines": len(lines)}
    return gzip.compress(body + json.dumps(trailer).encode() + b"\n")


@pytest.fixture
def bring(phone):
    def bring_in(file):
        if isinstance(file, list):
            file = packed(file)
        headers = phone.headers | {"content-type": "application/gzip"}
        return phone.client.post("/api/sync/import", content=file, headers=headers)

    return bring_in


@pytest.fixture
def lost(client, salon, phone):
    """A phone that is not paired, whose file is brought in."""
    return Phone(client, salon, 77, phone.now_ms)


def test_a_file_is_taken_in_once_and_each_photo_with_its_record(phone, lost, bring):
    made = lost.op("client.create", CLIENT, {"name": "Ona"})
    note = lost.note() | {"fields": {"client": CLIENT, "photo": SHA256}}
    file = lines_of([made, note], [photo()], tray=[{"code": "field_invalid"}])
    told = bring(file).json()
    assert told == {
        "v": 1, "accepted": 2, "known": 0, "records": 0, "photos": 1, "waiting": 1, "refused": [],
    }  # fmt: skip
    again = bring(file).json()
    assert (again["accepted"], again["known"], again["photos"]) == (0, 2, 0)
    records, _ = phone.all_changes()
    assert records[CLIENT]["fields"]["name"]["v"] == "Ona"
    assert len(records) == 2


def test_what_the_phone_had_sent_is_known_and_what_it_sends_later_is_a_duplicate(
    phone, new_phone, bring
):
    other = new_phone()
    sent, kept = other.note("sent"), other.note("kept")
    other.push(sent)
    told = bring(lines_of([sent, kept])).json()
    assert (told["accepted"], told["known"]) == (1, 1)
    pushed = other.push(kept, other.note("after")).json()
    assert [each["op_id"] for each in pushed["duplicate"]] == [kept["op_id"]]
    assert (len(pushed["accepted"]), pushed["acked_through"]) == (1, 3)
    assert len(phone.all_changes()[0]) == 3


def test_an_operation_that_cannot_be_taken_is_named_with_its_line_and_the_rest_lands(lost, bring):
    good, bad = lost.note(), lost.op("client.set", CLIENT, {"name": 5})
    less = lost.op(
        "client.set", CLIENT, {"colour_reaction": "none"},
        base={"colour_reaction": [good["op_id"]]}, **{"from": {"colour_reaction": "severe"}},
    )  # fmt: skip
    unfit = photo(of_type="text/html")
    told = bring(lines_of([good, bad, less], [unfit])).json()
    assert told["accepted"] == 1
    assert [(each["line"], each["code"], each["pointer"]) for each in told["refused"]] == [
        (3, "field_invalid", "/op/fields/name"),
        (4, "caution_needs_decision", "/op/fields"),
        (5, "photo_unfit", "/photo"),
    ]
    assert all(each["message"].endswith(".") for each in told["refused"])


@pytest.mark.parametrize(
    ("spoil", "line"),
    [
        (lambda lines: [lines[0] | {"format": "another"}, *lines[1:]], 1),
        (lambda lines: [lines[0] | {"version": 2}, *lines[1:]], 1),
        (lambda lines: lines[:2], 1),
        (lambda lines: [*lines[:2], {"op": lines[2]["op"] | {"hlc": "noon"}}], "3/op"),
        (lambda lines: [*lines[:2], {"op": "x"}], "3/op"),
        (lambda lines: [*lines[:2], {"horoscope": 1}], 3),
        (lambda lines: [*lines, photo(sha256="0" * 64)], 4),
    ],
)
def test_a_file_with_one_bad_line_is_refused_with_the_line_and_nothing_of_it_is_taken(
    phone, lost, bring, spoil, line
):
    told = problem(bring(spoil(lines_of([lost.note(), lost.note()]))), 400, "body_unreadable")
    assert told["errors"][0]["pointer"] == f"/lines/{line}"
    assert phone.all_changes()[0] == {}


def test_a_file_cut_anywhere_or_changed_is_refused_and_nothing_is_taken(phone, lost, bring):
    whole = packed(lines_of([lost.note() for _ in range(5)]))
    for length in range(0, len(whole), 5):
        problem(bring(whole[:length]), 400, "body_unreadable")
    plain = gzip.decompress(whole)
    for length in range(10, len(plain) - 2, 31):
        problem(bring(gzip.compress(plain[:length])), 400, "body_unreadable")
    problem(bring(gzip.compress(plain.replace(b"beige", b"brown"))), 400, "body_unreadable")
    problem(bring(b"sealed behind a passphrase"), 400, "body_unreadable")
    assert phone.all_changes()[0] == {}


def test_a_newer_apps_file_waits_for_the_desks_update_and_nothing_of_it_is_taken(
    phone, lost, bring
):
    newer = lost.op("perm_rod.create", CLIENT, {}, schema=99)
    problem(bring(lines_of([lost.note(), newer])), 409, "schema_ahead")
    assert phone.all_changes()[0] == {}


def test_a_file_may_hold_what_several_phones_wrote_and_each_keeps_its_stamp(
    phone, lost, client, salon, bring
):
    other = Phone(client, salon, 78, phone.now_ms - 86_400_000)
    later, earlier = lost.note("today"), other.note("yesterday")
    ahead = Phone(client, salon, 79, phone.now_ms + 86_400_000).note("tomorrow")
    assert bring(lines_of([later, earlier, ahead])).json()["accepted"] == 3
    effs = {
        record["fields"]["text"]["v"]: record["fields"]["text"]["eff"]
        for record in phone.all_changes()[0].values()
    }
    assert (effs["today"], effs["yesterday"]) == (later["hlc"], earlier["hlc"])
    assert later["hlc"] < effs["tomorrow"] < ahead["hlc"]


def test_more_than_one_pushs_worth_comes_in_at_once(phone, lost, bring):
    told = bring(lines_of([lost.note() for _ in range(1200)])).json()
    assert told["accepted"] == 1200
    assert len(phone.all_changes()[0]) == 1200


def test_records_that_a_phone_had_pulled_come_back_only_to_a_desk_that_lost_them(
    phone, lost, bring, salon
):
    made = lost.op("client.create", CLIENT, {"name": "Ona"})
    write = {"op": made["op_id"], "eff": made["hlc"], "by": made["by"]}
    state = {
        "id": CLIENT, "kind": "client", "epoch": "e1", "created": [write | {"v": None}],
        "fields": {"name": {"heads": [write | {"v": "Ona"}], "covered": {}}},
    }  # fmt: skip
    assert bring(lines_of(base=[state])).json()["records"] == 0
    with salon.writing() as writing:
        writing.begin_epoch(2, "2026-11-25T12:00:00Z", "put back from a backup")
    assert bring(lines_of(base=[state])).json()["records"] == 1
    assert bring(lines_of(base=[state])).json()["records"] == 0
    phone.epoch = "e2"
    assert phone.all_changes()[0][CLIENT]["fields"]["name"]["v"] == "Ona"


def test_a_file_that_unpacks_past_reason_is_refused(bring):
    problem(bring(gzip.compress(b" " * 140_000_000, 1)), 413, "too_large")


BOMBS = {
    "lines without an end": gzip.compress(b"a" * 3_000_000 + random.Random(1).randbytes(100_000)),
    "nothing but ends of lines": gzip.compress(b"\n" * 134_000_000, 1),
}


@pytest.mark.parametrize("name", BOMBS)
def test_a_small_file_that_unpacks_to_a_memory_full_is_refused_before_it_does(bring, name):
    tracemalloc.start()
    try:
        assert bring(BOMBS[name]).status_code in (400, 413)
        _, most = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    assert most < 20 * 1024 * 1024


def test_one_file_at_a_time(bring, lost, client):
    client.app.state.desk.importing = True
    reply = bring(lines_of([lost.note()]))
    problem(reply, 429, "import_under_way")
    assert reply.headers["retry-after"] == "10"
    client.app.state.desk.importing = False
    assert bring(lines_of([lost.note()])).json()["accepted"] == 1


def test_a_file_is_brought_in_at_the_servers_machine_too(
    phone, lost, folder, tmp_path, monkeypatch, capsys
):
    monkeypatch.setenv("BASINSIDE_DATA", str(folder))
    file = tmp_path / "phone.records"
    bad = lost.op("client.set", CLIENT, {"name": 5})
    file.write_bytes(packed(lines_of([lost.note(), bad])))
    assert main(["bring-in", str(file)]) == 0
    told = capsys.readouterr().out
    assert told.startswith("New: 1 entries, 0 photos, 0 lost records. Here already: 0.")
    assert "Skipped, line 3/op/fields/name: " in told
    assert main(["bring-in", str(file)]) == 0
    assert "New: 0 entries" in capsys.readouterr().out
    assert len(phone.all_changes()[0]) == 1
    file.write_bytes(file.read_bytes()[:-9])
    assert main(["bring-in", str(file)]) == 1
    assert "was not imported. This file is no whole gzip." in capsys.readouterr().err
    assert main(["bring-in", str(tmp_path / "none")]) == 1
    assert "cannot be read" in capsys.readouterr().err
