"""The fold and the clock on the cases that the pages are held to as well."""

import itertools
import json
from pathlib import Path

import msgspec
import pytest
from histories import operations_of

from basinside.service.records.fold import Write, fold_all, refusal_of, shown_of
from basinside.service.records.show import show
from basinside.service.sync.clock import Clock, read_stamp, seen, stamp_text, tick

VECTORS = Path(__file__).resolve().parents[1] / "vectors"
CASES = json.loads((VECTORS / "fold.json").read_text())
CLOCK = json.loads((VECTORS / "clock.json").read_text())


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_fold(case):
    operations = operations_of(case["operations"])
    refused = {op.op_id: code for op in operations if (code := refusal_of(op))}
    assert refused == case.get("refused", {})
    states = [fold_all(order) for order in itertools.permutations(operations)]
    assert states == states[:1] * len(states)
    shown = show(states[0])
    assert shown.values == case["shown"]
    values = {name: [head.v for head in heads] for name, heads in shown.heads.items()}
    assert values == case.get("heads", {})
    unread = {name: [write.op for write in found.writes] for name, found in shown.unread.items()}
    assert unread == case.get("unread", {})
    for said in ("gone", "incomplete", "edited_meanwhile"):
        assert getattr(shown, said) == case.get(said, False), said


@pytest.mark.parametrize(
    ("first", "second"), [("mild", "mild"), ("a newer word", "another newer word")]
)
def test_of_two_equally_cautious_writes_the_later_one_is_shown(first, second):
    stamps = CLOCK["stamps"][0]["text"], CLOCK["stamps"][1]["text"]
    earlier, later = sorted(stamps)
    writes = (Write("o1", first, earlier, "ana"), Write("o2", second, later, "ben"))
    assert shown_of("colour_reaction", "safety", writes) is writes[1]
    # One that is more cautious is shown however early it was written.
    milder = Write("o3", "none", later, "ben")
    assert shown_of("colour_reaction", "safety", (writes[0], milder)) is writes[0]


@pytest.mark.parametrize("case", CLOCK["ticks"], ids=lambda case: case["name"])
def test_tick(case):
    assert tick(Clock(*case["last"]), case["wall_ms"]) == Clock(*case["next"])


@pytest.mark.parametrize("case", CLOCK["seen"], ids=lambda case: case["name"])
def test_seen(case):
    assert seen(Clock(*case["last"]), case["stamp"]) == Clock(*case["next"])


def test_stamps_are_written_and_read_back():
    for case in CLOCK["stamps"]:
        clock = Clock(*case["clock"])
        assert stamp_text(clock, CLOCK["device_id"]) == case["text"]
        assert read_stamp(case["text"]) == (clock, CLOCK["device_id"])


@pytest.mark.parametrize("text", CLOCK["none"])
def test_what_is_no_stamp_is_said_to_be_none(text):
    with pytest.raises(ValueError, match="A stamp is a time, a counter and a device"):
        read_stamp(text)


def test_an_operation_keeps_its_wire_names():
    op = operations_of(CASES[6]["operations"])[2]
    assert json.loads(msgspec.json.encode(op))["from"] == {"colour_reaction": "severe"}
