"""How long a formula takes against the first engine, which had one class in reach and no levels.

The first engine comes out of this repository's history. Both engines run in processes of their
own and answer the same question in turn, so that a busy machine slows both alike. Each line gives
the median of the ratios and the shortest time of either. Needs a clone with its history.
"""

import json
import os
import statistics
import subprocess
import sys
import tarfile
import tempfile
from io import BytesIO
from pathlib import Path

TOP = Path(__file__).parent.parent
FIRST = "5924859"  # the commit before a level had one meaning
ROUNDS = int(os.environ.get("ROUNDS", "15"))
QUESTIONS = [(level, tone) for level in (7, 8, 9, 10) for tone in ("natural", "beige", "pearl")]
WORKER = """
import sys, time
from basinside.engine.door import answer
for line in sys.stdin:
    body = line.encode()
    start = time.process_time()
    reply = answer("formulations", body)
    assert reply.status == 200, reply.body
    print(time.process_time() - start, flush=True)
"""


def engine(folder: Path) -> subprocess.Popen[str]:
    """Return a process that answers with the engine of this folder."""
    return subprocess.Popen(
        [sys.executable, "-c", WORKER],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": str(folder)},
    )


def seconds(asked: subprocess.Popen[str], question: str) -> float:
    """Return the processor time that one answer takes."""
    assert asked.stdin
    assert asked.stdout
    asked.stdin.write(question + "\n")
    asked.stdin.flush()
    return float(asked.stdout.readline())


def main() -> None:
    """Report twelve questions on lifted hair, from the demo shelf, one by one and together."""
    products = json.loads((TOP / "seed_demo" / "shelf.json").read_text(encoding="utf-8"))
    with tempfile.TemporaryDirectory(prefix="basinside-bench-") as folder:
        packed = subprocess.run(
            ["git", "archive", FIRST, "api"], cwd=TOP, capture_output=True, check=False
        )
        if packed.returncode:
            print("This clone has no history, so there is no first engine to measure against.")
            return
        with tarfile.open(fileobj=BytesIO(packed.stdout)) as files:
            files.extractall(folder, filter="data")
        first, now = engine(Path(folder) / "api"), engine(TOP / "api")
        totals = [0.0, 0.0]
        for level, tone in QUESTIONS:
            question = json.dumps(
                {
                    "hair": {"level": level, "lifted": True},
                    "wish": {"level": level, "tone": [tone]},
                    "products": products["products"],
                }
            )
            seconds(first, question)  # what is kept between questions is there from here on
            seconds(now, question)
            pairs = [(seconds(first, question), seconds(now, question)) for _ in range(ROUNDS)]
            then, today = (min(times) for times in zip(*pairs, strict=True))
            ratio = statistics.median(b / a for a, b in pairs)
            totals = [totals[0] + then, totals[1] + today]
            print(
                f"{level} {tone:8} on lifted {level:2}: {ratio:.2f} times as long"
                f" ({1e3 * then:.0f} to {1e3 * today:.0f} ms)",
                flush=True,
            )
        print(f"together {totals[1] / totals[0]:.2f} times as long")
        for process in (first, now):
            process.communicate()


if __name__ == "__main__":
    main()
