"""The desk's certificate is renewed while the server runs, as OpenSSL sees it from outside."""

import http.client
import signal
import ssl
from datetime import timedelta

import pytest
from browsers import running_over_tls
from cryptography import x509
from running import PATIENCE_S

from basinside.cli.certificates import (
    LEAF_LIVES,
    RENEWED_BEFORE,
    addresses_of_machine,
    certificates,
    now_utc,
)


@pytest.fixture
def server(tmp_path):
    with running_over_tls(tmp_path / "salon") as server:
        yield server


def connected(server):
    """A new connection of somebody who trusts the salon's authority, and nobody else."""
    trusting = ssl.create_default_context(cafile=server.folder / "tls" / "authority.crt")
    open_ = http.client.HTTPSConnection(
        "127.0.0.1", server.port, context=trusting, timeout=PATIENCE_S
    )
    open_.connect()
    return open_


def served(connection):
    return x509.load_der_x509_certificate(connection.sock.getpeercert(binary_form=True))


def answer(connection):
    connection.request("GET", "/api/health")
    reply = connection.getresponse()
    reply.read()
    return reply.status


def hang_up(server):
    server.process.send_signal(signal.SIGHUP)


def test_a_certificate_about_to_end_is_replaced_and_what_is_connected_goes_on(server):
    before = connected(server)
    first = served(before)
    assert answer(before) == 200
    # As it lies there after a year: a leaf of the same authority with less than a month to go.
    (server.folder / "tls" / "desk.crt").unlink()
    a_year_ago = now_utc() - LEAF_LIVES + RENEWED_BEFORE
    made = certificates(server.folder, addresses_of_machine(), a_year_ago)
    ending = x509.load_pem_x509_certificate(made.chain.read_bytes())
    assert ending.not_valid_after_utc - now_utc() < RENEWED_BEFORE

    hang_up(server)
    assert "renewed" in server.process.stdout.readline()
    after = connected(server)
    renewed = served(after)
    assert renewed.serial_number not in (first.serial_number, ending.serial_number)
    assert renewed.not_valid_after_utc - now_utc() > LEAF_LIVES - timedelta(days=2)
    assert renewed.issuer == first.issuer
    assert (answer(after), answer(before)) == (200, 200)
    assert served(before).serial_number == first.serial_number
    before.close()
    after.close()


def test_a_good_certificate_stays_and_the_server_outlives_being_asked(server):
    first = connected(server)
    for _ in range(3):
        hang_up(server)
        again = connected(server)
        assert answer(again) == 200
        assert served(again).serial_number == served(first).serial_number
        again.close()
    first.close()
