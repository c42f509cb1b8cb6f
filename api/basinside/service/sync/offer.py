"""Takes back the records that devices still hold, after the desk got an older copy.

Erasures go first, both ways, so that a copy from before an erasure cannot undo it. Then a device
says which writes it holds. It hands back the records whose writes are missing, as it had pulled
them. They are joined to the records here, in any order.
"""

import hashlib
import uuid

import msgspec

from ...contract.rescue import Offer, Offered, Rescue, Rescued
from ...contract.sync import Change
from ..records.fold import State, Write, join
from ..records.instants import instant_text
from ..records.wire import kept_of, state_kept, state_of
from ..store.rows import Entry, Erasure
from ..store.salon import Salon
from ..store.writer import Writer
from ..whole.erased import is_erased
from ..whole.erasing import wipe
from ..whole.ledger import Ledger
from ..whole.repair import kept_sound
from .cursor import epoch_changed
from .pull import ledger_after
from .refused import Refused


def offer(salon: Salon, ledger: Ledger, body: Offer) -> Offered:
    """Take erasures that were forgotten here; return which of the offered writes are missing."""
    with salon.writing() as writing:
        _same_epoch(writing, body.epoch, body.device_id)
        forgotten = [
            Erasure(entry.n, entry.id_sha256, entry.at, entry.sig)
            for entry in body.erased
            if ledger.is_ours(entry.id_sha256, entry.at, entry.sig)
        ]
        if forgotten:
            known = writing.erased(entry.id_sha256 for entry in forgotten)
            fresh = [entry for entry in forgotten if entry.id_sha256 not in known]
            if fresh:
                ledger.enter(writing, fresh)
                wipe(writing, {entry.id_sha256 for entry in fresh})
        missing = []
        for had in body.have:
            if is_erased(writing, [had.entity_id]):
                continue
            here = set(writing.landed(had.ops)) | writing.rescued(had.ops)
            missing += [op for op in had.ops if op not in here]
        return Offered(1, body.epoch, missing, ledger_after(writing, 0))


def rescue(salon: Salon, body: Rescue, now_ms: int) -> Rescued:
    """Join the records that a device hands back to those here; return how many were taken.

    Raises `Refused` (409 `nothing_restored`) if this desk was never put back from a copy.
    """
    with salon.writing() as writing:
        _same_epoch(writing, body.epoch, body.device_id)
        if writing.epoch() == 1:
            said = "This desk was never put back from a backup, so it takes nothing back."
            raise Refused(409, "nothing_restored", said)
        taken = erased = 0
        for change in body.changes:
            refs = [head.v for head in change.fields.values() if isinstance(head.v, str)]
            if is_erased(writing, [change.entity_id, *refs]):
                erased += 1
                continue
            taken += take_back(writing, body.device_id, change, now_ms)
        return Rescued(1, body.epoch, taken, erased)


def take_back(writing: Writer, device_id: str, change: Change, now_ms: int) -> bool:
    """Join a record to the one here if it has missing writes; return whether it did."""
    came = state_of(change)
    ops = _ops_of(came)
    kept = kept_sound(writing, [change.entity_id], now_ms).get(change.entity_id)
    here = set(writing.landed(ops)) | writing.rescued(ops)
    if all(op in here for op in ops):
        return False
    body = msgspec.json.encode({"rescued": change})
    sha256 = hashlib.sha256(body).digest()
    op_id = str(uuid.uuid5(uuid.NAMESPACE_OID, sha256.hex()))
    if writing.landed([op_id]):
        return False
    entry = Entry(
        op_id=op_id,
        device_id=device_id,
        device_seq=None,
        entity_id=change.entity_id,
        eff=max(write.eff for write in _writes_of(came)),
        clock_off=False,
        received_at=instant_text(now_ms),
        sha256=sha256,
        body=body,
    )
    seq = writing.add(entry)
    state = join(state_kept(kept), came) if kept else came
    writing.keep([kept_of(state, seq)])
    writing.came_back((op for op in ops if op not in here), seq)
    return True


def _writes_of(state: State) -> list[Write]:
    heads = [head for of_field in state.fields.values() for head in of_field.heads]
    return [*state.created, *heads]


def _ops_of(state: State) -> list[str]:
    return sorted({write.op for write in _writes_of(state)})


def _same_epoch(writing: Writer, epoch: str, device_id: str) -> None:
    if (present := writing.epoch()) != int(epoch[1:]):
        device = writing.device(device_id)
        raise epoch_changed(present, device.acked_through if device else 0)
