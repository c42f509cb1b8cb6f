"""The whole application as a process of its own, on a port of the loopback interface."""

import itertools
import os
import signal
import socket
import subprocess
import sys
import time

import pytest

from basinside.service.store.salon import DATABASE_FILE, Salon
from basinside.service.sync.pairing import new_code

PATIENCE_S = 300
READY = "Basinside is ready at "
# Below the ports that a system hands out by itself (32768 and up on Linux), so that a port is
# still free when a server that was stopped comes back to it.
FIRST_PORT, PORTS_EACH, SLICES = 20_000, 200, 60
_WORKER = int(os.environ.get("PYTEST_XDIST_WORKER", "gw0").removeprefix("gw"))
_ports = itertools.count(FIRST_PORT + PORTS_EACH * ((os.getppid() + _WORKER) % SLICES))

# What `basinside serve` does, with the pages from the folder that is named.
WITH_OTHER_PAGES = """
import functools, importlib, pathlib, sys
serve = importlib.import_module("basinside.cli.serve")
serve.create_app = functools.partial(serve.create_app, web_folder=pathlib.Path(sys.argv[1]))
sys.exit(serve.serve(serve.Settings.from_environment()))
"""


def free_port():
    """Return a port that nobody listens on, and that this process has not named before."""
    while True:
        port = next(_ports)
        with socket.socket() as found:
            try:
                found.bind(("127.0.0.1", port))
            except OSError:
                continue
        return port


class Server:
    """`basinside serve` on a data folder: started, stopped, killed, and started again in place."""

    def __init__(self, folder, *, tls=False, pages=None, port=None):
        self.folder = folder
        self.port = port or free_port()
        self.address = f"http{'s' if tls else ''}://127.0.0.1:{self.port}"
        self.said = []
        self.process = None
        command = (
            ["-c", WITH_OTHER_PAGES, str(pages)] if pages else ["-m", "basinside.cli", "serve"]
        )
        self._command = [sys.executable, *command, *(["--tls"] if tls else [])]

    def start(self):
        self.process = subprocess.Popen(
            self._command,
            stdout=subprocess.PIPE,
            env=os.environ | {"PORT": str(self.port), "BASINSIDE_DATA": str(self.folder)},
            text=True,
        )
        for line in self.process.stdout:
            self.said.append(line)
            if line.startswith(READY):
                assert self.address in line
                return self
        self.kill()
        pytest.fail("The server ended before it was ready.")

    def stop(self):
        """Stops it as a person does; it has to end without a fault."""
        if self.process:
            self.process.send_signal(signal.SIGINT)
            assert self.process.wait(timeout=PATIENCE_S) == 0
            self._forget()

    def kill(self):
        if self.process:
            self.process.send_signal(signal.SIGKILL)
            self.process.wait(timeout=PATIENCE_S)
            self._forget()

    def _forget(self):
        self.process.stdout.close()
        self.process = None

    def code(self):
        """A pairing code, made as the server's machine makes it."""
        salon = Salon(self.folder / DATABASE_FILE)
        try:
            return new_code(salon, time.time_ns() // 1_000_000)
        finally:
            salon.close()
