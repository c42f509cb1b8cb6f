"""Serves over TLS: the certificates, the address for phones, and the plain page to trust it by."""

import ipaddress
import socket
import ssl
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import NamedTuple, Protocol

import uvicorn

from ..service.http.trust import trust_app
from .certificates import Address, Certificates, addresses_of_machine, certificates, now_utc
from .listening import address_of, listen


class _Where(Protocol):
    """Where to serve and where the records are; see `serve.Settings`."""

    @property
    def host(self) -> str: ...
    @property
    def port(self) -> int: ...
    @property
    def data_folder(self) -> Path: ...


class Secured(NamedTuple):
    """A server over TLS, and the socket of the plain page beside it."""

    address: str
    certificates: Certificates
    trust_address: str
    beside: socket.socket
    data_folder: Path
    named: list[Address]

    def renew(self, context: ssl.SSLContext, now: datetime) -> bool:
        """Renew the desk's certificate if it is time, for new connections.

        Returns whether it did. Open connections go on. Raises `Unready` as at a start.
        """
        before = self.certificates.chain.read_bytes() if self.certificates.chain.exists() else b""
        certificates(self.data_folder, with_address(self.named), now)
        if self.certificates.chain.read_bytes() == before:
            return False
        context.load_cert_chain(self.certificates.chain, self.certificates.key)
        return True

    @contextmanager
    def trusting(self) -> Iterator[None]:
        """Serve the page that helps phones to trust the desk, inside this context."""
        fingerprint = self.certificates.fingerprint()
        page = trust_app(self.certificates.authority, fingerprint, self.address)
        server = uvicorn.Server(
            uvicorn.Config(page, log_level="warning", access_log=False, server_header=False)
        )
        thread = threading.Thread(target=server.run, kwargs={"sockets": [self.beside]})
        thread.start()
        print(f"For phones that do not trust this desk yet: {self.trust_address}", flush=True)
        print(f"The certificate's fingerprint: {fingerprint}", flush=True)
        try:
            yield
        finally:
            server.should_exit = True
            thread.join()
            self.beside.close()


def secured(where: _Where, listening: socket.socket) -> Secured:
    """Return the parts for serving a bound socket over TLS.

    Raises `Unready` if the certificates or the next port cannot be used.
    """
    host, port = listening.getsockname()[:2]
    served = ipaddress.ip_address(host)
    named = [] if served.is_unspecified else [served]
    addresses = with_address(named)
    if served.is_unspecified:
        host = str(next((each for each in addresses if each.version == served.version), served))
    made = certificates(where.data_folder, addresses, now_utc())
    # The next port is easy to tell a person. If the main port was free to choose, so is this one.
    beside = listen(where.host, port + 1 if where.port and port < 65535 else 0)
    plain_port = beside.getsockname()[1]
    return Secured(
        address_of("https", host, port),
        made,
        address_of("http", host, plain_port),
        beside,
        where.data_folder,
        named,
    )


def with_address(named: list[Address]) -> list[Address]:
    """Return this machine's present addresses; the addresses it was told to serve at come first."""
    found = addresses_of_machine()
    return [*(each for each in named if each not in found), *found]
