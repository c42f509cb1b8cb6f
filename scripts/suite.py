"""Runs everything that must hold, side by side: what `make check` checks, the pages' tests, pytest.

pytest says at once what it finds; what the two beside it said comes once they are done, and all
three are named at the end. Standard library only. Anything behind `--` goes to pytest.
"""

import os
import subprocess
import sys
import tempfile
import threading
import time
from typing import IO

from quietly import ENVIRONMENT, ROOT, VENV

PYTEST = [
    str(VENV / "bin" / "pytest"),
    *("--numprocesses", "auto", "--dist", "loadscope", "--no-loadscope-reorder"),
    *("--durations", "15"),
]
BESIDE = {
    "make check": ["make", "check"],
    "the pages' own tests": ["npm", "--prefix", "web", "--silent", "run", "test"],
}


class Beside:
    """A command that runs beside the tests; what it says is kept until it is done."""

    def __init__(self, name: str, command: list[str], said: IO[bytes]) -> None:
        self.name, self._said, self._begun_s = name, said, time.monotonic()
        self._process = subprocess.Popen(
            command, cwd=ROOT, env=ENVIRONMENT, stdout=said, stderr=subprocess.STDOUT
        )

    def end(self) -> int:
        """Wait for it; print what it said where it failed; return its exit code."""
        self.code = self._process.wait()
        self.took_s = time.monotonic() - self._begun_s
        if self.code:
            self._said.seek(0)
            said = self._said.read().decode(errors="replace")
            print(f"\n{self.name} failed:\n{said}", flush=True)
        return self.code

    def stop(self) -> None:
        """End it, where the whole run was broken off."""
        if self._process.poll() is None:
            self._process.terminate()


def main() -> int:
    """Run all three; return 0 where all hold, else the code of one that does not."""
    with tempfile.TemporaryFile() as check, tempfile.TemporaryFile() as pages:
        beside = [
            Beside(name, command, said)
            for (name, command), said in zip(BESIDE.items(), (check, pages), strict=True)
        ]
        watching = [threading.Thread(target=each.end) for each in beside]
        for each in watching:
            each.start()
        try:
            code, closing = pytest(sys.argv[1:])
            for each in watching:
                each.join()
        except KeyboardInterrupt:
            for one in beside:
                one.stop()
            return 130
    for one in beside:
        how = f"failed with {one.code}, as said above" if one.code else "holds"
        print(f"{one.name}: {how} ({one.took_s:.0f} s)")
    print(f"pytest: {'holds' if code == 0 else f'failed with {code}'}")
    print(closing, flush=True)
    return code or next((one.code for one in beside if one.code), 0)


def pytest(arguments: list[str]) -> tuple[int, str]:
    """Run pytest, passing on each line as it comes; return its exit code and its last line."""
    colour = ["--color=yes"] if sys.stdout.isatty() else []
    command = [*PYTEST, *colour, *(each for each in arguments if each != "--")]
    closing = ""
    with subprocess.Popen(
        command, cwd=ROOT, env=ENVIRONMENT, stdout=subprocess.PIPE, stderr=subprocess.STDOUT
    ) as process:
        if process.stdout is None:
            return process.wait(), closing
        # By what there is and not by lines: the dots of a line come one by one.
        while said := os.read(process.stdout.fileno(), 65_536):
            text = said.decode(errors="replace")
            sys.stdout.write(text)
            sys.stdout.flush()
            closing = (closing + text)[-4096:]
    lines = [line for line in closing.splitlines() if line.strip()]
    return process.wait(), lines[-1] if lines else ""


if __name__ == "__main__":
    sys.exit(main())
