"""`basinside demo`: fills an empty data folder with the invented day, for the desk.

A time in the day's file is an offset, made into a moment as the command runs: `@now-12` is 12
minutes before that, `@quarter+60` 60 minutes after it on the quarter of an hour before, but at
23:45 that day at the latest, and `@day-42 10:30` that wall clock 42 days before. `web/src/demo`
does the same on a phone.
"""

import re
import uuid
from datetime import datetime, timedelta, tzinfo
from typing import Any

import msgspec

from ..contract.fact_rows import cautions
from ..service.http.open_desk import now_ms
from ..service.records.fields import KINDS, SCHEMA
from ..service.store.salon import DATABASE_FILE, Salon
from ..service.store.shelf import SEED_FOLDER, seed_if_new
from ..service.store.unready import Unready
from ..service.sync.clock import Clock, stamp_text, tick
from ..service.sync.push import bring_in
from ..service.sync.sent import Sent, read_operation
from ..service.whole.tide import begin
from .serve import Settings

DAY_FILE = SEED_FOLDER / "day.json"
PHONES = {1: "Mo's phone", 2: "Ada's phone"}
_FROM_NOW = re.compile(r"@(now|quarter)([+-]\d+)")
_ON_A_DAY = re.compile(r"@day([+-]\d+) (\d\d):(\d\d)")
_QUARTER_S = 900

Json = dict[str, Any]


def demo(settings: Settings) -> int:
    """Fill the data folder and print the counts; return 0.

    Raises `Unready` if the folder holds records already, or the day's file is not there.
    """
    try:
        day = msgspec.json.decode(DAY_FILE.read_bytes())
    except OSError as error:
        raise Unready(f"{DAY_FILE} cannot be read: {error.strerror}. Put it back.") from error
    seed_if_new(settings.data_folder)
    salon = Salon(settings.data_folder / DATABASE_FILE)
    try:
        opened_ms = now_ms()
        begin(salon, opened_ms)
        with salon.writing() as writing:
            if writing.end().seq > 0:
                raise Unready(
                    f"{settings.data_folder} holds records, and invented people never go among"
                    " them. Name an empty folder in BASINSIDE_DATA."
                )
            sent = operations(day, datetime.now().astimezone())
            brought = bring_in(writing, str(uuid.uuid4()), sent, opened_ms)
            if brought.refused:
                raise Unready(f"{DAY_FILE} has a fault: {brought.refused[0].message}")
            clients = writing.count("kind = ?", ["client"])
    finally:
        salon.close()
    print(
        f"The demo day is in {settings.data_folder}: {clients} invented clients,"
        f" {len(brought.accepted)} entries. Delete the folder to remove it.",
        flush=True,
    )
    return 0


def moment(offset: str, opened: datetime, zone: tzinfo | None = None) -> datetime:
    """Return the moment of an offset; `zone` is that of the wall clock, this machine's without it.

    Raises ValueError for a text that is no offset.
    """
    if found := _FROM_NOW.fullmatch(offset):
        # Elapsed minutes: those of a wall clock are more or fewer where the hour changes.
        at_s = int(opened.timestamp()) + int(found[2]) * 60
        if found[1] == "quarter":
            # What is to come is on the day that is shown.
            at_s = min(at_s - at_s % _QUARTER_S, int(_on_wall(opened, 0, 23, 45, zone).timestamp()))
        return datetime.fromtimestamp(at_s, zone or opened.tzinfo)
    if not (found := _ON_A_DAY.fullmatch(offset)):
        raise ValueError(f"{offset!r} is no time of the demo day.")
    return _on_wall(opened, int(found[1]), int(found[2]), int(found[3]), zone)


def _on_wall(opened: datetime, days: int, hour: int, minute: int, zone: tzinfo | None) -> datetime:
    """Return a time of the wall clock so many days after the one on which the day was opened."""
    day = opened.astimezone(zone).date() + timedelta(days=days)
    wall = datetime(day.year, day.month, day.day, hour, minute, tzinfo=zone)
    return wall if zone else wall.astimezone()


def with_moments(value: Any, opened: datetime, zone: tzinfo | None = None) -> Any:
    """Return a value with each offset in it as a moment: RFC 3339, to the second."""
    if isinstance(value, str):
        if not value.startswith("@"):
            return value
        return moment(value, opened, zone).isoformat(timespec="seconds")
    if isinstance(value, list):
        return [with_moments(each, opened, zone) for each in value]
    if isinstance(value, dict):
        return {name: with_moments(each, opened, zone) for name, each in value.items()}
    return value


def operations(day: Json, opened: datetime) -> list[Sent]:
    """Return the day's operations, by phone and in the order of writing, as two phones had them."""
    clocks, numbers = dict.fromkeys(PHONES, Clock()), dict.fromkeys(PHONES, 0)
    devices = {phone: str(uuid.uuid4()) for phone in PHONES}
    named = [
        {
            "at": "@day-400 08:00",
            "by": devices[phone],
            "phone": phone,
            "records": [{"kind": "device", "id": devices[phone], "fields": {"name": name}}],
        }
        for phone, name in PHONES.items()
    ]
    acts = sorted([*named, *day["acts"]], key=lambda act: moment(act["at"], opened))
    sent = []
    for act in acts:
        phone = act["phone"]
        at_ms = int(moment(act["at"], opened).timestamp() * 1000)
        for record in act["records"]:
            for drafted in _drafts(with_moments(record, opened), act["by"]):
                clocks[phone] = tick(clocks[phone], at_ms)
                numbers[phone] += 1
                stamped = {
                    "op_id": str(uuid.uuid4()),
                    "device_seq": numbers[phone],
                    "hlc": stamp_text(clocks[phone], devices[phone]),
                    "schema": SCHEMA,
                    **drafted,
                }
                raw = msgspec.json.encode(stamped)
                sent.append(read_operation(raw, "An entry of the demo day", ""))
    return sent


def _drafts(record: Json, by: str) -> list[Json]:
    """Return what makes a record: its creation, and its first answers to safety questions."""
    kind, rules = record["kind"], KINDS[record["kind"]].fields
    plain: Json = {}
    answers: Json = {}
    for name, value in record["fields"].items():
        rule = rules[name]
        if rule == "each":
            plain |= {f"{name}.{key}": each for key, each in value.items()}
        elif rule == "safety" and _says_less(name, value):
            answers[name] = value
        else:
            plain[name] = value
    whose = {"entity_id": record["id"], "by": by}
    drafts = [{**whose, "kind": f"{kind}.create", "fields": plain}]
    if answers:
        told = {"base": {name: [] for name in answers}, "asked_by": by}
        before = {name: cautions()[name].blank[0] for name in answers}
        drafts.append({**whose, "kind": "safety.answer", "fields": answers, **told, "from": before})
    return drafts


def _says_less(fact: str, word: str) -> bool:
    """Return whether a word is less cautious than that nobody has asked."""
    caution = cautions()[fact]
    return caution.order.index(word) < caution.order.index(caution.blank[0])
