"""What the desk says of services whose clock was started, once their records have come in."""

from started_services import Visit
from test_push import problem

from basinside.service.whole.erasing import erase_client
from basinside.service.whole.ledger import Ledger


def rules_of(matter):
    return {finding["rule"] for finding in matter["findings"]}


def test_a_service_that_might_start_is_no_matter(visit, matters):
    visit.push(visit.client_and_salon(), visit.alert_test(), visit.planned(), visit.started())
    assert matters() == []


def test_a_service_started_without_an_alert_test_is_named_with_what_should_have_held_it(
    visit, matters
):
    visit.push(visit.client_and_salon(), visit.planned(), visit.started())
    (matter,) = matters()
    assert (matter["why"], matter["settle"], matter["kind"]) == ("held", "close", "service")
    assert (matter["entity_id"], matter["client"]) == (visit.service, visit.client)
    assert matter["client_name"] == "Ona Petrel"
    assert "alert-test-missing" in rules_of(matter)
    assert all(finding["message"] and finding["next"] for finding in matter["findings"])


def test_a_planned_service_that_was_not_started_is_no_matter(visit, matters):
    visit.push(visit.client_and_salon(), visit.planned(scalp="broken"))
    assert matters() == []


def test_what_was_written_after_the_start_neither_clears_nor_accuses_it(visit, matters):
    visit.push(visit.client_and_salon(), visit.planned(), visit.started())
    (before,) = matters()
    worse = visit.phone.op("client.set", visit.client, {"colour_reaction": "severe"})
    visit.push(visit.alert_test(written_min=-1), [worse])
    assert [matter for matter in matters() if matter["why"] == "held"] == [before]


def test_a_reaction_that_another_phone_had_written_by_then_accuses_the_start_when_it_comes(
    visit, new_phone, matters
):
    visit.push(visit.client_and_salon(), visit.alert_test(), visit.planned(), visit.started())
    assert matters() == []
    other = Visit(new_phone())
    other.at(5)
    other.push([other.phone.op("client.set", other.client, {"colour_reaction": "severe"})])
    held = [matter for matter in matters() if matter["why"] == "held"]
    assert len(held) == 1
    assert held[0]["entity_id"] == visit.service


def test_a_test_that_another_phone_had_written_by_then_takes_the_matter_away_when_it_comes(
    visit, new_phone, matters
):
    visit.push(visit.client_and_salon(), visit.planned(), visit.started())
    assert len(matters()) == 1
    other = Visit(new_phone())
    other.push(other.alert_test())
    assert matters() == []


def test_the_order_in_which_records_come_makes_no_difference(new_phone, matters):
    for part in ("started", "planned", "alert_test", "client_and_salon"):
        visit = Visit(new_phone())
        visit.push(getattr(visit, part)())
    assert matters() == []


def test_a_closing_that_names_the_matter_takes_it_off_and_a_new_finding_brings_it_back(
    visit, new_phone, matters
):
    visit.push(visit.client_and_salon(), visit.planned(), visit.started())
    (matter,) = matters()
    said = {"client": visit.client, "service": visit.service, "saw": "no redness", "by": "Ana"}
    visit.push([visit.phone.op("closing.create", matter["id"], said | {"why": "test on paper"})])
    assert matters() == []
    other = Visit(new_phone())
    other.at(5)
    other.push([other.phone.op("client.set", other.client, {"colour_reaction": "severe"})])
    held = [each for each in matters() if each["why"] == "held"]
    assert [each["id"] for each in held] != [matter["id"]]
    assert len(held) == 1


def test_what_a_crash_interrupted_is_looked_at_after_the_next_start(visit, matters, salon):
    """The number that was looked at is kept with what was found: nothing is left out between."""
    visit.push(visit.client_and_salon(), visit.planned(), visit.started())
    assert len(matters()) == 1
    with salon.writing() as writing:
        writing.reviewed(0)
        writing.forget_started([visit.service])
    assert len(matters()) == 1


def test_records_that_no_question_can_be_made_of_hold_the_start_and_stop_nothing(visit, matters):
    planned = visit.planned(scalp=7)  # a number may be an answer, but not to this question
    visit.push(visit.client_and_salon(), visit.alert_test(), planned, visit.started())
    (matter,) = matters()
    assert rules_of(matter) == {""}
    second = Visit(visit.phone, 2)
    second.push(second.client_and_salon()[:2], second.planned(), second.started())
    assert len(matters()) == 2


def test_a_matter_goes_with_a_client_who_is_erased(visit, matters, salon, folder):
    visit.push(visit.client_and_salon(), visit.planned(), visit.started())
    assert len(matters()) == 1
    erase_client(salon, Ledger(folder), visit.client, visit.now_ms)
    assert matters() == []
    with salon.reading() as reading:
        assert reading.started_after("") == []


def test_held_services_are_paged_before_what_was_written_apart(visit, phone, new_phone, matters):
    for number in (1, 2, 3):
        each = Visit(phone, number)
        each.push(each.client_and_salon()[:2], each.planned(), each.started())
    other = new_phone()
    other.push(other.op("client.set", visit.client, {"name": "Una"}))
    assert len(matters()) == 4
    listed, after = [], {}
    while True:
        query = {"limit": 1} | after
        page = phone.client.get("/api/matters", params=query, headers=phone.headers).json()
        assert page["in_all"] == 4
        listed += [matter["why"] for matter in page["matters"]]
        if page["next"] is None:
            break
        after = {"after": page["next"]}
    assert listed == ["held"] * 3 + ["apart"]
    problem(
        phone.client.get("/api/matters", params={"after": "1~x"}, headers=phone.headers),
        400,
        "body_unreadable",
    )
