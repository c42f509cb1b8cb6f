"""The page's own gate, walked in random orders against the real server: it opens for nothing else.

Each seed is two services on one phone: answers given, taken back and lowered, tests written down,
plans changed, calls lost, broken off and too late, and the clock's button tapped in between. Held:
grams and clock are open only where the rules said so of what is on record at that moment, and
never against what was said last; and nothing stands before rinsing and the end. A seed draws the
same acts again; which of two calls comes first may differ.
"""

import os
import subprocess
from pathlib import Path

WEB = Path(__file__).resolve().parents[2] / "web"
WALKS = 40


def test_nothing_opens_the_gate_but_an_answer_to_what_is_on_record(served):
    seeds = os.environ.get("SEED", f"0-{WALKS - 1}")
    command = ["npx", "vitest", "run", "--config", "vitest.server.config.ts", "src/gate"]
    ran = subprocess.run(
        [*command, "--reporter", "dot"],
        cwd=WEB,
        check=False,
        env=os.environ | {"SERVER": served, "WALKS": seeds},
        capture_output=True,
        text=True,
    )
    last_words = (ran.stdout + ran.stderr)[-8000:]
    replay = ".venv/bin/pytest tests/records/test_gate_walks.py"
    assert ran.returncode == 0, f"{last_words}\nOne seed again: SEED=<seed> {replay}"
    assert f"{WALKS + 1} passed" in last_words or "SEED" in os.environ
