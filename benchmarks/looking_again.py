"""What the server's second look at started services costs, beside the pushes that bring them.

One salon of clients with a visit each, and one of a regular with as many visits: pushed over HTTP
in this process, then looked at piece by piece. `VISITS=30` runs fewer.
"""

import gc
import os
import sys
import tempfile
import time
from pathlib import Path

from litestar.testing import TestClient

ROOT = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(ROOT / "tests" / name) for name in ("common", "records", "sync")]

from phone import Phone  # noqa: E402
from started_services import Visit  # noqa: E402

from basinside.app import create_app  # noqa: E402
from basinside.engine.door import answer  # noqa: E402
from basinside.service.desk.recheck import in_turns, keep, look_again, next_piece  # noqa: E402
from basinside.service.http import recheck  # noqa: E402
from basinside.service.store.salon import Salon  # noqa: E402

VISITS = int(os.environ.get("VISITS", "100"))


def main() -> None:
    """Measure both salons, and report."""
    recheck.EVERY_S = 1e9  # it is called here, so that it can be timed
    for said, one_client in (("clients with a visit each", False), ("visits of a regular", True)):
        with tempfile.TemporaryDirectory(prefix="basinside-bench-") as folder:
            app = create_app(Path(folder) / "salon")
            with TestClient(app, base_url="http://127.0.0.1") as client:
                salon = client.app.state.desk.salon
                push_ms = pushed(client, salon, one_client) / VISITS
                looks, longest_ms, took_ms, turn_ms = looked(salon)
        print(
            f"{VISITS} {said}: pushed in {push_ms:.1f} ms each, looked at in"
            f" {took_ms / looks:.1f} ms each ({looks} looks); the longest piece"
            f" {longest_ms:.0f} ms, the engine's longest turn {turn_ms:.0f} ms"
        )


def pushed(client: TestClient, salon: Salon, one_client: bool) -> float:
    """Send the visits; return how long that took, in ms."""
    now_ms = time.time_ns() // 1_000_000
    phone = Phone(client, salon, 1, now_ms)
    phone.pair(now_ms)
    began_s = time.perf_counter()
    for number in range(VISITS):
        visit = Visit(phone, number)
        if one_client:
            visit.client = Visit(phone, 0).client
        is_new = number == 0 or not one_client
        before = visit.client_and_salon()[: None if number == 0 else 2] if is_new else []
        visit.push(before, visit.alert_test(), visit.planned(), visit.started())
    return (time.perf_counter() - began_s) * 1000


def looked(salon: Salon) -> tuple[int, float, float, float]:
    """Look at all of it.

    Return how many looks, the longest piece, all of them, and the engine's longest turn by its
    processor's clock, in ms. While a turn lasts, nobody else is answered there.
    """
    gc.collect()
    gc.freeze()  # as the server does: what this process holds beside the salon is not in its way
    looks, pieces_ms, turns_ms = 0, [], [0.0]
    while True:
        began_s = time.perf_counter()
        piece = next_piece(salon)
        if piece is None:
            return looks, max(pieces_ms), sum(pieces_ms), max(turns_ms)
        started = []
        for turn in in_turns(piece.asked):
            turn_s = time.thread_time()
            started += look_again(turn, reviewed)
            turns_ms.append((time.thread_time() - turn_s) * 1000)
        keep(salon, piece, started)
        looks += len(started)
        pieces_ms.append((time.perf_counter() - began_s) * 1000)


def reviewed(request: bytes) -> tuple[int, bytes]:
    """Ask the safety rules."""
    reply = answer("safety/reviews", request)
    return reply.status, reply.body


if __name__ == "__main__":
    main()
