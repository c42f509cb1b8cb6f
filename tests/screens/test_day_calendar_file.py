"""The day as a calendar file, saved from *Today* as a person saves it.

Outside the project: the zone's clock as the file tells it is read by dateutil's own reader of RFC
5545 zones and compared with the IANA database, which Python's zoneinfo reads. Line length and line
ends are RFC 5545, 3.1; alarms 3.6.6; the zone beside a time 3.2.19.
"""

import datetime as dt
import io
import re
from zoneinfo import ZoneInfo

from dateutil.tz import tzical
from playwright.sync_api import expect
from test_service import Service

ZONE = "Europe/London"
CLIENTS = ("Wren Aldous", "Oona Pell")


def saved(page):
    with page.expect_download() as download:
        page.get_by_role("button", name="Day to my calendar").tap()
    assert re.fullmatch(r"basinside-\d{4}-\d\d-\d\d\.ics", download.value.suggested_filename)
    return download.value.path()


def events_of(text):
    """Each event's lines, unfolded, as name to value; a name that comes twice keeps all."""
    events = []
    for block in re.findall(r"BEGIN:VEVENT\n(.*?)END:VEVENT", text, re.DOTALL):
        lines = [line.partition(":") for line in block.splitlines()]
        events.append({name: [v for n, _, v in lines if n == name] for name, _, _ in lines})
    return events


def test_the_day_rings_in_another_calendar_at_the_same_instants(visit):
    service = Service(visit(timezone_id=ZONE)).open()
    page = service.page
    expect(page.get_by_role("button", name="New service")).to_be_visible()
    expect(page.get_by_role("button", name="Day to my calendar")).to_have_count(0)
    service.of_a_new_client(CLIENTS[0]).open().of_a_new_client(CLIENTS[1]).to_the_clock()
    service.open()
    path = saved(page)

    content = path.read_bytes()
    assert content.endswith(b"END:VCALENDAR\r\n")
    lines = content.split(b"\r\n")
    assert all(len(line) <= 75 and b"\n" not in line for line in lines)
    text = content.decode().replace("\r\n ", "").replace("\r\n", "\n")
    assert text.startswith("BEGIN:VCALENDAR\nVERSION:2.0\nPRODID:")

    london = tzical(io.StringIO(content.decode().replace("\r\n", "\n"))).get(ZONE)
    now = dt.datetime.now(dt.UTC)
    for days in range(-300, 300, 7):
        wall = (now + dt.timedelta(days=days)).replace(tzinfo=None)
        assert wall.replace(tzinfo=london).utcoffset() == ZoneInfo(ZONE).utcoffset(wall)

    planned, rinse = events_of(text)
    assert planned["SUMMARY"] == [CLIENTS[0]]
    starts = f"DTSTART;TZID={ZONE}"
    at = dt.datetime.strptime(planned[starts][0], "%Y%m%dT%H%M%S").replace(tzinfo=ZoneInfo(ZONE))
    kept = [op["fields"].get("planned_at") for op in service.records("outbox") if "fields" in op]
    assert at == dt.datetime.fromisoformat(next(filter(None, kept)))
    assert planned["TRIGGER"] == ["-PT10M"]

    assert rinse["SUMMARY"] == [f"{CLIENTS[1]}\\, all over: rinse"]
    begins, ends = (
        dt.datetime.strptime(rinse[name][0], "%Y%m%dT%H%M%S").replace(tzinfo=dt.UTC)
        for name in (starts, f"DTEND;TZID={ZONE}")
    )
    assert begins < ends
    minutes = (ends - begins).total_seconds() / 60
    assert rinse["TRIGGER"] == ["PT0S", f"PT{minutes:.0f}M"]
    assert [words.split(": ")[1] for words in rinse["DESCRIPTION"]] == [
        "look again\\, you can rinse from here",
        "rinse now",
    ]

    # Brought in again, it plans nothing twice, and takes no rinse for an appointment.
    page.get_by_role("button", name="Import a day").tap()
    page.get_by_label("Choose the file").set_input_files(path)
    expect(page.get_by_text("here already")).to_be_visible()
    expect(page.get_by_text("a rinse, and no appointment")).to_be_visible()
