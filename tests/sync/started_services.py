"""A regular client's service, written on a phone as the page writes it, that the rules let start.

The facts are those of the worked example of a safety review in the API's document.
"""

import uuid

from gate_cases import setting_id

from basinside.service.http.document import examples
from basinside.service.records.fields import CAUTION
from basinside.service.records.instants import instant_text

REGULAR = next(iter(examples.SAFETY_REVIEWS.values()))
FACTS = {name: fact for name, fact in REGULAR["facts"].items() if name != "tests"}
HOUR_MS = 3_600_000
MINUTE_MS = 60_000
TUBE = {
    "id": "still-9",
    "name": "Still 9",
    "line": "Still",
    "class": "neutral_demi",
    "level": 9,
    "tone": ["pearl"],
    "developer_percent": [1.9],
    "window": {"min": 5, "max": 20},
}


class Visit:
    """One service of one client on one phone; it starts an hour ago, as the phone's clock says."""

    def __init__(self, phone, number=1):
        self.phone, self.now_ms = phone, phone.now_ms
        self.client, self.service, self.zone, self.test, self.earlier, self.before = (
            str(uuid.uuid5(uuid.NAMESPACE_OID, f"{name} {number}"))
            for name in ("client", "service", "zone", "test", "earlier", "before")
        )
        self.start_ms = self.now_ms - HOUR_MS

    def at(self, minutes_before_start):
        """Set the phone's clock to so many minutes before the start; return the moment in words."""
        self.phone.now_ms = self.start_ms - minutes_before_start * MINUTE_MS
        return instant_text(self.phone.now_ms)

    def create(self, kind, entity_id, fields):
        safety = {name: v for name, v in fields.items() if name in CAUTION}
        plain = {name: v for name, v in fields.items() if name not in CAUTION}
        made = [self.phone.op(f"{kind}.create", entity_id, plain)]
        if safety:
            made.append(self.phone.op("safety.answer", entity_id, safety, asked_by="ana"))
        return made

    def client_and_salon(self):
        """The client with what she said, and what is known of the line."""
        at = self.at(50)
        safety = {name: fact for name, fact in FACTS.items() if name in CAUTION}
        ops = self.create("client", self.client, {"name": "Ona Petrel"} | safety)
        for fact in ("labelled", "label_caution"):
            key = f"line card: Still: {fact}"
            value = {"key": key, "value": {"value": "yes", "at": at}}
            ops.append(self.phone.op("setting.create", setting_id(key), value))
        line = {"name": "Still", "leaflet_version": "2026-01", "leaflet": {"min_hours": 48}}
        return [
            *ops,
            self.phone.op("line.create", str(uuid.uuid5(uuid.NAMESPACE_OID, "Still")), line),
        ]

    def alert_test(self, written_min=45, **other):
        """A spot of the line, put on four days ago and read a day before the start, clear.

        It was written down so many minutes before the start.
        """
        put_on, read = self.at(96 * 60), self.at(24 * 60)
        self.at(written_min)
        told = {
            "client": self.client, "line": "Still", "applied_at": put_on, "read_at": read,
            "read_by": "Ana", "applied_by": "salon", "site": "inside of the elbow",
            "result": "clear",
        }  # fmt: skip
        return self.create("alert_test", self.test, told | other)

    def planned(self, **facts):
        """The service with all that is asked fresh, and a zone with its mix."""
        at = self.at(40)
        said = {name: fact for name, fact in (FACTS | facts).items() if name not in CAUTION}
        parts = {
            f"facts.{name}": {"value": fact, "at": at, "by": ""} for name, fact in said.items()
        }
        service = {"client": self.client, "purpose": "client"} | parts
        mix = {"parts": [{"product": "still-9", "grams": 40}], "minutes": 10}
        zone = {"service": self.service, "name": "all over", "work": "toner", "mix": mix}
        return [
            self.phone.op("service.create", self.service, service),
            self.phone.op("zone.create", self.zone, zone | {"products": [TUBE], "heat": "no"}),
        ]

    def started(self, profile="uk"):
        """First section on."""
        at = self.at(0)
        return [
            self.phone.op("zone.set", self.zone, {"first_section_at": at}),
            self.phone.op("service.set", self.service, {"state": "started", "profile": profile}),
        ]

    def push(self, *parts):
        """Send operations now; each must be taken."""
        self.phone.now_ms = self.now_ms
        ops = [op for part in parts for op in part]
        for op in ops:
            self.phone.sent = getattr(self.phone, "sent", 0) + 1
            op["device_seq"] = self.phone.sent
        reply = self.phone.push(*ops)
        assert len(reply.json().get("accepted", [])) == len(ops), reply.text
