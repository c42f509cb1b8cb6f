"""What the demo day is made of: acts, each with its records (see `demo_day.py`).

A time in them is an offset, made into a moment when somebody opens the day:

- `@now-12`: 12 minutes before that.
- `@quarter+60`: 60 minutes after that, on the quarter of an hour before, by 23:45 that day.
- `@day-42 10:30`: 10:30 on the wall clock, 42 days before that day.
"""

import json
import sys
import uuid
from itertools import count
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT / "api"))

from basinside.engine.door import answer  # noqa: E402

SEED = ROOT / "seed_demo"
SHELF = json.loads((SEED / "shelf.json").read_text())["products"]
OK = 200

Fields = dict[str, Any]
"""What a record says, in the contract's shapes, with offsets for its moments."""
Record = tuple[str, str, Fields]
"""Kind, id and fields."""

_numbers = count(1)


def new_id() -> str:
    """Return the next id: the same each time the file is written."""
    number = next(_numbers)
    return f"01900000-{number:04x}-7000-8000-{number:012x}"


MO, ADA = new_id(), new_id()
# As web/src/records/write.ts has it.
SETTINGS = uuid.UUID("6f2f3b0e-1f0a-5c59-9d0a-3c1a5f9f7c11")
ACTS: list[Fields] = []


def at_once(at: str, *records: Record, by: str = MO, phone: int = 1) -> None:
    """Add one act: records that are made together."""
    made = [{"kind": kind, "id": own, "fields": fields} for kind, own, fields in records]
    ACTS.append({"at": at, "by": by, "phone": phone, "records": made})


def asked(question: str, body: Fields) -> Fields:
    """Return the engine's answer."""
    reply = answer(question, json.dumps(body).encode())
    if reply.status != OK:
        raise SystemExit(reply.body.decode())
    said: Fields = json.loads(reply.body)
    return said


class Head:
    """A client's hair and wish, with the mix that the demo shelf has for them."""

    def __init__(
        self,
        level: float,
        tone: list[str],
        wish_level: float,
        *,
        porosity: float = 0.5,
        line: str | None = None,
        grams: int = 60,
    ) -> None:
        warmth = 1
        self.hair_entry = {
            "seen": "dry",
            "level": level,
            "warmth": warmth,
            "porosity": porosity,
            "damp": 0.6,
            "white_share": 0,
            "lifted": True,
            "by_reading": False,
            "reading": {"lab": ["", "", ""], "state": "dry"},
            "already_on": [],
            "also": [],
            "white_uptake": 1,
        }
        self.wish_entry = {
            "by_reading": False,
            "level": wish_level,
            "tone": tone,
            "lab": ["", "", ""],
            "tolerance": 3,
        }
        self.amounts = {
            "total_g": grams,
            "max_products": 3,
            "length": "",
            "density": "medium",
            "share": 1,
            "left_over": "",
            "developer_percent": 0,
        }
        self.hair = {
            "porosity": porosity,
            "damp": 0.6,
            "white_share": 0,
            "lifted": True,
            "also": [],
            "level": level,
            "warmth": warmth,
            "already_on": [],
        }
        self.wish = {"level": wish_level, "tone": tone, "tolerance": 3}
        shelf = [each for each in SHELF if line is None or each["line"] == line]
        limits = {"total_g": grams, "max_products": 3, "step_g": 5}
        question = {"hair": self.hair, "wish": self.wish, "products": shelf, "limits": limits}
        best = asked("formulations", question)["formulas"][0]
        self.mix, self.window = best["mix"], best["window"]
        self.predicted, self.chance = best["predicted"], best["chance"]
        in_bowl = {part["product"] for part in self.mix["parts"]}
        self.products = [each for each in SHELF if each["id"] in in_bowl]
        self.most_minutes = min(each["window"]["max"] for each in self.products)
        self.line = self.products[0]["line"]

    def chosen(self) -> Fields:
        """Return the fields of a zone or formula with this mix."""
        entered = {"hair": self.hair_entry, "wish": self.wish_entry, "amounts": self.amounts}
        return {
            "entered": {**entered, "chosen_mix": ""},
            "hair": self.hair,
            "wish": self.wish,
            "mix": self.mix,
            "products": self.products,
            "most_minutes": self.most_minutes,
            "window": self.window,
            "predicted": self.predicted,
        }

    def bowl(self) -> Fields:
        """Return what was weighed, by the names on the tubes."""
        names = {each["id"]: (each["line"], each["name"]) for each in self.products}
        parts = [
            {"product": p["product"], "line": line, "name": name, "grams": p["grams"]}
            for p in self.mix["parts"]
            for line, name in [names[p["product"]]]
        ]
        developer = self.mix.get("developer")
        return {"parts": parts, **({"developer": developer} if developer else {})}


NOTHING_SPEAKS_AGAINST = {
    "colour_reaction": "none",
    "black_tattoo": "never",
    "dye_allergy": "none",
    "persulfate_reaction": "none",
}


def said(value: object, at: str) -> Fields:
    """Return one answer as a record keeps it."""
    return {"value": value, "at": at, "by": MO}


def client(name: str, since: str, phone: str, **answers: str) -> str:
    """Add a client who was asked the usual questions; return the id."""
    own, merged = new_id(), {**NOTHING_SPEAKS_AGAINST, **answers}
    others = {"eighteen_or_over": "yes", "chemo": "none", "hair_past": []}
    kept = {fact: said(value, since) for fact, value in {**merged, **others}.items()}
    at_once(since, ("client", own, {"name": name, "phone": phone, **merged, "answers": kept}))
    return own


def service(who: str, planned: str, **fields: object) -> tuple[str, Fields]:
    """Return a visit's id and fields."""
    fixed = {"client": who, "planned_at": planned, "purpose": "client", "person": MO}
    return new_id(), {**fixed, "state": "planned", "profile": "eu", **fields}


def zone(of: str, head: Head, **fields: object) -> Record:
    """Return the one zone of a visit."""
    whole = {"service": of, "name": "all over", "order": 0, "work": "toner"}
    return "zone", new_id(), {**whole, **head.chosen(), **fields}


def start(name: str, visit: Fields, one_zone: Record, head: Head | None) -> Record:
    """Return what is frozen as a zone's first section goes on."""
    _, zone_id, fields = one_zone
    taken = ("wish", "hair", "window", "most_minutes", "predicted", "lightener", "work")
    known = {field: fields[field] for field in taken if field in fields}
    at = fields["first_section_at"]
    answers = [{"fact": f, "value": v} for f, v in NOTHING_SPEAKS_AGAINST.items()]
    frozen = {
        "service": fields["service"],
        "client": visit["client"],
        "zone": zone_id,
        "at": at,
        "worker": "Mo Tarn",
        "name": name,
        "profile": "eu",
        "answers": answers,
        "tests": [],
        "decisions": [],
    }
    return "start", new_id(), {**frozen, **known, **({"bowl": head.bowl()} if head else {})}


def done(name: str, who: str, head: Head, day: int, hour: int, minute: int, looked: str) -> str:
    """Add a visit of an earlier day, from the first section to the result; return its id."""

    def at(later: int) -> str:
        over, past = divmod(minute + later, 60)
        return f"@day{day:+d} {hour + over:02d}:{past:02d}"

    own, visit = service(who, at(0), state="ended", result={"at": at(75), "words": looked})
    best = head.window["best"]
    times = {"first_section_at": at(20), "last_section_at": at(25), "rinsed_at": at(25 + best)}
    one_zone = zone(own, head, **times, deadline_at=at(20 + head.most_minutes))
    step = {"service": own, "what": f"all over rinsed at minute {best}", "at": at(25 + best)}
    at_once(
        at(75),
        ("service", own, visit),
        one_zone,
        start(name, visit, one_zone, head),
        ("step", new_id(), step),
    )
    return own


def alert_test(who: str, line: str, applied: str, **fields: str) -> None:
    """Add an alert test that the salon put on."""
    put_on = {"client": who, "line": line, "applied_at": applied, "applied_by": "salon"}
    read = {"read_by": "Mo Tarn"} if "read_at" in fields else {}
    told = {"site": "inner elbow", "result": "not_read", **read, **fields}
    at_once(fields.get("read_at", applied), ("alert_test", new_id(), {**put_on, **told}))


def setting(key: str, value: object) -> Record:
    """Return a setting of the salon; its id follows from its key, as on every phone."""
    return "setting", str(uuid.uuid5(SETTINGS, key)), {"key": key, "value": value}


def line_card(line: str) -> list[Record]:
    """Return what the salon read once on a line's pack and in its leaflet."""
    read = {"labelled": "yes", "label_caution": "yes", "leaflet_version": "3"}
    told = {fact: said(value, "@day-300 09:00") for fact, value in read.items()}
    return [setting(f"line card: {line}: {fact}", value) for fact, value in told.items()]


def note(at: str, text: str, by: str = MO, phone: int = 1, **about: str) -> None:
    """Add a note."""
    at_once(at, ("note", new_id(), {**about, "text": text, "at": at}), by=by, phone=phone)
