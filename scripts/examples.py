"""Writes the answers that README.md prints; with `--check`, says whether they have drifted.

An answer is the rest of a code block that opens with a prompt and a command:
`$ .venv/bin/basinside formulate examples/formulate.json --table`.
"""

import re
import subprocess
import sys

from quietly import ROOT, VENV

README = ROOT / "README.md"
# A command of ours after a prompt, then its answer up to the end of the code block.
ANSWERED = re.compile(
    r"^\$ \.venv/bin/(basinside [^\n]+)\n(.*?)(?=^```$)", re.MULTILINE | re.DOTALL
)


def answered(text: str) -> str:
    """Return the text with each printed answer replaced by what its command prints now.

    Raises `subprocess.CalledProcessError` if a command is refused, and `ValueError` if the text
    prints no answer at all.
    """
    renewed, count = ANSWERED.subn(_answer, text)
    if not count:
        raise ValueError("README.md shows no command with its answer.")
    return renewed


def _answer(found: re.Match[str]) -> str:
    command = found[1].split()
    ended = subprocess.run(
        [VENV / "bin" / command[0], *command[1:]],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        check=True,
        encoding="utf-8",
    )
    return f"$ .venv/bin/{found[1]}\n{ended.stdout}"


def main() -> None:
    """Write the answers, or exit 1 with what to do where a printed one has drifted."""
    printed = README.read_text("utf-8")
    renewed = answered(printed)
    if "--check" not in sys.argv[1:]:
        README.write_text(renewed, "utf-8")
    elif renewed != printed:
        sys.exit(
            "README.md prints an answer that the engine no longer gives:"
            " run `.venv/bin/python scripts/examples.py` and commit what it writes."
        )


if __name__ == "__main__":
    main()
