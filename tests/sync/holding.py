"""What must hold at the end of a simulated history, whatever went wrong on the way.

Nothing lost, nothing double, all agree, caution never falls by itself, who was erased stays so,
nothing waits for ever, and every conflict is put before somebody.
"""

import random

import msgspec
from salon_world import DATABASE_FILE
from simulated_phone import FACT

from basinside.service.records.fold import caution_of, fold
from basinside.service.records.instants import instant_ms
from basinside.service.records.operation import Operation
from basinside.service.records.show import show
from basinside.service.records.wire import state_kept
from basinside.service.sync import push
from basinside.service.sync.clock import read_stamp
from basinside.service.whole.refold import SET_ASIDE


def hold(world):
    with world.salon.reading() as reading:
        kept = {k.entity_id: k for k in reading.changed_after(0, 100_000)}
        log = reading._rows(
            "SELECT seq, op_id, device_id, device_seq, entity_id, eff,"
            " received_at, body FROM log ORDER BY seq"
        )
        refused = reading._rows("SELECT op_id, device_id, device_seq FROM refused")
    states = {entity_id: state_kept(record) for entity_id, record in kept.items()}
    known = {row[1] for row in log} | {row[0] for row in refused}
    for phone in world.phones:
        assert phone.outbox == [], "something waits for ever"
        lost = {
            op_id
            for op_id, op in phone.written.items()
            if op_id not in known | phone.refused.keys() and not names_erased(world, op)
        }
        assert not lost, "an operation is lost"
        numbers = sorted(
            [row[3] for row in log if row[2] == phone.device_id and row[3]]
            + [row[2] for row in refused if row[1] == phone.device_id]
        )
        # A desk that was put back may have forgotten the last it refused; the phone has not.
        told = {each.device_seq for each in phone.refused.values()}
        numbers += [n for n in range(len(numbers) + 1, phone.seq + 1) if n in told]
        assert numbers == list(range(1, phone.seq + 1)), "a number is missing or double"
        assert phone.base == states, "a phone and the desk do not agree"
        assert phone.sent == [], "what was sent never came back"
    for row in log:
        assert read_stamp(row[5])[0].at_ms <= instant_ms(row[6]) + push.CLOCK_TOLERANCE_MS
    agree_with_any_order(log, kept, states)
    files = b"".join(p.read_bytes() for p in world.folder.glob(f"{DATABASE_FILE}*"))
    for client in world.erased:
        assert f"canary {client}".encode() not in files, "an erased client is still there"


def names_erased(world, op):
    return op.entity_id in world.erased or op.fields.get("client") in world.erased


def agree_with_any_order(log, kept, states):
    """The records are what the log's operations fold to, in whatever order, and say who asks."""
    by_entity = {}
    for _, _, _, device_seq, entity_id, eff, _, body in log:
        if body is not None:
            by_entity.setdefault(entity_id, []).append((device_seq, eff, body))
    for entity_id, rows in by_entity.items():
        if any(device_seq is None for device_seq, _, _ in rows):
            continue  # rescued: joined, which has a test of its own
        pairs = [(msgspec.json.decode(body, type=Operation), eff) for _, eff, body in rows]
        if all(op.kind == SET_ASIDE for op, _ in pairs):
            continue  # a number that was filled, and nothing else
        there = standing(states[entity_id])
        for order in range(3):
            random.Random(order).shuffle(pairs)
            state = None
            for op, eff in pairs:
                state = fold(state, op, eff)
            assert standing(state) == there, "the order of arrival decided something"
        cautious_enough([op for op, _ in pairs], states[entity_id])
        asked_about([op for op, _ in pairs], kept[entity_id])
    for entity_id, record in kept.items():
        shown = show(states[entity_id])
        assert record.asks == (bool(shown.heads) or shown.edited_meanwhile)


def standing(state):
    return {name: [head.op for head in of_field.heads] for name, of_field in state.fields.items()}


def asked_about(operations, record):
    """Whoever should choose is asked: worked out from what was written, without the fold."""
    saw_name = {op_id for op in operations for op_id in op.base.get("name", [])}
    names = {op.op_id: op for op in operations if "name" in op.fields and op.op_id not in saw_name}
    saw_gone = {op_id for op in operations for op_id in op.base.get("gone", [])}
    gone = [op for op in operations if op.kind == "client.gone" and op.op_id not in saw_gone]
    seen = {op_id for op in gone for op_id in op.seen}
    assert record.gone == bool(gone), "a deletion stands or falls by something else than its seeing"
    apart = len({op.fields["name"] for op in names.values()}) > 1
    if apart or (gone and any(op_id not in seen for op_id in names)):
        assert record.asks, "nobody is asked about a conflict"
    writes = [op for op in operations if op.fields]
    if len(names) < 2 and all(FACT not in op.fields for op in writes):
        meanwhile = gone and any(op.op_id not in seen for op in writes)
        assert record.asks <= bool(meanwhile), "somebody is asked without a cause"


def cautious_enough(operations, state):
    """No write of a safety fact is hidden by less caution unless a clear saw it, or what hid it."""
    writes = {op.op_id: op for op in operations if FACT in op.fields}
    cleared = set()
    waiting = [i for op in writes.values() if op.kind == "safety.clear" for i in op.base[FACT]]
    while waiting:
        if (op_id := waiting.pop()) not in cleared:
            cleared.add(op_id)
            waiting += writes[op_id].base.get(FACT, []) if op_id in writes else []
    heads = state.fields[FACT].heads if FACT in state.fields else ()
    shown = max((caution_of(FACT, head.v) for head in heads), default=0)
    for op_id, op in writes.items():
        if op_id not in cleared:
            assert shown >= caution_of(FACT, op.fields[FACT]), "caution fell by itself"
