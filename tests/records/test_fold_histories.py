"""What must hold of the fold over random histories, and that both languages fold alike."""

import hashlib
import json
import random

import msgspec
import pytest
from drawing import seeds
from histories import history
from pages_code import told_of_each

from basinside.service.records.fold import caution_of, fold, fold_all, refusal_of

HISTORIES = seeds(20_000)
FACT = "colour_reaction"
MOST_BLANK = caution_of(FACT, "unknown")


@pytest.fixture(scope="module")
def histories():
    return [history(seed) for seed in HISTORIES]


@pytest.fixture(scope="module")
def records(histories):
    """The record that each history makes."""
    return [fold_all(operations) for operations in histories]


def heads_by_definition(operations, name):
    """The writes of a field that no other accepted write names in its base: sets, no order.

    Of a safety fact, a base counts only as far as the write that holds it may cover.
    """
    accepted = [op for op in operations if refusal_of(op) is None]
    cover = {op.op_id: [] for op in operations}
    for op in accepted:
        for named in op.base.get(name, []) if name in op.fields else []:
            if named in cover:
                cover[named].append(op)

    def replaced(op):
        if name != FACT:
            return bool(cover[op.op_id])
        own = caution_of(FACT, op.fields[FACT])
        return any(
            by.kind == "safety.clear"
            or own <= caution_of(FACT, by.fields[FACT])
            or (by.kind == "safety.answer" and own <= MOST_BLANK)
            for by in cover[op.op_id]
        )

    return {op.op_id for op in accepted if name in op.fields and not replaced(op)}


def test_the_histories_hold_what_is_to_be_tested(histories):
    sample = histories[:2000]
    kinds = {op.kind for operations in sample for op in operations}
    assert kinds >= {"client.create", "client.set", "client.gone", "client.restore"}
    assert kinds >= {"safety.clear", "safety.answer"}
    assert any(refusal_of(op) for operations in sample for op in operations)
    contested = sum(len(heads_by_definition(operations, FACT)) > 1 for operations in sample)
    assert contested > len(sample) / 10


def test_a_record_is_the_same_in_three_random_orders(histories, records):
    rng = random.Random(1)
    for seed, operations, state in zip(HISTORIES, histories, records, strict=True):
        for _ in range(2):
            shuffled = rng.sample(operations, len(operations))
            assert fold_all([*shuffled, shuffled[0]]) == state, f"history {seed}"


def test_a_record_is_what_the_definition_says(histories, records):
    for seed, operations, state in zip(HISTORIES, histories, records, strict=True):
        for name in (FACT, "history", "phone"):
            held = state.fields[name].heads if state and name in state.fields else ()
            expected = heads_by_definition(operations, name)
            assert {head.op for head in held} == expected, f"history {seed}, {name}"


def test_caution_never_falls_without_a_clear_that_covers_what_fell(histories):
    falls = 0
    for seed, operations in zip(HISTORIES, histories, strict=True):
        state, before = None, ()
        for op in operations:
            state = fold(state, op)
            after = state.fields[FACT].heads if state and FACT in state.fields else ()
            if caution(after) < caution(before):
                falls += 1
                fallen = {h.op for h in before if caution([h]) > caution(after)}
                assert fallen <= set(op.base.get(FACT, [])), f"history {seed}, {op.op_id}"
                answered = op.kind == "safety.answer" and caution(before) <= MOST_BLANK
                cleared = op.kind == "safety.clear" and op.saw and op.why
                assert answered or cleared, f"history {seed}, {op.op_id}"
            before = after
    assert falls > len(HISTORIES) / 20


def caution(heads):
    return max((caution_of(FACT, head.v) for head in heads), default=caution_of(FACT, None))


def digest(state):
    """SHA-256 of a record as JSON with its keys in order."""
    plain = json.dumps(
        # A write's mark of a wrong clock is left out where there is none, as the pages leave it.
        msgspec.to_builtins(state),
        sort_keys=True,
        ensure_ascii=False,
        separators=(",", ":"),
    )
    return hashlib.sha256(plain.encode()).hexdigest()


def test_the_pages_fold_every_history_to_the_same_record(histories, records, tmp_path):
    theirs = told_of_each("fold_histories.mjs", histories, tmp_path).split()
    assert len(theirs) == len(HISTORIES)
    for seed, state, other in zip(HISTORIES, records, theirs, strict=True):
        assert digest(state) == other, f"history {seed}"
