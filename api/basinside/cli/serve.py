"""`basinside serve`: one process, one address, loopback only."""

import errno
import fcntl
import ipaddress
import os
import socket
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import NamedTuple

import uvicorn

from ..app import create_app
from ..service import ROOT
from ..service.http.engine_thread import refuse_unanswered
from ..service.http.salon_calls import Desk
from ..service.store.shelf import check_writable
from ..service.store.unready import Unready

_SECONDS_TO_FINISH = 3


class Settings(NamedTuple):
    """Where to serve and where the records are."""

    host: str
    port: int
    data_folder: Path

    @classmethod
    def from_environment(cls) -> "Settings":
        """Return HOST, PORT and BASINSIDE_DATA, or what stands for them when absent.

        Raises `Unready` for what is not served: a host others can reach, a port that is none.
        """
        data_folder = Path(os.environ.get("BASINSIDE_DATA") or ROOT / "var")
        return cls(_host(os.environ.get("HOST")), _port(os.environ.get("PORT")), data_folder)


def serve(settings: Settings) -> int:
    """Serve until interrupted; print the address, once, when requests are taken.

    Raises `Unready` when the port or the data folder cannot be used.
    """
    # How long the engine's thread may keep the interpreter from the event loop. Beside eight
    # formulations the health call's median was 7 ms at Python's own 5 ms and is 3 ms so, its
    # p99 28 and 15 ms (benchmarks/health_under_load.py), at the same throughput.
    sys.setswitchinterval(0.001)
    check_writable(settings.data_folder)
    listening = listen(settings.host, settings.port)
    with listening, serving_alone(settings.data_folder):
        host, port = listening.getsockname()[:2]
        shown_host = f"[{host}]" if ":" in host else host
        app = create_app(settings.data_folder)
        configuration = uvicorn.Config(
            app,
            log_level="warning",
            access_log=False,
            server_header=False,
            timeout_graceful_shutdown=_SECONDS_TO_FINISH,
        )
        try:
            address = f"http://{shown_host}:{port}/"
            _Announcing(configuration, app.state.desk, address).run(sockets=[listening])
        except KeyboardInterrupt:  # uvicorn has shut down and passes the signal on
            return 0
    return 0


@contextmanager
def serving_alone(data_folder: Path) -> Iterator[None]:
    """Hold the data folder, so that two servers, or a restore, never write in one.

    Raises `Unready` where another process holds it.
    """
    data_folder.mkdir(parents=True, exist_ok=True)
    with (data_folder / "serving").open("w") as held:
        try:
            fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            raise Unready(
                f"Another server uses the records in {data_folder}. Stop it first, or name another"
                " folder in BASINSIDE_DATA."
            ) from None
        yield


class _Announcing(uvicorn.Server):
    """A server that says where it is once it takes requests, and not before."""

    def __init__(self, configuration: uvicorn.Config, desk: Desk, address: str) -> None:
        super().__init__(configuration)
        self._desk = desk
        self._address = address

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        await super().startup(sockets)
        if self.started:
            print(f"Basinside is ready at {self._address}", flush=True)

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        refuse_unanswered()
        self._desk.stop_following()
        await super().shutdown(sockets)


def _host(asked: str | None) -> str:
    if not asked or asked == "localhost":
        return "127.0.0.1"
    try:
        if ipaddress.ip_address(asked).is_loopback:
            return asked
    except ValueError:
        pass
    raise Unready(
        f"HOST must be this machine alone, such as 127.0.0.1; got {asked}. Others are refused"
        " until devices can be paired: leave HOST out."
    )


def _port(asked: str | None) -> int:
    if not asked:
        return 8000
    if asked.isascii() and asked.isdigit() and int(asked) <= 65535:
        return int(asked)
    raise Unready(f"PORT must be a whole number from 0 to 65535; got {asked}. 8000 is usual.")


def listen(host: str, port: int) -> socket.socket:
    """Return a bound socket. Bound here, since the server would only log that it could not.

    Raises `Unready` for an address that is taken or not to be had.
    """
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    # Named TCP, or asyncio leaves small packets waiting: 40 ms on every reply.
    listening = socket.socket(family, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((host, port))
    except OSError as error:
        listening.close()
        why = "in use" if error.errno == errno.EADDRINUSE else f"not to be had ({error.strerror})"
        raise Unready(
            f"Port {port} on {host} is {why}. Stop what uses it or choose another,"
            f" as in PORT={port + 1 if 1024 <= port < 65535 else 8000}."
        ) from error
    return listening
