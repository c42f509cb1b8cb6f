"""What a phone gets: every change once, what two wrote apart whole, and no other history."""

import pytest
from test_push import problem

CLIENT = "0199c0de-0000-7000-8000-00000000c11e"


def test_pages_of_one_give_the_same_records_as_one_page(phone):
    phone.push(*[phone.note(f"note {n}") for n in range(7)])
    whole, end = phone.all_changes()
    by_one, same_end = phone.all_changes(limit=1)
    assert whole == by_one
    assert end == same_end
    assert [change["seq"] for change in whole.values()] == list(range(1, 8))


def test_a_pull_after_the_end_is_empty_and_stays_where_it_is(phone):
    phone.push(phone.note())
    _, cursor = phone.all_changes()
    pulled = phone.pull(cursor=cursor).json()
    assert (pulled["changes"], pulled["next"], pulled["more"]) == ([], cursor, False)
    assert pulled["acked_through"] == 1


def test_a_record_that_changes_between_pages_comes_again(phone):
    create = phone.op("client.create", CLIENT, {"name": "Ona"})
    phone.push(create, phone.note())
    first = phone.pull(limit=1).json()
    assert [change["entity_id"] for change in first["changes"]] == [CLIENT]
    rename = phone.op("client.set", CLIENT, {"name": "Una"}, base={"name": [create["op_id"]]})
    phone.push(rename)
    rest = phone.pull(cursor=first["next"]).json()["changes"]
    assert [change["seq"] for change in rest] == [2, 3]
    assert rest[-1]["fields"]["name"]["v"] == "Una"


def test_what_two_wrote_without_seeing_each_other_comes_with_both(new_phone):
    ana, ben = new_phone(), new_phone()
    create = ana.op("client.create", CLIENT, {"name": "Ona"})
    ana.push(create)
    base = {"base": {"name": [create["op_id"]]}}
    ana.push(ana.op("client.set", CLIENT, {"name": "Una"}, **base))
    ben.push(ben.op("client.set", CLIENT, {"name": "Oona"}, **base))
    (change,) = ben.pull().json()["changes"]
    assert [head["v"] for head in change["heads"]["name"]] == ["Una", "Oona"]
    assert change["covered"]["name"] == {create["op_id"]: 0}
    assert change["created"][0]["op"] == create["op_id"]


def test_a_deletion_is_a_change_like_any_other(phone):
    create = phone.op("client.create", CLIENT, {"name": "Ona"})
    phone.push(create, phone.op("client.gone", CLIENT, seen=[create["op_id"]], base={"gone": []}))
    (change,) = phone.pull().json()["changes"]
    assert change["gone"] is True


UNKNOWN = [
    "e1.1.00000000",
    "e1.900.12345678",
    "e2.9999999.00000000",
    "e9.1.00000000",
    "e1.900.12345678.0123456789abcdef",
]


def test_a_cursor_of_another_epoch_is_told_the_epoch(phone, client):
    cursor = phone.push(phone.note()).json()["head"]
    with client.app.state.desk.salon.writing() as writing:
        writing.begin_epoch(2, "2026-11-25T10:00:00Z", "a copy was put back")
    told = problem(phone.pull(cursor=cursor), 409, "epoch_changed")
    assert (told["epoch"], told["acked_through"]) == ("e2", 1)


def test_a_cursor_that_is_empty_is_refused_as_the_document_says(phone, client):
    reply = client.get("/api/sync/pull", params={"cursor": ""}, headers=phone.headers)
    assert "Pull without one" in problem(reply, 400, "body_unreadable")["detail"]


@pytest.mark.parametrize("cursor", UNKNOWN)
def test_a_cursor_that_the_desk_never_gave_troubles_nobody_else(new_phone, client, cursor):
    ana, ben = new_phone(), new_phone()
    ana.push(ana.note())
    _, bens = ben.all_changes()
    for method in ("GET", "HEAD"):
        reply = client.request(
            method, "/api/sync/pull", params={"cursor": cursor}, headers=ana.headers
        )
        assert reply.status_code == 400
    problem(ana.pull(cursor=cursor), 400, "cursor_unknown")
    bookmark = f"{cursor}~1~"
    reply = client.get("/api/sync/snapshot", params={"after": bookmark}, headers=ana.headers)
    problem(reply, 400, "cursor_unknown")
    pulled = ben.pull(cursor=bens).json()
    assert (pulled["epoch"], pulled["next"]) == ("e1", bens)


def test_each_digit_of_a_cursor_counts(phone):
    phone.push(phone.note())
    _, cursor = phone.all_changes()
    for at, digit in enumerate(cursor):
        if digit in "e.":
            continue
        spoilt = cursor[:at] + ("1" if digit != "1" else "2") + cursor[at + 1 :]
        problem(phone.pull(cursor=spoilt), 400, "cursor_unknown")
    assert phone.pull(cursor=cursor).json()["epoch"] == "e1"


def test_a_cursor_of_before_there_were_signatures_is_still_taken(phone):
    phone.push(phone.note())
    _, cursor = phone.all_changes()
    unsigned = cursor.rpartition(".")[0]
    pulled = phone.pull(cursor=unsigned).json()
    assert (pulled["changes"], pulled["next"]) == ([], cursor)


def test_what_is_no_cursor_or_no_limit_is_refused(phone):
    problem(phone.pull(cursor="yesterday"), 400, "body_unreadable")
    problem(phone.pull(limit=0), 400, "body_unreadable")
    problem(phone.pull(limit="ten"), 400, "body_unreadable")
    problem(phone.pull(erase_seq=-1), 400, "body_unreadable")


def test_a_page_ends_at_one_mebibyte(phone):
    for _ in range(2):
        phone.push(*[phone.note("x" * 60_000) for _ in range(15)])
    pulled = phone.pull().json()
    assert pulled["more"]
    assert 10 < len(pulled["changes"]) < 30
    assert len(phone.all_changes()[0]) == 30
