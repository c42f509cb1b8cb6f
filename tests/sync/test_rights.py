"""What a token may do: one that only reads writes nothing, and one for some days ends after them.

The rule that a right is refused wherever it is not given is OWASP ASVS 4.0.3 §4.1.3 and §4.1.5.
"""

from datetime import datetime, timedelta

import pytest
from test_push import problem

from basinside.cli import main
from basinside.service.http.document.calls.table import CALLS
from basinside.service.http.document.openapi import openapi_document
from basinside.service.store.rows import Rights
from basinside.service.sync.pairing import device_of, new_code
from basinside.service.sync.refused import Refused

DAY_MS = 24 * 3600_000
PAIRED = [call for call in CALLS if call.paired]
# Once it has begun, the stream of changes goes on for as long as its caller stays.
ENDING = [call for call in PAIRED if call.path != "/api/sync/live"]


def paired_with(new_phone, salon, *rights):
    phone = new_phone(paired=False)
    told = phone.pair_with(new_code(salon, phone.now_ms, Rights(*rights)))
    return phone, told


def asked(client, call, phone):
    body = {"json": {}} if call.method == "post" else {}
    return client.request(call.method, call.path, headers=phone.headers, **body)


@pytest.fixture
def reader(new_phone, salon):
    """A program whose token only reads."""
    phone, told = paired_with(new_phone, salon, True)
    assert (told["reads_only"], told["until"]) == (True, None)
    return phone


def test_a_token_that_only_reads_gets_every_answer_and_writes_nothing(client, reader):
    for call in ENDING:
        reply = asked(client, call, reader)
        if call.method == "get":
            # A search without words is no matter of rights.
            assert reply.status_code in (200, 400), call.operation
        else:
            assert "write" in problem(reply, 403, "reads_only")["detail"], call.operation


def test_a_token_that_has_ended_opens_no_call(client, new_phone, salon):
    phone, _ = paired_with(new_phone, salon, False, 1)
    assert phone.pull().status_code == 200
    salon.run_alone("UPDATE device SET until = '2026-01-01T00:00:00.000Z'")
    for call in PAIRED:
        problem(asked(client, call, phone), 401, "pairing_expired")
    phone.pair(phone.now_ms)
    assert phone.pull().status_code == 200


def test_nothing_of_what_it_pushes_is_taken_and_a_new_code_lets_it_write(reader, salon):
    note = reader.note()
    problem(reader.push(note), 403, "reads_only")
    assert reader.all_changes()[0] == {}
    told = reader.pair_with(new_code(salon, reader.now_ms))
    assert told["reads_only"] is False
    assert len(reader.push(note).json()["accepted"]) == 1


def test_a_phone_that_pairs_again_by_a_code_that_only_reads_writes_no_more(phone, salon):
    phone.push(phone.note())
    phone.pair_with(new_code(salon, phone.now_ms, Rights(reads_only=True)))
    problem(phone.push(phone.note()), 403, "reads_only")
    assert len(phone.all_changes()[0]) == 1


def test_a_token_for_some_days_ends_after_them_to_the_millisecond(new_phone, salon):
    phone, told = paired_with(new_phone, salon, False, 2)
    begins, ends = (datetime.fromisoformat(told[at]) for at in ("server_time", "until"))
    assert ends - begins == timedelta(days=2)
    ends_ms = round(ends.timestamp() * 1000)
    assert device_of(salon, phone.token, ends_ms - 1, writes=True).device_id == phone.device_id
    for at_ms in (ends_ms, ends_ms + DAY_MS):
        with pytest.raises(Refused) as refused:
            device_of(salon, phone.token, at_ms)
        assert (refused.value.status, refused.value.code) == (401, "pairing_expired")


def test_the_list_says_what_each_token_may_do(new_phone, salon, client):
    whole = new_phone()
    some, _ = paired_with(new_phone, salon, True, 90)
    reply = client.get("/api/devices", headers=whole.headers).json()
    told = {each["device_id"]: each for each in reply["devices"]}
    assert (told[whole.device_id]["reads_only"], told[whole.device_id]["until"]) == (False, None)
    assert told[some.device_id]["reads_only"] is True
    assert told[some.device_id]["until"] > told[some.device_id]["paired_at"]


def test_the_document_names_the_right_that_each_call_needs():
    document = openapi_document()
    for call in PAIRED:
        (needed,) = document["paths"][call.path][call.method]["security"]
        assert needed == {"device": ["read" if call.method == "get" else "write"]}
    for call in (call for call in CALLS if not call.paired):
        ways = document["paths"][call.path][call.method]["security"]
        # Nothing is asked, or nothing is one of the ways in.
        assert ways == [] or {} in ways


def test_the_command_gives_the_rights_and_says_them(new_phone, monkeypatch, capsys, folder):
    monkeypatch.setenv("BASINSIDE_DATA", str(folder))
    assert main(["pair", "--reads-only", "--days", "1"]) == 0
    said = capsys.readouterr().out
    assert "write nothing" in said
    assert "ends after 1 day." in said
    phone = new_phone(paired=False)
    told = phone.pair_with(said.splitlines()[0].rpartition(": ")[2])
    assert told["reads_only"] is True
    main(["devices"])
    assert f"only reads, until {told['until']}" in capsys.readouterr().out


@pytest.mark.parametrize("days", ["0", "-1", "3651"])
def test_days_that_are_none_or_too_many_are_refused(client, monkeypatch, capsys, folder, days):  # noqa: ARG001
    monkeypatch.setenv("BASINSIDE_DATA", str(folder))
    assert main(["pair", "--days", days]) == 1
    assert capsys.readouterr().err == f"A pairing lasts 1 to 3650 days; got {days}.\n"
