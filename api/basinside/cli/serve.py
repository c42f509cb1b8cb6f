"""`basinside serve`: one process at one address; over TLS, phones in the salon may reach it."""

import asyncio
import fcntl
import gc
import ipaddress
import os
import resource
import signal
import socket
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager, nullcontext, suppress
from pathlib import Path
from typing import NamedTuple

import uvicorn

from ..app import create_app
from ..service import ROOT
from ..service.http.connections import ACCEPTED_AT_ONCE, Room, guarded, most_connections
from ..service.http.open_desk import Desk
from ..service.store.private import make_private
from ..service.store.shelf import check_writable
from ..service.store.unready import Unready
from .certificates import now_utc
from .listening import address_of, listen
from .log import write_log
from .secured import Secured, secured

_MADE_BEFORE_A_LOOK = 20_000
_SECONDS_TO_FINISH = 3
_ENOUGH_FILES = 8192
# How many the system keeps until the loop accepts them.
_WAITING_TO_BE_ACCEPTED = 1024
_RENEW_EVERY_S = 6 * 3600
SERVING_FILE = "serving"


class Settings(NamedTuple):
    """Where to serve and where the records are."""

    host: str
    port: int
    data_folder: Path

    @classmethod
    def from_environment(cls) -> "Settings":
        """Return HOST, PORT and BASINSIDE_DATA, or their defaults.

        Raises `Unready` if the host or the port is not valid.
        """
        data_folder = Path(os.environ.get("BASINSIDE_DATA") or ROOT / "var")
        return cls(_host(os.environ.get("HOST")), _port(os.environ.get("PORT")), data_folder)


def serve(settings: Settings, *, tls: bool = False) -> int:
    """Serve until interrupted; print the address, once, when requests are taken.

    Over TLS a plain page on the next port helps phones to trust the desk. Raises `Unready` if the
    port, the data folder or the certificates cannot be used, or if others could listen in.
    """
    # How long the engine's thread may keep the interpreter from the event loop. Measured on the
    # health call beside eight formulations (benchmarks/health_under_load.py). Python's own 5 ms:
    # median 7 ms, p99 28 ms. With 1 ms: median 3 ms, p99 15 ms, at the same throughput.
    sys.setswitchinterval(0.001)
    if not tls and not ipaddress.ip_address(settings.host).is_loopback:
        raise Unready(
            f"Without TLS, HOST must be this machine, such as 127.0.0.1; got {settings.host}."
            " For phones, run `basinside serve --tls`, or leave HOST out."
        )
    write_log()
    check_writable(settings.data_folder)
    listening = listen(settings.host, settings.port)
    with listening, serving_alone(settings.data_folder) as say_where:
        safely = secured(settings, listening) if tls else None
        address = safely.address if safely else address_of("http", *listening.getsockname()[:2])
        say_where(address)
        # An earlier version left them open to all.
        make_private(settings.data_folder)
        app = create_app(settings.data_folder)
        app.state.desk.address_for_phones = safely.address if safely else ""
        configuration = uvicorn.Config(
            app,
            log_config=None,
            log_level="warning",
            access_log=False,
            server_header=False,
            timeout_graceful_shutdown=_SECONDS_TO_FINISH,
            http=guarded(Room(most_connections(files_at_most()))),
            backlog=ACCEPTED_AT_ONCE,
            ssl_certfile=safely.certificates.chain if safely else None,
            ssl_keyfile=safely.certificates.key if safely else None,
        )
        try:
            with safely.trusting() if safely else nullcontext():
                _Announcing(configuration, app.state.desk, address, safely).run(sockets=[listening])
        except KeyboardInterrupt:  # uvicorn has shut down and passes the signal on
            return 0
    return 0


def files_at_most() -> int:
    """Return how many files this process may open, after raising that as far as it may be."""
    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    most = _ENOUGH_FILES if hard == resource.RLIM_INFINITY else min(hard, _ENOUGH_FILES)
    if soft == resource.RLIM_INFINITY or soft >= most:
        return _ENOUGH_FILES if soft == resource.RLIM_INFINITY else soft
    try:
        resource.setrlimit(resource.RLIMIT_NOFILE, (most, hard))
    except (OSError, ValueError):  # some systems allow less than they say
        return soft
    return most


@contextmanager
def serving_alone(data_folder: Path) -> Iterator[Callable[[str], None]]:
    """Hold the data folder, so that two servers, or a restore, never write in one.

    Gives a function that stores the served address, for `basinside pair` to show.

    Raises `Unready` if another process holds it.
    """
    data_folder.mkdir(parents=True, exist_ok=True)
    with (data_folder / SERVING_FILE).open("a") as held:
        try:
            fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            raise Unready(
                f"Another server uses the records in {data_folder}. Stop it first, or name another"
                " folder in BASINSIDE_DATA."
            ) from None

        def say_where(address: str) -> None:
            held.truncate(0)
            held.write(address)
            held.flush()

        say_where("")
        yield say_where
        say_where("")


def served_at(data_folder: Path) -> str:
    """Return the address at which a server now serves these records, or "" if none does."""
    try:
        with (data_folder / SERVING_FILE).open() as held:
            fcntl.flock(held, fcntl.LOCK_SH | fcntl.LOCK_NB)
    except BlockingIOError:
        return (data_folder / SERVING_FILE).read_text("utf-8")
    except OSError:
        return ""
    return ""  # a killed server left this address


class _Announcing(uvicorn.Server):
    """A server that prints its address once it takes requests, and not before."""

    def __init__(
        self, configuration: uvicorn.Config, desk: Desk, address: str, safely: Secured | None
    ) -> None:
        super().__init__(configuration)
        self._desk = desk
        self._address = address
        self._safely = safely
        self._renewing: asyncio.Task[None] | None = None

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        await super().startup(sockets)
        if self.started:
            # The loop accepts a few at a time; the rest wait in the system meanwhile.
            for each in sockets or ():
                each.listen(_WAITING_TO_BE_ACCEPTED)
            # Everything loaded by now stays, so the collector need not check it again. And a push
            # makes some ten thousand short-lived objects that are no garbage yet.
            gc.collect()
            gc.freeze()
            gc.set_threshold(_MADE_BEFORE_A_LOOK)
            if self._safely:
                self._renewing = asyncio.create_task(self._renew(self._safely))
            print(f"Basinside is ready at {self._address}", flush=True)

    async def _renew(self, safely: Secured) -> None:
        """Check the certificates every few hours, and at once on SIGHUP, as servers do."""
        asked = asyncio.Event()
        with suppress(NotImplementedError, AttributeError):  # some systems have no such signal
            asyncio.get_running_loop().add_signal_handler(signal.SIGHUP, asked.set)
        while context := self.config.ssl:
            with suppress(TimeoutError):
                await asyncio.wait_for(asked.wait(), _RENEW_EVERY_S)
            asked.clear()
            try:
                if await asyncio.to_thread(safely.renew, context, now_utc()):
                    print("The desk's certificate was renewed.", flush=True)
            except Unready as why:  # the present one may be good for weeks
                print(why, file=sys.stderr, flush=True)

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        self._desk.lanes.refuse_unanswered()
        if self._renewing:
            self._renewing.cancel()
        self._desk.stop_following()
        await super().shutdown(sockets)


def _host(asked: str | None) -> str:
    if not asked or asked == "localhost":
        return "127.0.0.1"
    try:
        return str(ipaddress.ip_address(asked))
    except ValueError:
        raise Unready(
            f"HOST must be an address of this machine, such as 127.0.0.1; got {asked}. Leave HOST"
            " out to serve only this machine."
        ) from None


def _port(asked: str | None) -> int:
    if not asked:
        return 8000
    if asked.isascii() and asked.isdigit() and int(asked) <= 65535:
        return int(asked)
    raise Unready(f"PORT must be a whole number from 0 to 65535; got {asked}. 8000 is usual.")
