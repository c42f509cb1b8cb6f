"""Folds all writes of a record into its state, the same in whatever order they came.

A field's state is its standing writes: the writes that no other write of the field names as seen.
That is a question of sets, so order, repetition and delay change nothing. Two rules guard safety. A
plain write of a safety fact replaces the writes it saw only as far as it is as cautious as they
are. A write that says less than its author saw counts for nothing without a clear.
`web/src/records/fold.ts` is the same in TypeScript, and tests/vectors compares the two.
"""

from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import Any, Literal

import msgspec

from .fields import CAUTION, KINDS, Merge
from .operation import Operation

GONE = "gone"
CAUTION_NEEDS_DECISION = "caution_needs_decision"
FIELD_INVALID = "field_invalid"

# Safety facts have names of their own, so the field says which fact it is.
_KIND_OF_SAFETY_FIELD = {
    name: kind
    for kind, shape in KINDS.items()
    for name, rule in shape.fields.items()
    if rule == "safety"
}


class Write(msgspec.Struct, frozen=True, omit_defaults=True):
    """One write of one field that no later write replaced; `eff` is the stamp that orders it.

    `clock` is set if the writer's clock was known to be wrong.
    """

    op: str
    v: Any
    eff: str
    by: str
    clock: Literal["off"] | None = None


class FieldState(msgspec.Struct, frozen=True):
    """A field's standing writes in the order of their stamps, and the writes named as seen.

    `covered` holds for each seen write the greatest caution up to which it may be covered.
    """

    heads: tuple[Write, ...] = ()
    covered: dict[str, int] = {}


class State(msgspec.Struct, frozen=True):
    """A record: its creations (none while they have not come) and its fields."""

    id: str
    kind: str
    created: tuple[Write, ...] = ()
    fields: dict[str, FieldState] = {}


_UNWRITTEN = FieldState()


@lru_cache(maxsize=4096)  # called four times for each operation; names may be anything
def merge_of(kind: str, name: str) -> Merge:
    """Return how a field merges; a field this version does not know merges as an ordinary one."""
    shape = KINDS.get(kind)
    return shape.fields.get(name.partition(".")[0], "ordinary") if shape else "ordinary"


def parts_of(op: Operation) -> tuple[str, str]:
    """Return the kind of record an operation is about, and the verb it carries."""
    of, _, verb = op.kind.partition(".")
    if of == "safety":
        of = _KIND_OF_SAFETY_FIELD.get(next(iter(op.fields), ""), of)
    return of, verb


def caution_of(name: str, word: Any) -> int:
    """Return the caution of a safety fact's word; an unknown word has the most."""
    caution = CAUTION[name]
    word = caution.blank[0] if word is None else word
    return caution.order.index(word) if word in caution.order else len(caution.order)


def _most_blank(name: str) -> int:
    return max(caution_of(name, word) for word in CAUTION[name].blank)


def refusal_of(op: Operation) -> str | None:
    """Return the code an operation is refused with, or None.

    It looks only at the operation. If it looked at the stored records, acceptance would depend on
    the order of arrival.
    """
    of, verb = parts_of(op)
    clears = op.kind == "safety.clear"
    for name, v in op.fields.items():
        rule = merge_of(of, name)
        if rule == "fixed" and verb != "create":
            return FIELD_INVALID
        if rule != "safety" or clears:
            continue
        # An operation without `base` has seen nothing, whatever `from` claims.
        before = caution_of(name, op.from_.get(name) if op.base.get(name) else None)
        answers = op.kind == "safety.answer" and before <= _most_blank(name)
        if caution_of(name, v) < before and not answers:
            return CAUTION_NEEDS_DECISION
    return CAUTION_NEEDS_DECISION if clears and not (op.saw and op.why) else None


def _reach_of(op: Operation, rule: Merge, name: str, v: Any) -> int:
    """Return the caution up to which this operation's write may cover the writes it saw."""
    if rule != "safety":
        return 0
    if op.kind == "safety.clear":
        return len(CAUTION[name].order)
    own = caution_of(name, v)
    return max(own, _most_blank(name)) if op.kind == "safety.answer" else own


def fold(
    before: State | None,
    op: Operation,
    eff: str | None = None,
    clock: Literal["off"] | None = None,
) -> State | None:
    """Return the record after one more operation.

    A refused operation, or one that is here already, changes nothing. `eff` is the stamp to order
    it by if that is not its own. `clock` says that a wrong clock wrote it.
    """
    if refusal_of(op) is not None:
        return before
    of, verb = parts_of(op)
    state = before or State(op.entity_id, of)
    eff = eff or op.hlc
    created = state.created
    if verb == "create" and all(known.op != op.op_id for known in created):
        made = Write(op.op_id, None, eff, op.by)
        created = _sorted((*created, made)) if created else (made,)
    written = list(op.fields.items())
    if verb == "gone":
        written.append((GONE, op.seen))
    if verb == "restore":
        written.append((GONE, None))
    fields = dict(state.fields)
    for name, v in written:
        rule = merge_of(state.kind, name)
        fields[name] = _merged(
            fields.get(name, _UNWRITTEN),
            name,
            rule,
            Write(op.op_id, v, eff, op.by, clock),
            op.base.get(name, []),
            _reach_of(op, rule, name, v),
        )
    return State(state.id, state.kind, created, fields)


def join(one: State, other: State) -> State:
    """Return the record that both states make together, the same in either order."""
    created = {write.op: write for write in (*one.created, *other.created)}
    fields = dict(one.fields)
    for name, of_field in other.fields.items():
        rule = merge_of(one.kind, name)
        mine = fields.get(name, FieldState())
        covered = dict(mine.covered)
        for op, reach in of_field.covered.items():
            covered[op] = max(covered.get(op, -1), reach)
        heads = {head.op: head for head in (*of_field.heads, *mine.heads)}
        fields[name] = FieldState(
            _sorted(head for head in heads.values() if _stands(head, covered, name, rule)), covered
        )
    return msgspec.structs.replace(one, created=_sorted(created.values()), fields=fields)


def fold_all(operations: Iterable[Operation]) -> State | None:
    """Return the record that these operations of one record make, or None if none counts."""
    state: State | None = None
    for op in operations:
        state = fold(state, op)
    return state


def _merged(
    before: FieldState, name: str, rule: Merge, write: Write, saw: Sequence[str], reach: int
) -> FieldState:
    covered = before.covered
    if not before.heads and not covered and not saw:  # the usual case: new, and nothing was seen
        return FieldState((write,))
    if saw:
        covered = {**covered, **{op: max(covered.get(op, -1), reach) for op in saw}}
    others = (head for head in before.heads if head.op != write.op)
    standing = (head for head in (*others, write) if _stands(head, covered, name, rule))
    return FieldState(_sorted(standing), covered)


def _stands(head: Write, covered: dict[str, int], name: str, rule: Merge) -> bool:
    needed = caution_of(name, head.v) if rule == "safety" else 0
    return covered.get(head.op, -1) < needed


def _sorted(writes: Iterable[Write]) -> tuple[Write, ...]:
    return tuple(sorted(writes, key=_order))


def _order(write: Write) -> tuple[str, str]:
    return write.eff, write.op


def shown_of(name: str, rule: Merge, heads: Sequence[Write]) -> Write | None:
    """Return the write that shows among a field's standing writes, or None without any."""
    if not heads:
        return None
    if rule == "fixed":
        return heads[0]
    if rule != "safety":
        return heads[-1]
    # Among equally cautious ones, the latest.
    return max(reversed(heads), key=lambda head: caution_of(name, head.v))
