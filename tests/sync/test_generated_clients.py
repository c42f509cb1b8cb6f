"""Clients generated from the document, in Python and TypeScript, do real work with it."""

import importlib
import json
import os
import subprocess
import time
import uuid
from pathlib import Path

import httpx
import openapi_python_client as generator
import pytest
from openapi_python_client.config import Config, ConfigFile, MetaType
from own_thread import served_in_a_thread
from phone import BY
from running import PATIENCE_S

from basinside.app import create_app
from basinside.service.http.document import examples
from basinside.service.sync.clock import Clock, stamp_text
from basinside.service.sync.pairing import new_code

WEB = Path(__file__).resolve().parents[2] / "web"
PROGRAM = Path(__file__).with_name("generated_client.ts")
# The document's own example.
ASKED = next(iter(examples.FORMULATIONS.values()))


@pytest.fixture
def desk(tmp_path):
    """A served salon: its address, and codes that let a device in."""
    app = create_app(tmp_path / "salon")
    with served_in_a_thread(app) as (host, port):
        yield f"http://{host}:{port}", lambda: new_code(app.state.desk.salon, now_ms())


def now_ms():
    return time.time_ns() // 1_000_000


def test_a_python_client_formulates_pushes_and_pulls(desk, tmp_path, monkeypatch):
    address, code = desk
    (tmp_path / "openapi.json").write_text(httpx.get(f"{address}/openapi.json").text)
    # The generator knows files as this type alone.
    its = ConfigFile(
        post_hooks=[],
        literal_enums=True,
        content_type_overrides={"application/gzip": "application/octet-stream"},
    )
    to = tmp_path / "generated_client"
    complaints = generator.generate(
        config=Config.from_sources(
            its,
            MetaType.NONE,
            document_source=tmp_path / "openapi.json",
            file_encoding="utf-8",
            overwrite=False,
            output_path=to,
        )
    )
    assert not complaints
    monkeypatch.syspath_prepend(tmp_path)
    made = importlib.import_module("generated_client")
    models = importlib.import_module("generated_client.models")

    def call(name, **named):
        group, _, function = name.partition(".")
        module = importlib.import_module(f"generated_client.api.{group}.{function}")
        return module.sync(**named)

    with made.Client(base_url=address) as anybody:
        wanted = models.FormulationRequest.from_dict(ASKED)
        answer = call("calculations.formulate", client=anybody, body=wanted)
        assert answer.formulas[0].mix.parts

        device = str(uuid.uuid4())
        asking = models.Pairing(v=1, code=code(), device_id=device, name="Till")
        paired = call("records.pair_device", client=anybody, body=asking)
        refused = call("records.pull_changes", client=anybody)
        assert refused.code == "pairing_expired"
        op = {
            "op_id": str(uuid.uuid4()),
            "device_seq": 1,
            "hlc": stamp_text(Clock(now_ms(), 0), device),
            "schema": 1,
            "kind": "client.create",
            "entity_id": str(uuid.uuid4()),
            "by": BY,
            "fields": {"name": "Ona Petrel"},
        }
        pushing = models.Push.from_dict(
            {
                "v": 1,
                "device_id": device,
                "epoch": paired.epoch,
                "sent_at": "2026-11-25T10:15:04.000Z",
                "ops": [op],
            }
        )
        with made.AuthenticatedClient(base_url=address, token=paired.token) as client:
            pushed = call("records.push_operations", client=client, body=pushing)
            assert [each.op_id for each in pushed.accepted] == [op["op_id"]]
            pulled = call("records.pull_changes", client=client)
            assert pulled.changes[0].fields["name"].v == "Ona Petrel"


def test_a_typescript_client_formulates_pushes_and_pulls(desk, tmp_path):
    address, code = desk
    (tmp_path / "openapi.json").write_text(httpx.get(f"{address}/openapi.json").text)
    (tmp_path / "program.ts").write_text(PROGRAM.read_text("utf-8"))
    (tmp_path / "package.json").write_text('{"type": "module"}')
    (tmp_path / "node_modules").symlink_to(WEB / "node_modules")
    bin_ = WEB / "node_modules" / ".bin"
    # Else a field that may be left out, as it has a default, would have to be given.
    optional = "--default-non-nullable=false"
    run([bin_ / "openapi-typescript", "openapi.json", optional, "-o", "types.ts"], tmp_path)
    run(
        [
            bin_ / "tsc",
            "--strict",
            "--skipLibCheck",
            "--target",
            "es2022",
            "--module",
            "nodenext",
            "--types",
            "node",
            "program.ts",
        ],
        tmp_path,
    )
    said = run(
        ["node", "program.js"],
        tmp_path,
        BASINSIDE=address,
        CODE=code(),
        ASKED=json.dumps(ASKED),
        BY=BY,
    )
    told = json.loads(said)
    assert told["products"]
    assert told["accepted"] == [told["op_id"]]
    assert told["name"] == "Una Petrel"
    assert told["refused"] == "pairing_expired"


def run(command, folder, **environment):
    ended = subprocess.run(
        [str(part) for part in command],
        cwd=folder,
        env=os.environ | environment,
        capture_output=True,
        text=True,
        timeout=PATIENCE_S,
        check=False,
    )
    assert ended.returncode == 0, ended.stdout + ended.stderr
    return ended.stdout
