"""What the door and our HTTP add: requests a second against a bare litestar handler.

Both take the same FormulationRequest and give the same FormulationReply, worked out once
before; both are served by uvicorn on the loopback address and asked over one kept
connection, turn by turn, so that a busy machine slows both. Ours also carries the safety
headers and crosses to the engine's thread and back. The aim is 80 % of the bare handler.
"""

import http.client
import json
import multiprocessing
import socket
import sys
import tempfile
import time
from contextlib import contextmanager
from pathlib import Path
from statistics import median

import msgspec
import uvicorn
from litestar import Litestar, post

from basinside.app import create_app
from basinside.cli.listening import listen
from basinside.contract.formulations import FormulationReply, FormulationRequest
from basinside.engine import door
from basinside.service.http.document import examples
from basinside.service.store.shelf import SEED_FOLDER, read_shelf

ROUNDS = 5
TURNS = 20
REQUESTS_A_TURN = 25
PATH = "/api/formulations"

EXAMPLE = next(iter(examples.FORMULATIONS.values()))


def constant_reply() -> FormulationReply:
    """Return the engine's reply to the worked example."""
    reply = door.answer("formulations", json.dumps(EXAMPLE).encode())
    return msgspec.json.decode(reply.body, type=FormulationReply)


def bare_app(constant: FormulationReply) -> Litestar:
    """Return the least a litestar application can be."""

    @post(PATH, status_code=200)
    async def echo(data: FormulationRequest) -> FormulationReply:  # noqa: ARG001
        return constant

    return Litestar([echo], openapi_config=None, logging_config=None)


def our_app(constant: FormulationReply) -> Litestar:
    """Return our application with an engine that knows its answer already."""
    known = door.QUESTIONS["formulations"]
    door.QUESTIONS["formulations"] = known._replace(calculate=lambda _request: constant)
    return create_app(Path(tempfile.mkdtemp(prefix="basinside-bench-")))


APPS = {"bare": bare_app, "ours": our_app}


def serve(name: str, listening: socket.socket) -> None:
    """Serve one application on a socket that is already bound."""
    configuration = uvicorn.Config(
        APPS[name](constant_reply()),
        log_level="warning",
        access_log=False,
        timeout_keep_alive=60,  # a connection waits while the other has its turn
    )
    uvicorn.Server(configuration).run(sockets=[listening])


@contextmanager
def served(name: str):  # noqa: ANN201
    """Yield a kept connection to an application in a process of its own."""
    with listen("127.0.0.1", 0) as listening:
        port = listening.getsockname()[1]
        process = multiprocessing.get_context("fork").Process(
            target=serve, args=(name, listening), daemon=True
        )
        process.start()
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
    deadline = time.monotonic() + 30
    while True:
        try:
            connection.connect()
            break
        except ConnectionRefusedError:
            if time.monotonic() > deadline:
                sys.exit(f"The {name} server did not start.")
            time.sleep(0.05)
    try:
        yield connection
    finally:
        connection.close()
        process.terminate()
        process.join(10)


def seconds(connection: http.client.HTTPConnection, body: bytes) -> float:
    """Return how long one turn takes; every reply is read and must be the answer."""
    start = time.perf_counter()
    for _ in range(REQUESTS_A_TURN):
        connection.request("POST", PATH, body, {"content-type": "application/json"})
        reply = connection.getresponse()
        content = reply.read()
        if reply.status != 200:
            sys.exit(f"The benchmark's request was refused: {content!r}")
    return time.perf_counter() - start


def rates(connections: list[http.client.HTTPConnection], body: bytes) -> list[float]:
    """Return each connection's requests a second over one round of short turns."""
    turns = [[seconds(connection, body) for connection in connections] for _ in range(TURNS)]
    return [REQUESTS_A_TURN * TURNS / sum(taken) for taken in zip(*turns, strict=True)]


def main() -> None:
    """Report both throughputs and their ratio, for a small and a whole shelf."""
    whole_shelf = msgspec.to_builtins(read_shelf(SEED_FOLDER).products)
    bodies = {
        "3 products": json.dumps(EXAMPLE).encode(),
        f"{len(whole_shelf)} products": json.dumps(EXAMPLE | {"products": whole_shelf}).encode(),
    }
    with served("bare") as bare, served("ours") as ours:
        for title, body in bodies.items():
            rates([bare, ours], body)  # warm up
            rounds = [rates([bare, ours], body) for _ in range(ROUNDS)]
            bare_rate, our_rate = map(median, zip(*rounds, strict=True))
            ratio = median(mine / theirs for theirs, mine in rounds)
            print(
                f"{title}, {len(body) / 1024:.1f} KiB: bare {bare_rate:.0f}/s,"
                f" door and HTTP {our_rate:.0f}/s, {ratio:.0%} (aim: at least 80 %)"
            )


if __name__ == "__main__":
    main()
