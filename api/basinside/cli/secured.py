"""Serving over TLS: the certificates, the address phones use, and the page to trust them by."""

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
    """Where to serve and where the records are; `serve.Settings`."""

    @property
    def host(self) -> str: ...
    @property
    def port(self) -> int: ...
    @property
    def data_folder(self) -> Path: ...


class Secured(NamedTuple):
    """What is served over TLS, and the socket of the plain page beside it."""

    address: str
    certificates: Certificates
    trust_address: str
    beside: socket.socket
    data_folder: Path
    named: list[Address]

    def renew(self, context: ssl.SSLContext, now: datetime) -> bool:
        """Renew the desk's certificate where it is time, for connections from now on.

        Returns whether it was. Connections that stand go on. Raises `Unready` as at a start.
        """
        before = self.certificates.chain.read_bytes() if self.certificates.chain.exists() else b""
        certificates(self.data_folder, with_address(self.named), now)
        if self.certificates.chain.read_bytes() == before:
            return False
        context.load_cert_chain(self.certificates.chain, self.certificates.key)
        return True

    @contextmanager
    def trusting(self) -> Iterator[None]:
        """Serve the page that helps phones to trust the desk, for as long as this lasts."""
        fingerprint = self.certificates.fingerprint()
        page = trust_app(self.certificates.authority, fingerprint, self.address)
        server = uvicorn.Server(
            uvicorn.Config(page, log_level="warning", access_log=False, server_header=False)
        )
        thread = threading.Thread(target=server.run, kwargs={"sockets": [self.beside]})
        thread.start()
        print(f"Phones that do not trust this desk yet: {self.trust_address}", flush=True)
        print(f"Its certificate has the numbers {fingerprint}", flush=True)
        try:
            yield
        finally:
            server.should_exit = True
            thread.join()
            self.beside.close()


def secured(where: _Where, listening: socket.socket) -> Secured:
    """Return what it takes to serve a bound socket over TLS.

    Raises `Unready` where the certificates or the next port cannot be used.
    """
    host, port = listening.getsockname()[:2]
    served = ipaddress.ip_address(host)
    named = [] if served.is_unspecified else [served]
    addresses = with_address(named)
    if served.is_unspecified:
        host = str(next((each for each in addresses if each.version == served.version), served))
    made = certificates(where.data_folder, addresses, now_utc())
    # The next port, so that it can be told by heart; any, where the main one was any.
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
    """Return this machine's addresses as they are now, and first those served at by name."""
    found = addresses_of_machine()
    return [*(each for each in named if each not in found), *found]
