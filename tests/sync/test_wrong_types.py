"""Wrongly typed operations, pushed with a good token: each is refused with its place and listed."""

from drawing import seeds
from laid_in import laid_in
from test_push import problem
from wrong_values import drawn_faults

WRONG = seeds(1000)
AT_ONCE = 100
CLIENT = "0199c0de-0000-7000-8000-00000000c11e"


def wrong_operation(phone, seed):
    kind, field, value = drawn_faults(seed)
    return phone.op(f"{kind}.create", next(phone.ids), {field: value})


def matters_of(phone):
    found, after = [], ""
    while after is not None:
        reply = phone.client.get(
            "/api/matters", params={"after": after} if after else {}, headers=phone.headers
        )
        found += reply.json()["matters"]
        after = reply.json()["next"]
    return found


def test_each_wrongly_typed_operation_is_refused_with_its_place_and_listed(phone):
    operations = [wrong_operation(phone, seed) for seed in WRONG]
    receipts = []
    for first in range(0, len(operations), AT_ONCE):
        answer = phone.push(*operations[first : first + AT_ONCE]).json()
        assert answer["accepted"] == []
        receipts += answer["refused"]
    assert [receipt["op_id"] for receipt in receipts] == [op["op_id"] for op in operations]
    for op, receipt in zip(operations, receipts, strict=True):
        (field,) = op["fields"]
        assert (receipt["code"], receipt["then"]) == ("field_invalid", "edit")
        assert receipt["pointer"].startswith(f"/fields/{field}")
        assert receipt["message"].endswith(".")
    listed = {matter["id"] for matter in matters_of(phone)}
    assert listed == {op["op_id"] for op in operations}
    assert phone.all_changes()[0] == {}


def test_the_place_leads_to_the_very_value_and_the_rest_of_the_push_is_taken(phone):
    bowl = {"parts": [{"product": "st9vb", "grams": "x"}], "minutes": 10}
    bad = phone.op("zone.create", next(phone.ids), {"name": "Lengths", "mix": bowl})
    answer = phone.push(bad, phone.note()).json()
    (receipt,) = answer["refused"]
    assert receipt["pointer"] == "/fields/mix/parts/0/grams"
    assert receipt["message"].startswith('The grams of entry 1 of parts of "mix" must be a number')
    assert len(answer["accepted"]) == 1


def test_a_field_of_a_newer_app_is_kept_for_it_and_shown_to_nobody_else(phone):
    made = phone.op("client.create", CLIENT, {"name": "Ona", "shoe_size": 38})
    assert len(phone.push(made).json()["accepted"]) == 1
    (change,) = phone.all_changes()[0].values()
    assert change["fields"]["shoe_size"]["v"] == 38
    (read,) = phone.client.get("/api/clients", headers=phone.headers).json()["records"]
    assert read["values"] == {"name": "Ona"}


def test_a_part_of_a_field_that_has_none_is_refused(phone):
    for field in ("name.first", "colour_reaction.left", "gone.x"):
        answer = phone.push(phone.op("client.set", CLIENT, {field: "none"})).json()
        assert [each["code"] for each in answer["refused"]] == ["field_invalid"], field


def test_a_word_that_only_a_newer_contract_has_waits_for_the_desk_s_update(phone):
    newer = phone.op("service.create", next(phone.ids), {"state": "paused"}, schema=99)
    problem(phone.push(newer), 409, "schema_ahead")


def test_what_an_older_desk_took_is_kept_unshown_and_listed_until_it_is_written_again(phone, salon):
    op = phone.op("client.create", CLIENT, {"name": "Ona", "hair": "x"})
    laid_in(salon, op)
    (read,) = phone.client.get("/api/clients", headers=phone.headers).json()["records"]
    assert read["values"] == {"name": "Ona"}
    (matter,) = matters_of(phone)
    assert (matter["why"], matter["settle"]) == ("unreadable", "write_or_delete")
    assert matter["words"].endswith('The "hair" must be an object; got text.')
    assert matter["stood"] == '{"hair":"x"}'
    (apart,) = matter["apart"]
    assert (apart["field"], apart["values"][0]["op"]) == ("hair", op["op_id"])
    base = {"hair": [op["op_id"]]}
    phone.seq = 0
    phone.push(phone.op("client.set", CLIENT, {"hair": None}, base=base))
    assert matters_of(phone) == []
