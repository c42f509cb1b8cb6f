"""Takes a device's operations in: each lands once, or is refused once and for all.

Nothing is applied from a body that cannot be read whole. All the rest is decided in one transaction
that holds the write lock, so the order of numbers is the order of commits. A refused operation uses
up its number too. Otherwise one bad operation would jam its phone for ever.
"""

from collections.abc import Sequence
from typing import Literal, NamedTuple

import msgspec

from ...contract.sync import MOST_OPS, Accepted, Clamped, Operation, Push, Pushed, RefusedOperation
from ..records.fields import SCHEMA
from ..records.fold import GONE, State, fold
from ..records.instants import instant_ms, instant_text
from ..records.sound import Unsound, kind_is_known, unsound
from ..records.wire import kept_of, state_kept
from ..store.rows import Device, Entry
from ..store.salon import Salon
from ..store.writer import Numbered, Writer
from ..whole.erased import ids_named, is_erased
from ..whole.refold import SET_ASIDE
from ..whole.repair import kept_sound
from .clock import read_stamp, stamp_text, tick
from .cursor import cursor_at, epoch_changed
from .refused import Refused, misshapen
from .sent import Sent, read_operation

MOST_OPERATION_BYTES = 64 * 1024
# How far a clock may be off, either way, before its times are marked.
CLOCK_TOLERANCE_MS = 5 * 60_000

_THEN = {
    "field_invalid": "edit",
    "kind_unknown": "ask_desk",
    "caution_needs_decision": "edit",
    "not_allowed": "ask_desk",
    "person_removed": "ask_desk",
    "op_id_reused": "ask_desk",
    "too_large": "edit",
    "erased": "nothing",
}


class Brought(NamedTuple):
    """The outcome for the operations of a file."""

    accepted: list[Accepted]
    duplicate: list[Accepted]
    refused: list[RefusedOperation]


def read_operations(raws: Sequence[msgspec.Raw]) -> list[Sent]:
    """Return the operations of a push; raise `Refused` (400) if one cannot be read."""
    return [
        read_operation(raw, f"Operation {place + 1}", f"/ops/{place}")
        for place, raw in enumerate(raws)
    ]


def push(salon: Salon, body: Push, sent: Sequence[Sent], now_ms: int) -> Pushed:
    """Take a push; return the receipt of every operation.

    Raises `Refused`: `seq_gap`, `device_forked`, `epoch_changed`, `schema_ahead`.
    """
    try:
        offset_ms = now_ms - instant_ms(body.sent_at)
    except ValueError:
        raise misshapen(f'"{body.sent_at}" is no instant.', "/sent_at") from None
    with salon.writing() as writing:
        return _Landing(writing, body, now_ms, offset_ms).land(sent)


class _Landing:
    """One push on its way in: the state before it, and the outcome of each operation."""

    def __init__(self, writing: Writer, body: Push, now_ms: int, offset_ms: int) -> None:
        device = self._sender(writing, body.device_id)
        self.writing, self.body, self.now_ms, self.offset_ms = writing, body, now_ms, offset_ms
        self.now = instant_text(now_ms)
        self.acked, self.last_eff = device.acked_through, device.last_eff
        self.device: Device = device
        self.clock: Literal["off"] | None = "off" if abs(offset_ms) > CLOCK_TOLERANCE_MS else None
        self.states: dict[str, State | None] = {}
        self.last_seq: dict[str, int] = {}
        self.numbered: list[Numbered] = []
        self.accepted: list[Accepted] = []
        self.duplicate: list[Accepted] = []
        self.refused: list[RefusedOperation] = []
        self.clamped: list[Clamped] = []

    def _sender(self, writing: Writer, device_id: str) -> Device:
        device = writing.device(device_id)
        if device is None:
            raise Refused(401, "pairing_expired", "This device is not paired. Pair it again.")
        return device

    def land(self, sent: Sequence[Sent]) -> Pushed:
        writing = self.writing
        if (epoch := writing.epoch()) != int(self.body.epoch[1:]):
            raise epoch_changed(epoch, self.acked)
        self.look_up(sent)
        for each in sent:
            self._take(each)
        self.keep_records()
        writing.heard(
            self.device._replace(
                acked_through=self.acked,
                last_eff=self.last_eff,
                last_seen_at=self.now,
                # All of them are settled now, one way or the other.
                queued=max(0, self.body.queued - len(sent)),
            )
        )
        return Pushed(
            v=1,
            epoch=self.body.epoch,
            acked_through=self.acked,
            accepted=self.accepted,
            duplicate=self.duplicate,
            refused=self.refused,
            clamped=self.clamped,
            server_time=self.now,
            clock_offset_ms=self.offset_ms,
            safe_seq=writing.safe_seq(),
            head=str(cursor_at(writing, writing.end())),
        )

    def look_up(self, sent: Sequence[Sent]) -> None:
        """Read the stored state of these operations and of every record they touch."""
        writing = self.writing
        self.landed = {
            op_id: (known.seq, known.sha256)
            for op_id, known in writing.landed(each.op.op_id for each in sent).items()
        }
        self.receipts = writing.receipts(each.op.op_id for each in sent)
        self.refused_before = {op_id for op_id, _ in self.receipts}
        kept = kept_sound(writing, {each.op.entity_id for each in sent}, self.now_ms)
        self.states = {entity_id: state_kept(record) for entity_id, record in kept.items()}
        people = kept_sound(writing, {each.folded.by for each in sent}, self.now_ms)
        self.removed = {
            person_id: _removed_at(state_kept(record))
            for person_id, record in people.items()
            if record.kind == "person"
        }
        self.any_erased = writing.any_erased()

    def keep_records(self) -> None:
        """Log these operations, and store the records that they have changed."""
        self.writing.log(self.numbered)
        self.writing.keep(
            kept_of(state, self.last_seq[entity_id])
            for entity_id, state in self.states.items()
            if state and entity_id in self.last_seq
        )

    def _take(self, each: Sent) -> None:
        op = each.op
        known = op.op_id in self.landed or op.op_id in self.refused_before
        if op.device_seq > self.acked + 1:
            raise Refused(
                409,
                "seq_gap",
                f"Number {op.device_seq} came before {self.acked + 1}. Send from there.",
                expected=self.acked + 1,
            )
        if op.device_seq <= self.acked and not known:
            raise Refused(
                409,
                "device_forked",
                f"Another phone has sent a number {op.device_seq} under this phone's name. Take a"
                " new device id. Send everything not acknowledged under new numbers.",
            )
        if known:
            self._repeat(each)
        else:
            self._first(each)
        self.acked = max(self.acked, op.device_seq)

    def _repeat(self, each: Sent) -> None:
        op = each.op
        if op.op_id in self.landed:
            seq, sha256 = self.landed[op.op_id]
            if sha256 == each.sha256:
                self.duplicate.append(Accepted(op.op_id, seq))
                return
        elif receipt := self.receipts.get((op.op_id, each.sha256)):
            told = msgspec.json.decode(receipt, type=RefusedOperation)
            self.refused.append(msgspec.structs.replace(told, device_seq=op.device_seq))
            return
        said = "Another operation was sent under this id. Write it again as a new one."
        self.refused.append(self._receipt(op, Unsound("op_id_reused", said, "/op_id")))

    def _first(self, each: Sent) -> None:
        op = each.op
        if why := self._why_not(each):
            receipt = self._receipt(op, why)
            self.refused.append(receipt)
            body = msgspec.json.encode(receipt)
            entry = self._entry(each, op.hlc)
            # Do not store an erased person's record id again.
            erased = why.code == "erased"
            self._keep_refusal(entry._replace(entity_id="") if erased else entry, body)
            self.receipts[op.op_id, each.sha256] = body
            self.refused_before.add(op.op_id)
            return
        eff = self._eff(op)
        numbered = self.writing.number(self._entry(each, eff))
        self.numbered.append(numbered)
        seq = numbered.seq
        self.accepted.append(Accepted(op.op_id, seq))
        self.landed[op.op_id] = (seq, each.sha256)
        if eff != op.hlc:
            self.clamped.append(Clamped(op.op_id, eff))
        if op.kind != SET_ASIDE:
            before = self.states.get(op.entity_id)
            state = fold(before, each.folded, eff, self.clock)
            self.states[op.entity_id] = state
            self.last_seq[op.entity_id] = seq
            if state and state.kind == "person":
                self.removed[state.id] = _removed_at(state)

    def _keep_refusal(self, entry: Entry, receipt: bytes) -> None:
        self.writing.refuse(entry, receipt)

    def _why_not(self, each: Sent) -> Unsound | None:
        op = each.op
        if self.any_erased and is_erased(self.writing, ids_named(each.folded)):
            return Unsound(
                "erased", "This person's records were erased, so the desk did not keep it.", ""
            )
        if len(each.raw) > MOST_OPERATION_BYTES:
            said = f"It is {len(each.raw):,} bytes; at most 65,536. Split it, or shorten the text."
            return Unsound("too_large", said, "")
        try:
            read_stamp(op.hlc)
        except ValueError:
            return Unsound("field_invalid", f'"{op.hlc}" is no stamp of a clock.', "/hlc")
        if op.kind == SET_ASIDE:
            return None
        if not kind_is_known(each.folded):
            if op.schema > SCHEMA:
                raise _ahead(op.kind)
            said = f"The desk does not know what {op.kind} is. Show this at the desk."
            return Unsound("kind_unknown", said, "/kind")
        why = unsound(each.folded)
        if why and why.code == "field_invalid" and op.schema > SCHEMA:
            # It may be right by a contract that this desk does not have yet.
            raise _ahead(f"all fields of {op.kind}")
        return why or self._not_allowed(each)

    def _not_allowed(self, each: Sent) -> Unsound | None:
        removed_at = self.removed.get(each.folded.by)
        if removed_at and each.op.hlc > removed_at:
            said = "The author had been removed by then. Let somebody at the desk decide."
            return Unsound("person_removed", said, "/by")
        before = self.states.get(each.op.entity_id)
        of = each.op.kind.partition(".")[0]
        if before and of not in (before.kind, "safety"):
            said = f"That record is a {before.kind}, not a {of}. Write it to a record of its own."
            return Unsound("not_allowed", said, "/entity_id")
        return None

    def _eff(self, op: Operation) -> str:
        """Return the stamp an operation counts with: its own, unless its clock runs ahead."""
        clock, _ = read_stamp(op.hlc)
        eff = op.hlc
        ahead = clock.at_ms > self.now_ms + CLOCK_TOLERANCE_MS
        if ahead or eff <= self.last_eff:
            last, _ = read_stamp(self.last_eff) if self.last_eff else (None, "")
            at_ms = self.now_ms if ahead else clock.at_ms
            ticked = tick(last, at_ms) if last else clock._replace(at_ms=at_ms, counter=0)
            eff = stamp_text(ticked, self.body.device_id)
        self.last_eff = eff
        return eff

    def _entry(self, each: Sent, eff: str) -> Entry:
        op = each.op
        return Entry(
            op_id=op.op_id,
            device_id=self.body.device_id,
            device_seq=op.device_seq,
            entity_id=op.entity_id,
            eff=eff,
            clock_off=self.clock is not None,
            received_at=self.now,
            sha256=each.sha256,
            body=each.raw,
        )

    def _receipt(self, op: Operation, why: Unsound) -> RefusedOperation:
        return RefusedOperation(
            op_id=op.op_id,
            device_seq=op.device_seq,
            code=why.code,  # type: ignore[arg-type]
            message=why.message,
            pointer=why.pointer,
            then=_THEN[why.code],  # type: ignore[arg-type]
        )


class _BringingIn(_Landing):
    """Operations that came in a file: they take no number of the device that brings them."""

    def _sender(self, writing: Writer, device_id: str) -> Device:  # noqa: ARG002
        """The sender of a file counts for nothing: it may be the server's own machine."""
        return Device(device_id, "", "", None, 0, "", None, 0)

    def bring(self, each: Sent) -> None:
        if each.op.op_id in self.landed or each.op.op_id in self.refused_before:
            self._repeat(each)
        else:
            self._first(each)

    def _eff(self, op: Operation) -> str:
        """Return its own stamp, in any order the file has, unless its clock runs ahead."""
        clock, _ = read_stamp(op.hlc)
        ahead = clock.at_ms > self.now_ms + CLOCK_TOLERANCE_MS
        return super()._eff(op) if ahead else op.hlc

    def _keep_refusal(self, entry: Entry, receipt: bytes) -> None:
        """Store no refusal: it follows from the operation, so a later sender gets the same."""

    def _entry(self, each: Sent, eff: str) -> Entry:
        return super()._entry(each, eff)._replace(device_seq=None)


def bring_in(writing: Writer, device_id: str, sent: Sequence[Sent], now_ms: int) -> Brought:
    """Take operations of a file inside a transaction; those that are here already stay as once.

    Raises `Refused` (409 `schema_ahead`).
    """
    body = Push(1, device_id, f"e{writing.epoch()}", instant_text(now_ms), [])
    brought = Brought([], [], [])
    for first in range(0, len(sent), MOST_OPS):
        some = sent[first : first + MOST_OPS]
        landing = _BringingIn(writing, body, now_ms, 0)
        landing.look_up(some)
        for each in some:
            landing.bring(each)
        landing.keep_records()
        brought.accepted.extend(landing.accepted)
        brought.duplicate.extend(landing.duplicate)
        brought.refused.extend(landing.refused)
    return brought


def _ahead(unknown: str) -> Refused:
    return Refused(
        409,
        "schema_ahead",
        f"This app is newer than the desk, which does not know {unknown}. The desk needs its"
        " update; everything waits here until then.",
    )


def _removed_at(person: State) -> str | None:
    """Return the stamp from which a person was removed, or None if they were not."""
    heads = person.fields[GONE].heads if GONE in person.fields else ()
    return min((head.eff for head in heads if head.v is not None), default=None)
