"""When an alert test is old enough, when it has lapsed, and what a wrong clock opens: nothing.

48 h: FDA-QA and UK-AAT (read in stored copies). A period of months ends with the last hour of
the same date, or of the month's last day: Regulation (EEC, Euratom) No 1182/71, Article 3(2)(c)
(from memory). Dates of clock changes are those of the named zones' published rules; the checks
compare with Python's own calendar and zone tables, which the engine does not use.
"""

import datetime as dt
import random
from zoneinfo import ZoneInfo

import pytest
from safety_asking import FRESH, at, bent, found, reviewed

from basinside.engine.safety.instants import (
    calendar_day,
    day_number,
    months_on,
    read_moment,
    text_of,
    words_of,
)
from basinside.engine.safety.rulebook import PROFILES, each_time_advice

HELD = {"alert-test-too-soon", "alert-test-unread", "alert-test-lapsed"}


def when(zone, *parts):
    return dt.datetime(*parts, tzinfo=ZoneInfo(zone))


def held(applied, now, result="clear", months=None, **plan):
    """Return which of the time rules hold a service at `now`, and the whole finding of each."""
    test = FRESH | {"applied_at": applied.isoformat(), "result": result}
    # Read at the very end of its 48 h, unless the test speaks of an unread one.
    test["read_at"] = (applied + dt.timedelta(hours=48)).isoformat()
    if now < applied + dt.timedelta(hours=48) or result == "not_read":
        test |= {"result": "not_read", "read_at": None}
    # A leaflet that names no hours, so that the 48 are the rule's own.
    changes = {"tests": [test], "now": now.isoformat(), "starts_at": now.isoformat()}
    changes |= {"lines.0.test": {}} | plan
    if months:
        changes["house"] = {
            "test_validity": {
                "months": months,
                "by": "Ana",
                "why": "insurer",
                "review_on": "2090-01-01T00:00:00Z",
            }
        }
    return {rule: f for rule, f in found(bent(changes)).items() if rule in HELD}


@pytest.mark.parametrize(
    "applied",
    [
        when("Europe/London", 2026, 11, 23, 10, 0),
        when("Europe/Berlin", 2026, 3, 28, 11, 0),  # an hour is left out on the 29th
        when("Europe/Berlin", 2026, 10, 24, 11, 0),  # an hour comes twice on the 25th
        when("America/New_York", 2026, 3, 7, 23, 59, 59),
        when("Pacific/Auckland", 2026, 9, 26, 0, 0),
        when("Asia/Kathmandu", 2026, 12, 31, 0, 30),
        when("Europe/London", 2028, 2, 28, 12, 0),  # a leap day between
    ],
)
def test_47_h_59_min_holds_and_48_h_opens_whatever_the_clocks_did(applied):
    zone = applied.tzinfo
    for after, holds in (
        (dt.timedelta(hours=47, minutes=59), True),
        (dt.timedelta(hours=48), False),
    ):
        now = (applied.astimezone(dt.UTC) + after).astimezone(zone)
        assert ("alert-test-too-soon" in held(applied, now)) is holds, (applied, now)


def test_a_second_short_of_48_h_still_holds():
    applied = when("Europe/London", 2026, 11, 23, 10, 0)
    now = applied + dt.timedelta(hours=48, seconds=-1)
    finding = held(applied, now)["alert-test-too-soon"]
    assert finding["message"] == (
        "Test is 47 h 59 min old. Earliest start: Wed 25 Nov, 10:00 (UTC+00:00)."
    )
    assert finding["opens_at"] == "2026-11-25T10:00:00+00:00"


def test_two_days_on_the_wall_across_the_spring_change_are_only_47_hours():
    applied = when("Europe/Berlin", 2026, 3, 28, 11, 0)
    now = when("Europe/Berlin", 2026, 3, 30, 11, 0)
    finding = held(applied, now)["alert-test-too-soon"]
    assert "47 h" in finding["message"]
    assert finding["opens_at"] == "2026-03-30T12:00:00+02:00"


def test_a_test_put_on_in_another_zone_ages_by_elapsed_time():
    applied = when("Pacific/Auckland", 2026, 11, 23, 23, 0)
    opens = (applied + dt.timedelta(hours=48)).astimezone(ZoneInfo("America/Los_Angeles"))
    assert "alert-test-too-soon" in held(applied, opens - dt.timedelta(minutes=1))
    assert not held(applied, opens)


def test_the_leaflet_may_ask_for_longer_and_never_for_less():
    applied = when("Europe/London", 2026, 11, 23, 10, 0)
    now = applied + dt.timedelta(hours=71, minutes=59)
    assert "alert-test-too-soon" in held(applied, now, **{"lines.0.test": {"min_hours": 72}})
    early = applied + dt.timedelta(hours=47)
    assert "alert-test-too-soon" in held(applied, early, **{"lines.0.test": {"min_hours": 24}})


@pytest.mark.parametrize(
    ("applied", "months", "last"),
    [
        ((2026, 1, 15), 6, (2026, 7, 15)),
        ((2026, 8, 31), 6, (2027, 2, 28)),
        ((2027, 8, 30), 6, (2028, 2, 29)),
        ((2026, 12, 31), 6, (2027, 6, 30)),
        ((2026, 5, 31), 1, (2026, 6, 30)),
        ((2028, 2, 29), 12, (2029, 2, 28)),
    ],
)
def test_a_test_lapses_to_the_day_by_calendar_months(applied, months, last):
    applied = when("Europe/London", *applied, 12, 0)
    last_minute = when("Europe/London", *last, 23, 59)
    assert not held(applied, last_minute, months=months)
    lapsed = held(applied, last_minute + dt.timedelta(minutes=1), months=months)
    assert lapsed.keys() == {"alert-test-lapsed"}


def test_the_zone_a_test_was_written_in_never_adds_a_day():
    # 23:30 UTC on the 14th is the 15th in Auckland: the 14th counts, wherever it is read.
    applied = dt.datetime(2026, 1, 14, 23, 30, tzinfo=dt.UTC).astimezone(
        ZoneInfo("Pacific/Auckland")
    )
    utc_15th = dt.datetime(2026, 7, 15, 0, 30, tzinfo=dt.UTC)
    assert "alert-test-lapsed" in held(applied, utc_15th, months=6)


def test_without_the_insurers_terms_a_test_is_for_one_service():
    assert "alert-test-lapsed" in found(bent(at(used_before="yes")))
    terms = {"months": 6, "by": "Ana", "why": "insurer", "review_on": "2027-01-01T00:00:00Z"}
    house = {"house": {"test_validity": terms}}
    assert "alert-test-lapsed" not in found(bent(at(used_before="yes") | house))
    # A black tattoo wants a fresh test whatever the terms (UK-AAT-2).
    tattoo = house | {"black_tattoo": "yes_no_reaction"}
    assert "alert-test-lapsed" in found(bent(at(used_before="yes") | tattoo))


def test_a_test_serves_once_whatever_the_months_where_the_pages_say_so():
    terms = {"months": 6, "by": "Ana", "why": "insurer", "review_on": "2027-01-01T00:00:00Z"}
    relied_on = at(used_before="yes") | {"house": {"test_validity": terms}}
    again = [
        profile
        for profile in PROFILES
        if any(finding["group"] == "holds" for finding in found(bent(relied_on, profile)).values())
    ]
    assert again == list(each_time_advice())
    # FDA-QA asks for a test each time, and "other" takes the strictest.
    assert again == ["us", "other"]


def test_past_the_leaflets_longest_it_has_lapsed():
    applied = when("Europe/London", 2026, 11, 20, 10, 0)
    card = {"lines.0.test": {"max_hours": 96}}
    assert not held(applied, applied + dt.timedelta(hours=96), **card)
    late = applied + dt.timedelta(hours=96, seconds=1)
    assert held(applied, late, **card).keys() == {"alert-test-lapsed"}


def test_a_clear_reading_before_48_h_is_no_reading_and_an_early_reaction_is_one():
    early = {"read_at": "2026-11-24T10:00:00+00:00"}
    assert "alert-test-unread" in found(bent(at(**early)))
    assert "alert-test-reacted" in found(bent(at(**early, result="redness")))


def test_a_reading_needs_its_reader_and_paper_may_lack_the_hour():
    assert "alert-test-unread" in found(bent(at(read_by=None)))
    assert "alert-test-unread" in found(bent(at(read_at=None)))
    assert "alert-test-unread" not in found(bent(at(read_at=None, from_paper=True)))
    assert "alert-test-unread" in found(bent(at(read_at=None, read_by=None, from_paper=True)))


@pytest.mark.parametrize(
    "back", [dt.timedelta(hours=1), dt.timedelta(days=3), dt.timedelta(days=400)]
)
def test_a_clock_set_back_opens_nothing(back):
    """A test that is too young, or has lapsed, stays shut however far the clock goes back."""
    true_now = dt.datetime.fromisoformat("2026-11-25T10:15:00+00:00")
    lapsed = FRESH | {"applied_at": "2026-04-01T10:00:00Z", "read_at": "2026-04-03T10:00:00Z"}
    for test in (FRESH, lapsed):
        now = (true_now - back).isoformat()
        changes = {"tests": [test], "now": now, "starts_at": now}
        reply = reviewed(bent(changes | {"seen_until": true_now.isoformat()}))
        assert not reply["may_start"]
        ids = {finding["id"]: finding for finding in reply["findings"]}
        assert ids["alert-test-lapsed"]["message"].endswith("Check the date and time.")


def test_two_devices_a_few_minutes_apart_are_not_called_wrong():
    assert reviewed(bent({"seen_until": "2026-11-25T10:19:59+00:00"}))["may_start"]
    assert not reviewed(bent({"seen_until": "2026-11-25T10:20:01+00:00"}))["may_start"]


def test_answers_that_must_be_fresh_lapse_and_a_wrong_clock_makes_none_fresh():
    def scalp_said(moment):
        return bent({"said_at": [{"fact": "scalp", "at": moment}]})

    assert reviewed(scalp_said("2026-11-24T10:15:00+00:00"))["may_start"]
    assert "scalp-not-checked" in found(scalp_said("2026-11-24T10:14:59+00:00"))
    assert "scalp-not-checked" in found(scalp_said("2026-11-26T10:14:59+00:00"))


def test_at_booking_the_tests_age_is_that_at_the_start():
    planned = {"moment": "booking", "starts_at": "2026-11-27T10:00:00+00:00"}
    today = at(
        applied_at="2026-11-25T10:00:00+00:00", read_at=None, read_by=None, result="not_read"
    )
    assert not HELD & found(bent(planned | today)).keys()
    late = at(applied_at="2026-11-25T10:00:01+00:00", read_at=None, read_by=None, result="not_read")
    reply = reviewed(bent(planned | late))
    assert reply["alert_test"]["state"] == "too_soon"
    assert reply["alert_test"]["apply_by"] == "2026-11-25T10:00:00+00:00"
    assert not reply["may_start"], "nothing starts at booking"


def test_the_calendar_agrees_with_pythons_own():
    rng = random.Random(48)
    epoch = dt.date(1970, 1, 1)
    for day in [
        dt.date(2000, 2, 29),
        *(epoch + dt.timedelta(rng.randrange(47_000)) for _ in range(2000)),
    ]:
        number = (day - epoch).days
        assert day_number(day.year, day.month, day.day) == number
        assert calendar_day(number) == (day.year, day.month, day.day)
        later = months_on(number, 6) - number
        assert 181 <= later <= 184


def test_moments_agree_with_pythons_own():
    rng = random.Random(7)
    for _ in range(2000):
        offset = dt.timezone(dt.timedelta(minutes=rng.randrange(-14 * 60, 14 * 60)))
        moment = dt.datetime(2000, 1, 2, tzinfo=offset) + dt.timedelta(
            seconds=rng.randrange(3_000_000_000)
        )
        read = read_moment(moment.isoformat())
        assert read.seconds == moment.timestamp()
        assert dt.datetime.fromisoformat(text_of(*read)) == moment
        shown = moment + dt.timedelta(seconds=-moment.second % 60)
        assert words_of(*read).startswith(f"{shown:%a} {shown.day} {shown:%b, %H:%M} (UTC")
