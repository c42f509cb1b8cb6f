"""The pages' own code, run in Node by a test of ours."""

import os
import subprocess
from pathlib import Path

import msgspec

WEB = Path(__file__).resolve().parents[2] / "web"


def told_of_each(script, things, folder):
    """What one of web/scripts says of these things: one line in for each, the output as text."""
    lines = folder / "things.ndjson"
    lines.write_bytes(b"\n".join(map(msgspec.json.encode, things)))
    ended = subprocess.run(
        ["node", f"scripts/{script}", lines],
        cwd=WEB,
        capture_output=True,
        text=True,
        check=False,
    )
    assert ended.returncode == 0, ended.stderr
    return ended.stdout


def assert_every_seed_holds(what, seeds, test, beside=0, **server):
    """Runs the tests under web/tests/`what` against a real server, once for each seed.

    `seeds` is a range. `server` are the environment variables that say where it is, and `test` is
    who asks, for the command that runs one seed again. So many tests beside the seeds run too.
    """
    drawn = os.environ.get("SEED", f"{seeds[0]}-{seeds[-1]}")
    command = ["npx", "vitest", "run", "--config", "vitest.server.config.ts", f"tests/{what}"]
    ran = subprocess.run(
        [*command, "--reporter", "dot"],
        cwd=WEB,
        check=False,
        env=os.environ | {"SEEDS": drawn} | server,
        capture_output=True,
        text=True,
    )
    last_words = (ran.stdout + ran.stderr)[-8000:]
    replay = f"SEED=<seed> .venv/bin/pytest {Path(test).relative_to(WEB.parent)}"
    assert ran.returncode == 0, f"{last_words}\nOne seed again: {replay}"
    assert f"{len(seeds) + beside} passed" in last_words or "SEED" in os.environ
