"""What the pages' own code sends, fetches and saves, at the real server."""

import os
import subprocess
import sys
import time
from pathlib import Path

import pytest
from drawing import in_turn

from basinside.service.store.salon import DATABASE_FILE, Salon
from basinside.service.sync.pairing import new_code

WEB = Path(__file__).resolve().parents[2] / "web"
PHONES = 5
DOT = ["--reporter", "dot"]


@pytest.fixture
def desk(tmp_path):
    """The address of a server on a new salon."""
    told = os.environ | {"PORT": "0", "HOST": "127.0.0.1", "BASINSIDE_DATA": str(tmp_path)}
    command = [sys.executable, "-m", "basinside.cli", "serve"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=told) as server:
        yield server.stdout.readline().split()[-1]
        server.terminate()


@pytest.mark.parametrize(("run", "tests"), in_turn([("photos", 3), ("files", 2)]))
def test_phones_and_the_desk_understand_each_other(desk, tmp_path, run, tests):
    salon = Salon(tmp_path / DATABASE_FILE)
    codes = [new_code(salon, time.time_ns() // 1_000_000) for _ in range(PHONES)]
    salon.close()
    command = ["npx", "vitest", "run", "--config", "vitest.server.config.ts"]
    ran = subprocess.run(
        [*command, f"tests/courier/{run}.", *DOT],
        cwd=WEB,
        check=False,
        env=os.environ | {"DESK": desk.rstrip("/"), "CODES": ",".join(codes)},
        capture_output=True,
        text=True,
    )
    assert ran.returncode == 0, (ran.stdout + ran.stderr)[-8000:]
    assert f"{tests} passed" in ran.stdout
