"""Opens the server's sockets, and names their addresses."""

import errno
import socket

from ..service.store.unready import Unready


def listen(host: str, port: int) -> socket.socket:
    """Return a bound socket. Bound here, since the server would only log a failure.

    Raises `Unready` for an address that is taken or not available.
    """
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    # Named TCP, or asyncio keeps small packets waiting: 40 ms on every reply.
    listening = socket.socket(family, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((host, port))
    except OSError as error:
        listening.close()
        why = "in use" if error.errno == errno.EADDRINUSE else f"not available ({error.strerror})"
        raise Unready(
            f"Port {port} on {host} is {why}. Stop the program that uses it, or choose another,"
            f" as in PORT={port + 1 if 1024 <= port < 65535 else 8000}."
        ) from error
    return listening


def address_of(scheme: str, host: str, port: int) -> str:
    """Return the address of a page, such as "http://127.0.0.1:8000/"."""
    return f"{scheme}://{f'[{host}]' if ':' in host else host}:{port}/"
