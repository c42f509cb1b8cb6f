"""Runs the package clients, quietly when all is well and with their own words when not."""

import os
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
CACHE = ROOT / ".cache"

# .venv/bin comes first, so that a Node installed there is the one that scripts find.
ENVIRONMENT = {**os.environ, "PATH": f"{VENV / 'bin'}{os.pathsep}{os.environ.get('PATH', '')}"}


def run_quietly(
    command: Sequence[str | Path], log_name: str, failed: str, cwd: Path = ROOT
) -> None:
    """Run `command` to its end; on failure print the end of its log, then `failed`, and exit 1."""
    CACHE.mkdir(exist_ok=True)
    log = CACHE / f"{log_name}.log"
    with log.open("wb") as output:
        ended = subprocess.run(
            command,
            cwd=cwd,
            env=ENVIRONMENT,
            stdin=subprocess.DEVNULL,
            stdout=output,
            stderr=subprocess.STDOUT,
            check=False,
        )
    if ended.returncode != 0:
        last_lines = log.read_text(errors="replace").strip().splitlines()[-20:]
        print(*last_lines, sep="\n", file=sys.stderr)
        sys.exit(f"{failed} All it said is in {log.relative_to(ROOT)}.")
