"""How long the health call takes while eight formulations are always being asked for.

The server is a real one in a process of its own; the askers are eight processes that each
send the demo shelf again as soon as it is answered. Reported, not judged: a machine with
few cores makes the askers and the server share them.
"""

import http.client
import json
import multiprocessing
import os
import signal
import subprocess
import sys
import tempfile
import time
from multiprocessing.sharedctypes import Synchronized
from statistics import median, quantiles

import msgspec

from basinside.service.store.shelf import SEED_FOLDER, read_shelf

ASKERS = 8
SAMPLES = 400
PAUSE_S = 0.02


def ask_for_formulas(port: int, body: bytes, answered: Synchronized) -> None:
    """Ask again and again, counting the answers, until terminated."""
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=120)
    while True:
        connection.request("POST", "/api/formulations", body)
        reply = connection.getresponse()
        reply.read()
        if reply.status != 200:
            sys.exit(f"A formulation was refused with {reply.status}.")
        with answered.get_lock():
            answered.value += 1


def health_times_ms(port: int) -> list[float]:
    """Return how long each of the health calls took, in milliseconds."""
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
    taken = []
    for _ in range(SAMPLES):
        start = time.perf_counter()
        connection.request("GET", "/api/health")
        connection.getresponse().read()
        taken.append(1000 * (time.perf_counter() - start))
        time.sleep(PAUSE_S)
    connection.close()
    return taken


def report(title: str, taken_ms: list[float]) -> None:
    """Print the median, the 99th percentile and the longest."""
    p99 = quantiles(taken_ms, n=100)[98]
    print(
        f"{title}: median {median(taken_ms):.1f} ms, p99 {p99:.1f} ms, max {max(taken_ms):.1f} ms"
    )


def main() -> None:
    """Report the health call alone, then beside eight formulations."""
    server = subprocess.Popen(
        [sys.executable, "-m", "basinside.cli", "serve"],
        stdout=subprocess.PIPE,
        env=os.environ
        | {"PORT": "0", "BASINSIDE_DATA": tempfile.mkdtemp(prefix="basinside-bench-")},
        text=True,
    )
    askers: list[multiprocessing.Process] = []
    try:
        port = int(server.stdout.readline().rstrip("/\n").rpartition(":")[2])
        report("alone", health_times_ms(port))
        products = msgspec.to_builtins(read_shelf(SEED_FOLDER).products)
        asked = {"hair": {"level": 10}, "wish": {"level": 10, "tone": ["pearl"]}}
        body = json.dumps(asked | {"products": products}).encode()
        answered = multiprocessing.Value("i", 0)
        askers = [
            multiprocessing.Process(target=ask_for_formulas, args=(port, body, answered))
            for _ in range(ASKERS)
        ]
        for asker in askers:
            asker.start()
        while not answered.value:
            time.sleep(0.1)
        start, before = time.perf_counter(), answered.value
        report(f"beside {ASKERS} formulations", health_times_ms(port))
        rate = (answered.value - before) / (time.perf_counter() - start)
        print(f"formulations answered meanwhile: {rate:.2f}/s, {len(products)} products each")
    finally:
        for asker in askers:
            asker.terminate()
            asker.join()
        server.send_signal(signal.SIGINT)
        server.wait(60)


if __name__ == "__main__":
    main()
