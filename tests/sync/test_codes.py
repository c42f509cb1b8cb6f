"""Every code that an operation or a call can be refused with: its status, what it needs, what next.

The list of codes is the contract's own, so that a new one without a case here is found.
"""

import json
from typing import get_args

import pytest
from test_push import CLIENT, OTHER, problem

from basinside.contract.sync import RefusedOperation
from basinside.service.whole.erasing import erase_client
from basinside.service.whole.ledger import Ledger

CODES = set(get_args(RefusedOperation.__annotations__["code"]))
WAYS_ON = set(get_args(RefusedOperation.__annotations__["then"]))


def field_invalid(phone):
    return phone.op("client.set", OTHER, {"name": 5})


def kind_unknown(phone):
    return phone.op("horoscope.create", OTHER)


def caution_needs_decision(phone):
    return phone.op("safety.clear", OTHER, {"colour_reaction": "none"})


def not_allowed(phone):
    phone.push(phone.op("client.create", OTHER, {"name": "Una"}))
    return phone.op("note.create", OTHER, {"text": "x"})


def person_removed(phone):
    ben = next(phone.ids)
    made = phone.op("person.create", ben, {"name": "Ben"})
    phone.push(made, phone.op("person.gone", ben, seen=[made["op_id"]], base={"gone": []}))
    return phone.note() | {"by": ben}


def op_id_reused(phone):
    note = phone.note("as it was")
    phone.push(note)
    return phone.note("another") | {"op_id": note["op_id"]}


def too_large(phone):
    return phone.note("x" * 66_000)


def erased(phone):
    phone.push(phone.op("client.create", CLIENT, {"name": "Ona"}))
    salon = phone.client.app.state.desk.salon
    erase_client(salon, Ledger(salon.path.parent), CLIENT, phone.now_ms)
    return phone.op("client.set", CLIENT, {"name": "Ona"})


# What the phone does with each, and the place in the operation.
REFUSED = {
    field_invalid: ("edit", "/fields/name"),
    kind_unknown: ("ask_desk", "/kind"),
    caution_needs_decision: ("edit", "/fields"),
    not_allowed: ("ask_desk", "/entity_id"),
    person_removed: ("ask_desk", "/by"),
    op_id_reused: ("ask_desk", "/op_id"),
    too_large: ("edit", ""),
    erased: ("nothing", ""),
}


def test_every_code_of_the_contract_has_its_case():
    assert {make.__name__ for make in REFUSED} == CODES
    assert {then for then, _ in REFUSED.values()} <= WAYS_ON


@pytest.mark.parametrize("make", REFUSED, ids=lambda make: make.__name__)
def test_a_refusal_says_what_next_uses_up_its_number_and_is_the_same_each_time(phone, make):
    refused, after = make(phone), phone.note("after")
    told = phone.push(refused, after).json()
    (receipt,) = told["refused"]
    then, pointer = REFUSED[make]
    assert receipt["code"] == make.__name__
    assert (receipt["op_id"], receipt["device_seq"]) == (refused["op_id"], refused["device_seq"])
    assert (receipt["then"], receipt["pointer"]) == (then, pointer)
    assert receipt["message"].endswith(".")
    assert [each["op_id"] for each in told["accepted"]] == [after["op_id"]]
    assert told["acked_through"] == after["device_seq"]
    again = phone.push(refused, after).json()
    assert again["refused"] == told["refused"]
    assert [each["op_id"] for each in again["duplicate"]] == [after["op_id"]]


def test_what_was_refused_lands_once_it_is_put_right_under_an_id_of_its_own(phone):
    wrong = field_invalid(phone)
    phone.push(wrong)
    right = phone.op("client.set", OTHER, {"name": "Una"}, amends=wrong["op_id"])
    assert [each["op_id"] for each in phone.push(right).json()["accepted"]] == [right["op_id"]]
    records, _ = phone.all_changes()
    assert records[OTHER]["fields"]["name"]["v"] == "Una"


def test_the_head_of_a_push_is_a_cursor_after_which_nothing_is_left(phone):
    told = phone.push(phone.note(), phone.note()).json()
    pulled = phone.pull(cursor=told["head"]).json()
    assert (pulled["changes"], pulled["more"], pulled["next"]) == ([], False, told["head"])


def test_what_a_409_needs_is_said_beside_its_code(phone):
    phone.push(phone.note())
    skipped = phone.note()
    gap = problem(phone.push(phone.note()), 409, "seq_gap")
    assert {"expected"} == gap.keys() & {"expected", "epoch", "acked_through", "max_ops"}
    assert gap["expected"] == skipped["device_seq"]
    epoch = problem(phone.push(skipped, epoch="e2"), 409, "epoch_changed")
    assert (epoch["epoch"], epoch["acked_through"]) == ("e1", 1)
    newer = phone.op("perm_rod.create", OTHER, schema=99) | {"device_seq": 2}
    ahead = problem(phone.push(newer), 409, "schema_ahead")
    assert "perm_rod.create" in ahead["detail"]
    forked = problem(phone.push(phone.note() | {"device_seq": 1}), 409, "device_forked")
    assert "new device id" in forked["detail"]
    assert len(phone.all_changes()[0]) == 1  # none of the four took anything


def test_a_409_in_the_middle_takes_nothing_of_what_stood_before_it(phone):
    first = phone.note()
    newer = phone.op("perm_rod.create", OTHER, schema=99)
    problem(phone.push(first, newer), 409, "schema_ahead")
    assert phone.all_changes()[0] == {}
    assert phone.push(first).json()["duplicate"] == []


def test_limits_are_the_last_that_is_taken(phone):
    assert len(phone.push(*[phone.note() for _ in range(500)]).json()["accepted"]) == 500
    body = {"text": ""}
    note = phone.op("note.create", next(phone.ids), body)
    # 64 KiB of JSON as it is sent, to the byte.
    spare = 64 * 1024 - len(json.dumps(note).encode())
    body["text"] = "x" * spare
    assert len(phone.push(note).json()["accepted"]) == 1
    more = phone.op("note.create", next(phone.ids), {"text": ""})
    more["fields"]["text"] = "x" * (64 * 1024 + 1 - len(json.dumps(more).encode()))
    (receipt,) = phone.push(more).json()["refused"]
    assert receipt["code"] == "too_large"
