"""The export and the search, in words; `table.py` puts them among the others."""

from typing import Any

from .....contract.export import DAY_PATTERN, MOST_READ, MOST_TYPED, Records
from .....contract.matters import AFTER_PATTERN, MOST_MATTERS, Matters
from .....contract.record_search import MOST_FOUND, Searched
from .....contract.sync import CURSOR_PATTERN, UUID_PATTERN
from ....store.search_index import SEARCHED
from .call import Call, Query

_CLIENT = "0199c0de-0000-7000-8000-000000000001"
_SERVICE = "0199c0de-0000-7000-8000-000000000002"
_NEXT = "e1.3.1f0c3a9e.5a1b8e02c7d94f36"


def _text(pattern: str | None = None) -> dict[str, Any]:
    return {"type": "string", **({"pattern": pattern} if pattern else {"maxLength": MOST_TYPED})}


_QUERY = (
    Query(
        "after", _text(CURSOR_PATTERN), "The `next` of an earlier answer; absent: from the first."
    ),
    Query(
        "limit",
        {"type": "integer", "minimum": 1, "maximum": MOST_READ, "default": MOST_READ},
        "The most records in a page, which also ends at 1 MiB.",
    ),
    Query("client", _text(UUID_PATTERN), "Only records of this client."),
    Query("day", _text(DAY_PATTERN), "Only records of this day, UTC."),
    # The last one: a kind without words of its own gets all but this.
    Query("text", _text(), "Only records that hold every one of these words, whole or begun."),
)


def _record(kind: str, id_: str, at: str, seq: int, values: dict[str, Any]) -> dict[str, Any]:
    return {
        "id": id_,
        "kind": kind,
        "client": _CLIENT,
        "service": _SERVICE if kind in ("note", "service", "start") else None,
        "at": at,
        "seq": seq,
        "gone": False,
        "complete": True,
        "values": values,
        "apart": [],
    }


def _standing(v: str, op: str, at_s: str) -> dict[str, Any]:
    device = "0199c0de-0000-7000-8000-00000000000a"
    return {
        "v": v,
        "op": f"0199c0de-0000-7000-8000-0000000000{op}",
        "eff": f"2026-11-25T10:15:{at_s}Z-0000-{device}",
        "by": device,
    }


_SHOWN = {
    "client": _record(
        "client",
        _CLIENT,
        "2026-11-25T10:15:03Z",
        1,
        {"name": "Ona Petrel", "phone": "020 7946 0991", "dye_allergy": "none"},
    ),
    "service": _record(
        "service",
        _SERVICE,
        "2026-11-25T10:30:00Z",
        2,
        {"client": _CLIENT, "planned_at": "2026-11-25T10:30:00+00:00", "state": "planned"},
    ),
    "start": _record(
        "start",
        "0199c0de-0000-7000-8000-000000000005",
        "2026-11-25T10:41:00Z",
        4,
        {
            "client": _CLIENT,
            "service": _SERVICE,
            "at": "2026-11-25T10:41:00+00:00",
            "answers": [{"fact": "dye_allergy", "value": "none"}],
        },
    ),
    "note": _record(
        "note",
        "0199c0de-0000-7000-8000-000000000003",
        "2026-11-25T11:02:00Z",
        3,
        {"client": _CLIENT, "service": _SERVICE, "text": "beige at eight minutes"},
    ),
    "formula": _record(
        "formula",
        "0199c0de-0000-7000-8000-000000000004",
        "2026-11-25T10:40:00Z",
        3,
        {"client": _CLIENT, "name": "pearl, ends"},
    ),
}


def _reading(path: str, kind: str, operation: str, summary: str, said: str) -> Call:
    return Call(
        "get",
        path,
        operation,
        "Reading",
        summary,
        f"{said} Records come in the order of their last change, each as it is now. Deleted ones"
        " come too, with `gone`. Ask again with `after` set to `next` for the next page, and later"
        " for everything changed since. 409 `epoch_changed` if the desk was put back from a backup:"
        " read again without `after`.",
        None,
        Records,
        {f"One {kind}": {"records": [_SHOWN[kind]], "next": _NEXT, "more": False}},
        paired=True,
        query=_QUERY if kind in SEARCHED else _QUERY[:-1],
        refused=("400", "409"),
    )


EXPORT_CALLS = (
    _reading("/api/clients", "client", "readClients", "The clients", "Every client."),
    _reading(
        "/api/services",
        "service",
        "readServices",
        "The services",
        "Planned, running and past services, each with how it stood when its zones began; their"
        " zones are records of their own. A zone that begins later does not change its service:"
        " follow `/api/starts` to hear of it.",
    ),
    _reading(
        "/api/starts",
        "start",
        "readStarts",
        "The visits as they stood at their start",
        "For each zone that began: the answers, alert tests, decisions, grams and wish of that"
        " moment. Nothing that came later changes one.",
    ),
    _reading("/api/notes", "note", "readNotes", "The notes", "Every note of every service."),
    _reading(
        "/api/formulas",
        "formula",
        "readFormulas",
        "The kept formulas",
        "Kept formulas. A change of one is a new formula that names the old one as its `parent`.",
    ),
    Call(
        "get",
        "/api/search",
        "search",
        "Reading",
        "Find records by their words",
        "Clients, formulas, entries of a hair's history and notes that hold every word of `q`,"
        " whole or begun. Accents and capitals do not matter. Clients come first, then formulas,"
        " history and notes, the newest of each first.",
        None,
        Searched,
        {
            "One note": {
                "found": [
                    {
                        "id": "0199c0de-0000-7000-8000-000000000003",
                        "kind": "note",
                        "words": "beige at eight minutes",
                        "client": _CLIENT,
                        "client_name": "Ona Petrel",
                        "service": _SERVICE,
                        "at": "2026-11-25T11:02:00Z",
                    }
                ],
                "more": False,
            }
        },
        paired=True,
        query=(
            Query("q", {**_text(), "minLength": 1}, "The words.", needed=True),
            Query(
                "limit",
                {"type": "integer", "minimum": 1, "maximum": MOST_FOUND, "default": 60},
                "The most in a page.",
            ),
        ),
        refused=("400",),
    ),
    Call(
        "get",
        "/api/matters",
        "listMatters",
        "Reading",
        "What needs a look",
        "Everything that only a person can settle. Services whose clock was started while the"
        " safety rules held them. Fields that two people wrote apart. Records deleted by someone"
        " who had not seen their last change. Rows that cannot be read. Operations that were"
        " refused for good. An operation ends each, pushed like any other; `settle` says which.",
        None,
        Matters,
        {
            "A client with two names": {
                "matters": [
                    {
                        "id": "0f0d7a52-6c5e-5d0e-9a55-1f0c3a9e0001",
                        "why": "apart",
                        "settle": "choose",
                        "entity_id": _CLIENT,
                        "kind": "client",
                        "client": _CLIENT,
                        "client_name": "Ona Petrel",
                        "service": None,
                        "at": "2026-11-25T10:15:09.000Z",
                        "words": "Two people wrote the name of this client without seeing each"
                        " other's.",
                        "apart": [
                            {
                                "field": "name",
                                "values": [
                                    _standing("Ona Petrel", "c1", "03.120"),
                                    _standing("Una Petrel", "c2", "09.000"),
                                ],
                            }
                        ],
                        "findings": [],
                    }
                ],
                "next": None,
                "in_all": 1,
            }
        },
        paired=True,
        query=(
            Query(
                "after",
                _text(AFTER_PATTERN),
                "The `next` of an earlier answer; absent: from the first.",
            ),
            Query(
                "limit",
                {"type": "integer", "minimum": 1, "maximum": MOST_MATTERS, "default": MOST_MATTERS},
                "The most in a page.",
            ),
        ),
        refused=("400",),
    ),
)
