"""Random records of a salon, as phones write them, around one service that is about to start."""

import random
import uuid

import msgspec

from basinside.service.records.fields import CAUTION
from basinside.service.records.instants import instant_text
from basinside.service.records.operation import Operation
from basinside.service.sync.clock import Clock, stamp_text, tick

NOON_MS = 1795608000000  # 2026-11-25T12:00:00Z
_DEVICE = "01890a5d-ac96-774b-bcce-000000000001"
_DAY_MS = 86_400_000
_LINES = ("Still", "Fathom", "Ember")
_CLASSES = {"Still": "alkaline_demi", "Fathom": "permanent", "Ember": "direct"}
_YES_NO = ("yes", "no", "unknown")

_SETTINGS = uuid.UUID("6f2f3b0e-1f0a-5c59-9d0a-3c1a5f9f7c11")


def setting_id(key):
    """The id of a setting's record, the same on every device (`web/src/records/write.ts`)."""
    return str(uuid.uuid5(_SETTINGS, key))


class Writer:
    """One phone that writes whatever it is told, each write a minute after the one before."""

    def __init__(self, rng):
        self.rng, self.clock, self.count = rng, Clock(), 0
        self.operations: list[Operation] = []
        self.at_ms = NOON_MS - 40 * _DAY_MS

    def write(self, kind, entity_id, fields, **more):
        self.at_ms += self.rng.randrange(60_000)
        self.clock = tick(self.clock, self.at_ms)
        self.count += 1
        told = {
            "op_id": f"o{self.count:04d}",
            "device_seq": self.count,
            "hlc": stamp_text(self.clock, _DEVICE),
            "schema": 2,
            "kind": kind,
            "entity_id": entity_id,
            "by": "ana",
            "fields": fields,
        }
        self.operations.append(msgspec.convert(told | more, Operation))

    def create(self, kind, entity_id, fields):
        """Make a record; what is said of a safety fact is an answer of its own, as on the page."""
        safety = {name: v for name, v in fields.items() if name in CAUTION}
        plain = {name: v for name, v in fields.items() if name not in CAUTION}
        self.write(f"{kind}.create", entity_id, plain)
        if safety:
            self.write("safety.answer", entity_id, safety, asked_by="ana")

    def moment(self):
        """A moment near now as a phone writes it, to the second and with an offset."""
        at_ms = self.at_ms - self.rng.randrange(20 * _DAY_MS)
        text = instant_text(at_ms)[:19]
        return text + self.rng.choice(("Z", "+00:00", "+02:00", "-05:00"))

    def maybe(self, **fields):
        """Some of the fields, as people leave them out."""
        return {name: value for name, value in fields.items() if self.rng.random() < 0.7}


def case(seed):
    """The records of one salon, and the id of the service that is asked about."""
    rng = random.Random(seed)
    writer = Writer(rng)
    _salon(writer)
    _client(writer, "c1")
    for number in range(rng.randrange(3)):
        _service(writer, f"s{number}", rng.choice(("c1", "c1", "c2")), begun=True)
    writer.at_ms = NOON_MS
    _service(writer, "now", "c1", begun=rng.random() < 0.2)
    for number in range(rng.randrange(3)):
        _decision(writer, f"d{number}")
    return {"operations": writer.operations, "service": "now"}


def _salon(writer):
    rng = writer.rng
    for number, name in enumerate(_LINES):
        if rng.random() < 0.6:
            leaflet = writer.maybe(
                min_hours=48, max_hours=96, site="behind the ear", method="open",
                max_minutes=rng.choice((20, 35)), heat_allowed=rng.random() < 0.5,
            )  # fmt: skip
            line = writer.maybe(leaflet=leaflet, leaflet_version="2026-03")
            writer.write("line.create", f"l{number}", {"name": name} | line)
    for line in (*_LINES, "lightener powder"):
        for fact in ("sensitiser", "persulfate", "heat_allowed", "labelled", "label_caution"):
            if rng.random() < 0.3:
                value = {"value": rng.choice((*_YES_NO, "")), "at": writer.moment()}
                key = f"line card: {line}: {fact}"
                writer.write("setting.create", setting_id(key), {"key": key, "value": value})
    if rng.random() < 0.4:
        terms = {"months": 6, "by": "Ana", "why": "terms", "review_on": writer.moment()}
        value = rng.choice((terms, terms, {"months": 6}, None, "half a year"))
        key = "alert_test_terms"
        writer.write("setting.create", setting_id(key), {"key": key, "value": value})


def _client(writer, client):
    rng = writer.rng
    answers = writer.maybe(
        age_years={"value": 34, "at": writer.moment()},
        asthma={"value": rng.choice(_YES_NO), "at": writer.moment(), "by": "ana"},
        hair_past={"value": rng.choice(([], [{"what": "perm"}])), "at": writer.moment()},
    )
    said = writer.maybe(
        name=rng.choice(("Ona Petrel", "")),
        colour_reaction=rng.choice(("none", "mild", "not_asked", "unknown")),
        black_tattoo=rng.choice(("never", "not_asked")),
        dye_allergy="none",
    )
    parts = {f"answers.{name}": value for name, value in answers.items()}
    writer.create("client", client, said | parts)
    for number in range(rng.randrange(3)):
        what = rng.choice(("permed", "henna or plant colour", "something else"))
        entry = {"client": client, "what": what, "at": writer.moment()}
        if number and rng.random() < 0.5:
            entry["corrects"] = "h0"
        writer.write("history_entry.create", f"h{number}", entry)
    for number in range(rng.randrange(3)):
        _test(writer, f"t{number}", rng.choice((client, client, "c2")))
    if rng.random() < 0.3:
        used = {"value": rng.choice(_YES_NO), "at": writer.moment()}
        told = {"answers.used_before:t0": used, "answers.test_method:t0": {"value": "open"}}
        writer.write("client.set", client, told)


def _test(writer, test, client):
    rng = writer.rng
    told = writer.maybe(
        line=rng.choice(_LINES), applied_at=writer.moment(), read_at=writer.moment(),
        read_by="Ana", site="inner elbow", method="open", applied_by="salon",
        leaflet_version="2026-03", result=rng.choice(("clear", "itch", "not_read")),
        from_paper=rng.random() < 0.3,
    )  # fmt: skip
    writer.create("alert_test", test, {"client": client} | told)


def _service(writer, service, client, *, begun):
    rng = writer.rng
    facts = writer.maybe(
        pregnant={"value": rng.choice(_YES_NO), "at": writer.moment()},
        scalp={"value": rng.choice(("sound", "broken")), "at": writer.moment()},
        new_to_client={"value": rng.choice(_YES_NO), "at": writer.moment()},
        touches_skin={"value": rng.choice(_YES_NO), "at": writer.moment()},
    )
    parts = {f"facts.{name}": value for name, value in facts.items()}
    writer.write("service.create", service, {"client": client, "purpose": "client"} | parts)
    if rng.random() < 0.1:
        writer.write("service.gone", service, {}, base={"gone": []})
        writer.write("service.restore", service, {}, base={"gone": [f"o{writer.count:04d}"]})
    for number in range(rng.randrange(4)):
        _zone(writer, f"{service}z{number}", service, number, begun=begun or rng.random() < 0.2)


def _zone(writer, zone, service, order, *, begun):
    rng = writer.rng
    told = writer.maybe(
        name=rng.choice(("roots", "lengths", "")), area=rng.choice(("scalp", "lengths")),
        heat=rng.choice(("yes", "no")), order=order,
    )  # fmt: skip
    if rng.random() < 0.3:
        lightener = {"kind": rng.choice(("powder", "cream")), "developer_percent": 6}
        lightener |= {"check_every_min": 5, "mix_ratio": 2, "grams": 30}
        lightener |= writer.maybe(max_min=45)
        told |= {"work": "lightener", "lightener": lightener}
    elif rng.random() < 0.9:
        told |= {"work": "toner"} | _mix(rng)
    if begun:
        told |= writer.maybe(first_section_at=writer.moment(), rinsed_at=writer.moment())
    writer.write("zone.create", zone, {"service": service} | told)
    if rng.random() < 0.1:
        writer.write("zone.set", zone, {"mix": None})


def _mix(rng):
    products = [
        {
            "id": f"p{number}",
            "name": f"{line} 9",
            "line": line,
            "class": _CLASSES[line],
            "level": 9,
            "tone": ["pearl"],
            "developer_percent": rng.choice(([], [1.9, 6])),
            "window": {"min": 5, "max": 20 + number},
            **rng.choice(({}, {"may_mix_with": ["Still"]})),
        }
        for number, line in enumerate(rng.sample(_LINES, rng.randrange(1, 4)))
    ]
    parts = [{"product": each["id"], "grams": 30} for each in products[: rng.randrange(1, 4)]]
    developer = rng.choice(({}, {"developer": {"percent": 3, "grams": 60}}))
    return {"mix": {"parts": parts, "minutes": 10, **developer}, "products": products}


def _decision(writer, decision):
    told = writer.maybe(basis="a=b", edition="2026-11") | {
        "service": writer.rng.choice(("now", "now", "s0")),
        "rule": "strand-not-done",
        "role": "in_charge",
        "saw": "a card",
        "why": "she is 17",
        "by": "Ana",
        "at": writer.moment(),
    }
    writer.write("decision.create", decision, told)
