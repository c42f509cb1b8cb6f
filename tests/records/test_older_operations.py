"""Operations that older versions left on phones are read as they were meant."""

import json
from pathlib import Path

import msgspec
import pytest

from basinside.service.records.fields import SCHEMA
from basinside.service.records.fold import fold_all
from basinside.service.records.operation import Operation
from basinside.service.records.show import show
from basinside.service.records.upcast import upcast

VECTORS = Path(__file__).resolve().parents[1] / "vectors"
LEFT = sorted(VECTORS.glob("outbox.schema-*.json"))
# What the page adds to a record's fields when it shows it.
ADDED = ("id", "kind", "by", "created_at", "heads")


def test_there_is_an_outbox_of_every_older_schema():
    assert [path.name for path in LEFT] == [
        f"outbox.schema-{older}.json" for older in range(1, SCHEMA)
    ]


@pytest.mark.parametrize("path", LEFT, ids=lambda path: path.stem)
def test_an_older_outbox_makes_the_records_it_made(path):
    left = json.loads(path.read_text())
    operations = [upcast(op) for op in msgspec.convert(left["operations"], list[Operation])]
    assert {op.schema for op in operations} == {SCHEMA}
    assert all(op.by for op in operations)
    assert all(op.asked_by for op in operations if op.kind == "safety.answer")
    for shown in left["shown"]:
        state = fold_all(op for op in operations if op.entity_id == shown["id"])
        values = {name: v for name, v in shown.items() if name not in ADDED}
        assert show(state).values == values


def test_an_operation_of_a_newer_version_stays_as_it_is():
    op = Operation(
        op_id="a", device_seq=1, hlc="h", schema=SCHEMA + 1, kind="x.set", entity_id="e", by=""
    )
    assert upcast(op) == op
