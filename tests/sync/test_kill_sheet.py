"""Twelve deliberate bugs, each planted in the real code and found by the simulated histories."""

import sqlite3

import pytest
from one_history import history
from salon_world import Killed, World, made_once

from basinside.service.records import fold as folding
from basinside.service.store.reader import Reader
from basinside.service.store.rows import Position
from basinside.service.store.writer import Writer
from basinside.service.sync import push
from basinside.service.sync.refused import Refused
from basinside.service.whole import tide

SEEDS = 120


@pytest.fixture(scope="module")
def template(tmp_path_factory):
    return made_once(tmp_path_factory.mktemp("template"))


def no_dedupe(monkeypatch):
    monkeypatch.setattr(Reader, "landed", lambda *_: {})


def raw_stamps(monkeypatch):
    monkeypatch.setattr(push._Landing, "_eff", lambda _, op: op.hlc)


def unchecked_cursor(monkeypatch):
    monkeypatch.setattr(tide, "_behind", lambda *_: None)


def ledger_not_checked(monkeypatch):
    monkeypatch.setattr(push, "is_erased", lambda *_: False)


def losing_head_dropped(monkeypatch):
    merged = folding._merged

    def last_only(*inputs):
        state = merged(*inputs)
        return folding.FieldState(state.heads[-1:], state.covered)

    def folded(*inputs):
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(folding, "_merged", last_only)
            return folding.fold(*inputs)

    monkeypatch.setattr(push, "fold", folded)


def acknowledged_before_the_commit(monkeypatch):
    """The answer leaves as soon as it is worked out, whatever becomes of the commit."""
    land, world_land = push._Landing.land, World.land
    said = []

    def landed(landing, sent):
        said.append(land(landing, sent))
        return said[-1]

    def answered(world, body):
        said.clear()
        try:
            return world_land(world, body)
        except Killed:
            if said:
                return said[-1]
            raise

    monkeypatch.setattr(push._Landing, "land", landed)
    monkeypatch.setattr(World, "land", answered)


def numbers_from_a_sequence(monkeypatch):
    """Numbers are drawn when a push arrives, outside the lock: one held up lands behind others."""
    hold_up, land = World.hold_up, World.land
    drawn, last, own = [], {}, []

    def draw(world, body):
        with world.salon.reading() as reading:
            first = max(last.get(id(world), 0), reading.end().seq) + 1
        last[id(world)] = first + len(body.ops) - 1
        return list(range(first, first + len(body.ops)))

    def held_up(world, body):
        drawn.append((body, draw(world, body)))
        hold_up(world, body)

    def landed(world, body):
        own[:] = next((n for held, n in drawn if held is body), None) or draw(world, body)
        try:
            return land(world, body)
        finally:
            own.clear()

    number = Writer.number

    def numbered(writing, entry):
        end = writing._end
        writing._end = Position((own.pop(0) if own else end.seq + 1) - 1, end.chain)
        row = number(writing, entry)
        writing._end = max(end, writing._end)
        return row

    monkeypatch.setattr(World, "hold_up", held_up)
    monkeypatch.setattr(World, "land", landed)
    monkeypatch.setattr(Writer, "number", numbered)


def refusals_without_a_number(monkeypatch):
    take = push._Landing._take

    def taken(landing, each):
        acked, refused = landing.acked, len(landing.refused)
        take(landing, each)
        if len(landing.refused) > refused:
            landing.acked = acked

    monkeypatch.setattr(push._Landing, "_take", taken)


def deleted_by_clock(monkeypatch):
    """The latest of deleting and bringing back wins, whatever its author had seen."""
    merged = folding._merged

    def latest(before, name, rule, write, saw, reach):
        if name != folding.GONE:
            return merged(before, name, rule, write, saw, reach)
        return folding.FieldState(folding._sorted((*before.heads, write))[-1:], before.covered)

    def folded(*inputs):
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(folding, "_merged", latest)
            return folding.fold(*inputs)

    monkeypatch.setattr(push, "fold", folded)


BUGS = {
    "no dedupe": (no_dedupe, {}),
    "answered before the commit": (acknowledged_before_the_commit, {}),
    "numbers from a sequence": (numbers_from_a_sequence, {}),
    "losing head dropped": (losing_head_dropped, {}),
    "raw stamps": (raw_stamps, {}),
    "ledger not checked on push": (ledger_not_checked, {}),
    "ledger not replayed": (None, {"ledger_not_replayed": True}),
    "no epoch after a restore": (unchecked_cursor, {}),
    "refusals use up no number": (refusals_without_a_number, {}),
    "cursor kept before the rows": (None, {"cursor_before_rows": True}),
    "deleted by clock": (deleted_by_clock, {}),
    "view without the outbox": (None, {"view_without_outbox": True}),
}


@pytest.mark.parametrize("name", BUGS)
def test_a_deliberate_bug_is_found(name, template, tmp_path, monkeypatch):
    plant, bugs = BUGS[name]
    if plant:
        plant(monkeypatch)
    for seed in range(SEEDS):
        try:
            history(seed, template, tmp_path / str(seed), **bugs)
        except (AssertionError, Refused, sqlite3.Error):
            # It is the bug that was found, and nothing else that is wrong with this history.
            monkeypatch.undo()
            history(seed, template, tmp_path / "without")
            return
    pytest.fail(f"not found within {SEEDS} seeds")
