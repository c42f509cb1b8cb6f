"""`basinside demo` fills an empty folder for the desk, and touches no folder with records."""

import json
from collections import Counter
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from basinside import cli
from basinside.cli.demo import DAY_FILE, moment, operations, with_moments
from basinside.service.store.salon import DATABASE_FILE, Salon

DAY = json.loads(DAY_FILE.read_text())
# The zones change their hour by a whole one, by half of one, and never: the time zone database's.
ZONES = ("Europe/Paris", "America/New_York", "Australia/Lord_Howe", "UTC")
FIRST = datetime(2026, 11, 30, 0, 17, 41, tzinfo=UTC)
HOURS = [FIRST + timedelta(hours=hour) for hour in range(366 * 24)]


@pytest.fixture
def folder(tmp_path, monkeypatch):
    monkeypatch.setenv("BASINSIDE_DATA", str(tmp_path / "data"))
    return tmp_path / "data"


def kinds_in(folder):
    salon = Salon(folder / DATABASE_FILE)
    try:
        with salon.reading() as reading:
            kept = reading.changed_after(0, 1000)
            assert reading.asking(1) == []
    finally:
        salon.close()
    return Counter(each.kind for each in kept)


def test_it_fills_an_empty_folder_with_the_day_of_two_phones(folder, capsys):
    assert cli.main(["demo"]) == 0
    assert "8 invented clients" in capsys.readouterr().out
    wanted = Counter(record["kind"] for act in DAY["acts"] for record in act["records"])
    assert kinds_in(folder) == wanted + Counter(device=2)


def test_a_folder_with_records_is_refused_and_stays(folder, capsys):
    assert cli.main(["demo"]) == 0
    before = kinds_in(folder)
    assert cli.main(["demo"]) == 1
    assert "holds records" in capsys.readouterr().err
    assert kinds_in(folder) == before


@pytest.mark.parametrize("name", ZONES)
def test_its_moments_are_right_at_every_hour_of_a_year(name):
    zone = ZoneInfo(name)
    for opened in HOURS:
        here = opened.astimezone(zone)
        wall = moment("@day-42 10:30", here, zone)
        assert (wall.hour, wall.minute) == (10, 30)
        assert here.date() - wall.date() == timedelta(days=42)
        assert opened - moment("@now-2840", here, zone) == timedelta(minutes=2840)
        quarter = moment("@quarter+75", here, zone)
        assert quarter.minute % 15 == 0
        early = opened + timedelta(minutes=75) - quarter.astimezone(UTC)
        assert quarter.date() == here.date()
        assert timedelta() <= early
        assert early < timedelta(minutes=15) or (quarter.hour, quarter.minute) == (23, 45)


def test_what_is_no_offset_is_refused_and_other_texts_stay():
    with pytest.raises(ValueError, match="no time of the demo day"):
        moment("@noon", FIRST)
    assert with_moments({"words": ["level 10"], "grams": 5}, FIRST) == {
        "words": ["level 10"],
        "grams": 5,
    }


def test_nothing_of_it_is_written_after_it_was_opened():
    for opened in HOURS[:: 24 * 7 + 5]:
        stamps = [sent.op.hlc for sent in operations(DAY, opened)]
        assert stamps == sorted(stamps, key=lambda stamp: stamp[:24])
        assert max(stamps)[:24] <= opened.isoformat(timespec="milliseconds").replace(
            "+00:00", "Z"
        ).replace(".000Z", ".999Z")
