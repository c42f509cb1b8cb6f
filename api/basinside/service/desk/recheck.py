"""Checks again, after records came in, whether each started service was allowed to start.

The phone holds a service until the rules let it start. Here the same rules read everything that all
phones knew by then. The check runs beside the pushes, in pieces. Each piece follows the log from
the last checked number. One commit stores its findings with that number, so a crash leaves nothing
out.
"""

from collections.abc import Callable, Iterable, Iterator
from typing import NamedTuple

import msgspec

from ...contract.matters import ShouldHold
from ...contract.safety import SafetyReviewReply
from ..records.ids import matter_id
from ..store.reader import Reader
from ..store.rows import Logged, Started
from ..store.salon import Salon
from .starts import Asked, Starts

# The most operations on services in one piece: few, since each may touch several services. Most
# operations, such as notes, touch none, and a commit for every few of them would cost too much.
_MOST_BEARING = 100
_MOST_OPS = 2000
_OF_CLIENT = ("client", "alert_test", "history_entry")
_OF_SERVICE = ("service", "zone", "decision")
_OF_SALON = ("line", "setting")

_MOST_SERVICES = 1000
_MOST_STARTS = 50  # in one turn at the engine
_STAMP_TIME = 24
_ANSWERED = 200


class _Done(msgspec.Struct):
    kind: str = ""


_done = msgspec.json.Decoder(_Done)
_reply = msgspec.json.Decoder(SafetyReviewReply)
_RESCUED = b'{"rescued"'

Reviewed = tuple[int, bytes]
"""The status and body of a reply of the safety rules."""


class Piece(NamedTuple):
    """The services that a piece of the log touches, and the number at its end."""

    asked: list[Asked]
    not_started: list[str]
    through: int


def next_piece(salon: Salon) -> Piece | None:
    """Return the next piece to check, or None if everything was checked."""
    with salon.reading() as reading:
        logged = reading.log_after(reading.reviewed_seq(), _MOST_OPS)
        if not logged:
            return None
        services, through = _borne_on(reading, logged)
        starts = Starts(reading)
        found = {service: starts.asked_of(service) for service in services}
    asked = [each for each in found.values() if each]
    not_started = [service for service, each in found.items() if each is None]
    return Piece(asked, not_started, through)


def in_turns(asked: Iterable[Asked]) -> Iterator[list[Asked]]:
    """Yield the services a few at a time: 50 starts at most, or one service that has more.

    A change of a salon's settings touches every service since. Between two turns others get theirs.
    """
    turn: list[Asked] = []
    for each in asked:
        if turn and sum(len(one.starts) for one in (*turn, each)) > _MOST_STARTS:
            yield turn
            turn = []
        turn.append(each)
    if turn:
        yield turn


def look_again(asked: Iterable[Asked], review: Callable[[bytes], Reviewed]) -> list[Started]:
    """Return the rules' findings on these services; `review` asks the rules."""
    return [_judged(each, review) for each in asked]


def keep(salon: Salon, piece: Piece, started: Iterable[Started]) -> None:
    """Store the findings, and the number up to which the log was checked."""
    with salon.writing() as writing:
        here = writing.kept(each.client for each in piece.asked)
        # A client may have been erased since the records were read.
        writing.keep_started(each for each in started if each.client in here)
        writing.forget_started(piece.not_started)
        writing.reviewed(piece.through)


def _borne_on(reading: Reader, logged: list[Logged]) -> tuple[list[str], int]:
    """Return the services whose review these operations may change, each once, and how far."""
    kept = reading.kept({each.entity_id for each in logged})
    services: dict[str, None] = {}
    bearing, through = 0, logged[-1].seq
    for each in logged:
        record = kept.get(each.entity_id)
        if record is None or record.kind not in (*_OF_CLIENT, *_OF_SERVICE, *_OF_SALON):
            continue
        bearing += 1
        if bearing > _MOST_BEARING:
            through = each.seq - 1
            break
        # Records handed back after a restore may hold writes of any time.
        stamp = "" if (each.body or b"").startswith(_RESCUED) else each.eff
        client = record.client
        if record.kind in _OF_SERVICE and record.service:
            services[record.service] = None
            service = reading.kept([record.service]).get(record.service)
            client = service.client if service else None
        if record.kind in _OF_SALON:
            services |= dict.fromkeys(reading.started_after(stamp))
        elif client and record.kind in (*_OF_CLIENT, "service", "zone"):
            services |= dict.fromkeys(reading.started_after(stamp, client))
        if record.kind == "client" and _does(each) == "client.create":
            # Services that came before their client were not asked about.
            rows = reading.where("kind = 'service' AND client = ?", [client], "seq", _MOST_SERVICES)
            services |= dict.fromkeys(row.entity_id for row in rows)
    return list(services), through


def _does(logged: Logged) -> str:
    try:
        return _done.decode(logged.body or b"{}").kind
    except (msgspec.DecodeError, UnicodeDecodeError):
        return ""


def _judged(asked: Asked, review: Callable[[bytes], Reviewed]) -> Started:
    """Return the findings on a service's starts, those that were not allowed in one matter."""
    held_at, found = None, dict[str, ShouldHold]()
    for start, request in asked.starts:
        holding = _holding(request, review)
        if holding and held_at is None:
            held_at = start.stamp[:_STAMP_TIME]
        found |= {each.rule: each for each in holding}
    return Started(
        service=asked.service,
        client=asked.client,
        last_start=asked.starts[-1][0].stamp,
        held_at=held_at,
        matter=matter_id("held", [asked.service, *sorted(found)]) if found else None,
        found=msgspec.json.encode(list(found.values())) if found else None,
    )


def _holding(request: bytes, review: Callable[[bytes], Reviewed]) -> list[ShouldHold]:
    """Return the findings that hold a start; if the rules give no answer, that holds it."""
    status, body = review(request)
    if status == _ANSWERED:
        reply = _reply.decode(body)
        return [
            ShouldHold(each.id, each.group, each.message, each.next)
            for each in reply.findings
            if each.group != "good_to_know"
        ]
    said = "The safety rules cannot read these records."
    return [ShouldHold("", "holds", said, "Open the service and check the entries.")]
