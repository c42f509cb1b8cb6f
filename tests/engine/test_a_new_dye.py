"""A dye is added as DEVELOPERS.md says, in a copy: no answer changes until a product holds it."""

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from asking import described

from basinside.engine.door import answer
from basinside.service.http.document import examples

PACKAGE = Path(__file__).resolve().parents[2] / "api" / "basinside"
# A name, its row in the table, and the row it is put before; "" puts it last.
NEW_DYES = [
    (
        "crimson",
        '_dye("crimson", (520, 50), (520, 50), (0.1, 0.1), ready_made=True),',
        "",
    ),
    ("yellow_direct", '_dye("yellow_direct", (430, 40), (430, 40), (0.1, 0.1)),', '_dye("yellow"'),
    ("deep_red", '_dye("deep_red", (530, 45), (530, 45), (2.5, 4.0)),', '_dye("violet"'),
]
_PALE = {"level": 10}
ASK_ALL = """
import json, sys
from basinside.engine.door import answer
for name, question in json.load(open(sys.argv[1])):
    reply = answer(name, json.dumps(question).encode())
    print(json.dumps([reply.status, reply.body.decode()]))
"""


def questions() -> list[tuple[str, dict]]:
    """The document's own questions, and a bowl of each class that words alone describe."""
    worked = {
        "formulations": examples.FORMULATIONS,
        "predictions": examples.PREDICTIONS,
        "mends": examples.MENDS,
        "judgements": examples.JUDGEMENTS,
    }
    asked = [(name, question) for name, all_ in worked.items() for question in all_.values()]
    for of_class in ("alkaline_demi", "neutral_demi", "acid_demi", "permanent", "direct"):
        product = described(of_class, tone=["pearl"])
        mix = {"parts": [{"product": "toner", "grams": 30}], "minutes": 10}
        hair = {"level": 9, "porosity": 0.5}
        asked.append(("predictions", {"products": [product], "mix": mix, "hair": hair}))
    return asked


def with_dye(folder: Path, name: str, row: str, before: str) -> Path:
    """A copy of the engine with the dye's field and row written where the guide says."""
    package = folder / "basinside"
    for part in ("__init__.py", "contract", "engine"):
        copy = shutil.copytree if (PACKAGE / part).is_dir() else shutil.copy
        package.mkdir(exist_ok=True)
        copy(PACKAGE / part, package / part)
    contract = package / "contract" / "products.py"
    field = "    blue_violet_direct: DyeAmount = 0.0\n"
    told = contract.read_text()
    assert told.count(field) == 1
    contract.write_text(told.replace(field, f"{field}    {name}: DyeAmount = 0.0\n"))
    dyes = package / "engine" / "products" / "dyes.py"
    told = dyes.read_text()
    end = "\n)\n# What a shelf"
    assert told.count(end) == 1
    if before:
        assert told.count(f"    {before}") == 1
        dyes.write_text(told.replace(f"    {before}", f"    {row}\n    {before}"))
    else:
        dyes.write_text(told.replace(end, f"\n    {row}{end}"))
    return folder


def without_version(body: str) -> object:
    """What a reply says, but for which files said it."""
    said = json.loads(body)
    said.pop("engine_version")
    return said


def replies_with(folder: Path, dye: tuple[str, str, str], asked: list) -> list[tuple[int, str]]:
    """The status and body of each reply of an engine that knows the dye."""
    (folder / "asked.json").write_text(json.dumps(asked))
    ended = subprocess.run(
        [sys.executable, "-c", ASK_ALL, folder / "asked.json"],
        env=os.environ | {"PYTHONPATH": str(with_dye(folder, *dye))},
        capture_output=True,
        text=True,
        check=False,
    )
    assert ended.returncode == 0, ended.stderr
    return [tuple(json.loads(line)) for line in ended.stdout.splitlines()]


@pytest.mark.parametrize("dye", NEW_DYES, ids=[dye[0] for dye in NEW_DYES])
def test_a_dye_that_no_product_holds_changes_no_answer(tmp_path, dye):
    asked = questions()
    replies = replies_with(tmp_path, dye, asked)
    assert len(replies) == len(asked)
    for (question, body), (status, reply) in zip(asked, replies, strict=True):
        was = answer(question, json.dumps(body).encode())
        assert (status, without_version(reply)) == (
            was.status,
            without_version(was.body.decode()),
        )


def test_a_product_that_holds_the_new_dye_shows_it(tmp_path):
    mix = {"parts": [{"product": "toner", "grams": 30}], "minutes": 10}
    asked = [
        ("predictions", {"products": [described("direct", dyes=dyes)], "mix": mix, "hair": _PALE})
        for dyes in ({}, {"crimson": 2.0})
    ]
    bare, dyed = (
        json.loads(body)["strip"][-1]["if_rinsed"]["lab"]
        for _, body in replies_with(tmp_path, NEW_DYES[0], asked)
    )
    # What absorbs at 520 nm takes green away, so the hair turns red: a* rises.
    assert dyed[1] > bare[1] + 5
