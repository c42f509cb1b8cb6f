"""What will hold a service at its hour is said days before, by what is on record by then."""

import pytest
from test_from_records import MADE, asked, reviewed, said, zone

TOMORROW = "2026-11-26T10:00:00+00:00"
NOTHING_AGAINST = {
    "colour_reaction": "none",
    "black_tattoo": "never",
    "answers": [said("eighteen_or_over", "yes"), said("dye_allergy", "none")],
}


def spot(applied_at, **more):
    """An alert test of the client, put on at that moment."""
    return {
        "id": "t1",
        "created_at": MADE,
        "client": "c1",
        "line": "Still",
        "applied_at": applied_at,
        "applied_by": "salon",
        "result": "not_read",
        **more,
    }


def ahead(client=NOTHING_AGAINST, *, starts_at=TOMORROW, **more):
    """What the rules say today of a visit tomorrow."""
    request = asked(client, starts_at=starts_at, **more) | {"ahead": True}
    return reviewed(request)


def held(reply):
    return {each["id"] for each in reply["findings"] if each["group"] == "holds"}


BOWL = [zone("roots", "Still", 1.9, area="scalp")]


def test_a_missing_test_holds_tomorrow_and_the_last_hour_for_one_is_said():
    reply = ahead(zone=BOWL)
    assert "alert-test-missing" in held(reply)
    # 48 hours before the start (FDA-QA, UK-AAT in docs/safety.md).
    assert reply["alert_test"]["apply_by"] == "2026-11-24T10:00:00+00:00"
    assert not reply["may_start"]
    assert not reply["may_mix"]


@pytest.mark.parametrize(
    ("applied_at", "state", "holds"),
    [
        # Old enough by then, and still to be read: it is no hold yet, and not clear either.
        ("2026-11-24T09:59:59+00:00", "unread", set()),
        ("2026-11-24T10:00:00+00:00", "unread", set()),
        ("2026-11-24T10:00:01+00:00", "too_soon", {"alert-test-too-soon"}),
    ],
)
def test_a_test_is_as_old_as_it_will_be_at_the_hour(applied_at, state, holds):
    reply = ahead(zone=BOWL, alert_test=[spot(applied_at)])
    assert reply["alert_test"]["state"] == state
    assert {each for each in held(reply) if each.startswith("alert-test")} == holds


def test_a_test_that_lapses_overnight_holds_tomorrow_and_not_today():
    # Put on on 25 May: six months are over after 25 November.
    old = spot("2026-05-25T09:00:00+00:00", result="clear", read_by="Ana")
    old |= {"read_at": "2026-05-27T10:00:00+00:00"}
    today = "2026-11-25T18:00:00+00:00"
    assert "alert-test-lapsed" not in held(ahead(zone=BOWL, alert_test=[old], starts_at=today))
    assert "alert-test-lapsed" in held(ahead(zone=BOWL, alert_test=[old]))


def test_a_person_under_age_holds_tomorrow_by_the_rule_of_the_country():
    child = NOTHING_AGAINST | {"answers": [said("sixteen_or_over", "no")]}
    groups = {
        profile: {
            each["id"]: each["group"]
            for each in reviewed(
                asked(child, zone=BOWL, starts_at=TOMORROW) | {"ahead": True, "profile": profile}
            )["findings"]
        }
        for profile in ("eu", "us")
    }
    assert groups["eu"]["under-16-sensitiser"] == "holds"
    assert groups["us"]["under-16-sensitiser"] == "needs_decision"


def test_an_earlier_reaction_holds_tomorrow_and_todays_looks_are_not_asked_for_yet():
    reply = ahead(NOTHING_AGAINST | {"colour_reaction": "mild"}, zone=BOWL)
    assert "past-colour-reaction" in held(reply)
    # The scalp is looked at on the day, not the evening before.
    assert not {"scalp-not-checked", "history-not-asked"} & held(reply)
    assert not {"scalp", "face_rash"} & {each["fact"] for each in reply["questions"]}


def test_without_a_mix_the_lines_of_the_visit_before_count_and_without_any_none_is_named():
    booked = ahead(booking=[{"line": "Still", "product_class": "neutral_demi"}])
    assert "alert-test-missing" in held(booked)
    unknown = ahead()
    assert "alert-test-missing" not in held(unknown)
    assert unknown["alert_test"]["state"] == "missing"
    other = ahead(alert_test=[spot("2026-11-20T09:00:00+00:00")])
    assert other["alert_test"]["state"] != "other_line"
