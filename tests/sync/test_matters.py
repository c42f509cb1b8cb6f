"""What needs a look, as a desk lists it: what two wrote apart, and what was deleted unseen."""

import pytest
from test_push import CLIENT, problem
from test_restored import bytes_kept

from basinside.service.whole.erasing import erase_client
from basinside.service.whole.ledger import Ledger


@pytest.fixture
def matters(phone):
    def ask(**query):
        reply = phone.client.get("/api/matters", params=query, headers=phone.headers)
        assert reply.status_code == 200, reply.text
        return reply.json()

    return ask


def named_apart(phone, other, entity_id):
    """Have two phones name a client without seeing each other's; return the three operations."""
    made = phone.op("client.create", entity_id, {"name": "Ona"})
    saw = {"base": {"name": [made["op_id"]]}}
    mine = phone.op("client.set", entity_id, {"name": "Una"}, **saw)
    theirs = other.op("client.set", entity_id, {"name": "Oona"}, **saw)
    for sender, ops in ((phone, [made, mine]), (other, [theirs])):
        assert len(sender.push(*ops).json()["accepted"]) == len(ops)
    return made, mine, theirs


def test_where_all_agree_nothing_is_listed(phone, matters):
    phone.push(phone.op("client.create", CLIENT, {"name": "Ona"}))
    assert matters() == {"matters": [], "next": None, "in_all": 0}


def test_a_name_written_apart_is_listed_with_both_until_somebody_chooses(phone, new_phone, matters):
    _, mine, theirs = named_apart(phone, new_phone(), CLIENT)
    told = matters()
    (matter,) = told["matters"]
    assert told["in_all"] == 1
    assert (matter["why"], matter["settle"], matter["kind"]) == ("apart", "choose", "client")
    assert (matter["entity_id"], matter["client"]) == (CLIENT, CLIENT)
    assert matter["client_name"] in ("Una", "Oona")
    (apart,) = matter["apart"]
    assert apart["field"] == "name"
    assert {value["op"]: value["v"] for value in apart["values"]} == {
        mine["op_id"]: "Una",
        theirs["op_id"]: "Oona",
    }
    assert matters()["matters"][0]["id"] == matter["id"]
    heads = [value["op"] for value in apart["values"]]
    phone.push(phone.op("client.set", CLIENT, {"name": "Una"}, base={"name": heads}))
    assert matters()["in_all"] == 0


def test_a_safety_fact_written_apart_says_that_the_most_cautious_counts(phone, new_phone, matters):
    phone.push(phone.op("client.create", CLIENT, {"colour_reaction": "mild"}))
    other = new_phone()
    other.push(other.op("client.set", CLIENT, {"colour_reaction": "severe"}))
    (matter,) = matters()["matters"]
    assert "most cautious" in matter["words"]


def test_a_deletion_that_had_not_seen_the_last_change_is_listed_until_it_has(
    phone, new_phone, matters
):
    made = phone.op("client.create", CLIENT, {"name": "Ona"})
    phone.push(made)
    other = new_phone()
    told = other.op("client.set", CLIENT, {"phone": "020 7946 0991"}, base={"phone": []})
    other.push(told)
    gone = phone.op("client.gone", CLIENT, seen=[made["op_id"]], base={"gone": []})
    phone.push(gone)
    (matter,) = matters()["matters"]
    assert (matter["why"], matter["settle"]) == ("edited_meanwhile", "restore_or_delete")
    seen = [made["op_id"], told["op_id"]]
    phone.push(phone.op("client.gone", CLIENT, seen=seen, base={"gone": [gone["op_id"]]}))
    assert matters()["in_all"] == 0


def test_pages_of_one_list_all_once_the_longest_waiting_first(phone, new_phone, matters):
    other = new_phone()
    clients = [f"0199c0de-0000-7000-8000-00000000c{n:03x}" for n in range(5)]
    for client in clients:
        named_apart(phone, other, client)
    listed, after = [], {}
    while True:
        page = matters(limit=1, **after)
        assert page["in_all"] == 5
        listed += [matter["entity_id"] for matter in page["matters"]]
        if page["next"] is None:
            break
        after = {"after": page["next"]}
    assert listed == clients


@pytest.mark.parametrize("query", [{"after": "7~x"}, {"after": "yesterday"}, {"limit": 0}])
def test_what_is_no_place_in_the_list_is_refused(phone, query):
    reply = phone.client.get("/api/matters", params=query, headers=phone.headers)
    problem(reply, 400, "body_unreadable")


def test_what_was_refused_for_good_is_listed_with_its_receipt_until_it_is_closed(
    phone, new_phone, matters
):
    made = phone.op("client.create", CLIENT, {"name": "Ona"})
    bad = phone.op("client.set", CLIENT, {"name": 5})
    (receipt,) = phone.push(made, bad).json()["refused"]
    phone.push(bad)  # refused again, listed once
    (matter,) = matters()["matters"]
    assert (matter["why"], matter["settle"], matter["id"]) == ("refused", "close", bad["op_id"])
    assert (matter["kind"], matter["client_name"]) == ("client", "Ona")
    for told in (f"from Phone {phone.number}.", *(str(receipt[name]) for name in _TOLD)):
        assert told in matter["words"]
    assert matter["at"].startswith("20")
    other = new_phone()
    other.push(other.op("closing.create", matter["id"], {"saw": "a number", "why": "sent again"}))
    assert matters() == {"matters": [], "next": None, "in_all": 0}


def test_what_was_refused_of_who_is_erased_is_listed_no_more_and_their_id_is_gone(
    phone, matters, salon, folder
):
    made = phone.op("client.create", CLIENT, {"name": "Ona"})
    bad = phone.op("client.set", CLIENT, {"name": 5})
    (before,) = phone.push(made, bad).json()["refused"]
    erase_client(salon, Ledger(folder), CLIENT, phone.now_ms)
    assert matters()["in_all"] == 0
    assert CLIENT.encode() not in bytes_kept(folder)
    assert phone.push(bad).json()["refused"] == [before]
    assert matters()["in_all"] == 0


_TOLD = ("code", "message", "pointer", "device_seq")
