"""Serving over TLS with the salon's own authority, judged by OpenSSL and not by what made it."""

import ipaddress
import os
import re
import signal
import ssl
import stat
import subprocess
import sys
import urllib.error
import urllib.request
from datetime import UTC, datetime, timedelta

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from running import PATIENCE_S

from basinside.cli.certificates import addresses_of_machine, certificates
from basinside.cli.pair import picture
from basinside.service.http.trust import CERTIFICATE

LOOPBACK = ipaddress.ip_address("127.0.0.1")
NOW = datetime(2026, 11, 26, tzinfo=UTC)


@pytest.fixture(scope="module")
def served(tmp_path_factory):
    """A real server over TLS: its folder, its address, the plain page's and the numbers shown."""
    folder = tmp_path_factory.mktemp("tls")
    process = subprocess.Popen(
        [sys.executable, "-m", "basinside.cli", "serve", "--tls"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env=os.environ | {"PORT": "0", "BASINSIDE_DATA": str(folder)},
        text=True,
    )
    plain, numbers, ready = (process.stdout.readline() for _ in range(3))
    yield folder, ready.split()[-1], plain.split()[-1], numbers.split("fingerprint: ")[1].strip()
    process.send_signal(signal.SIGINT)
    _, said = process.communicate(timeout=PATIENCE_S)
    assert (process.returncode, said) == (0, "")


def got(address, trusted=None):
    with urllib.request.urlopen(address, context=trusted, timeout=PATIENCE_S) as reply:
        return reply.headers["content-type"], reply.read()


def test_who_trusts_the_authority_reaches_the_desk_and_who_does_not_is_warned(served):
    folder, address, _, _ = served
    assert re.fullmatch(r"https://127\.0\.0\.1:\d+/", address)
    trusting = ssl.create_default_context(cafile=folder / "tls" / "authority.crt")
    assert b"engine_version" in got(address + "api/health", trusting)[1]
    with pytest.raises(urllib.error.URLError, match="CERTIFICATE_VERIFY_FAILED"):
        got(address, ssl.create_default_context())


def test_the_plain_page_hands_out_the_certificate_the_steps_and_the_numbers(served):
    folder, address, plain, numbers = served
    _, page = got(plain)
    shown = page.decode()
    assert f"<code>{numbers}</code>" in shown
    assert f'href="{address}"' in shown
    assert f'href="{CERTIFICATE}"' in shown
    assert all(system in shown for system in ("iPhone", "Android", "computer"))
    kind, certificate = got(plain.rstrip("/") + CERTIFICATE)
    assert kind == "application/x-x509-ca-cert"
    assert certificate == (folder / "tls" / "authority.crt").read_bytes()
    # The digest as Python's own ssl and hashlib see it, not the library that signed it.
    digest = hashes.Hash(hashes.SHA256())
    digest.update(ssl.PEM_cert_to_DER_cert(certificate.decode()))
    assert numbers.replace(" ", "") == digest.finalize().hex().upper()


def test_nothing_of_the_salon_is_on_the_plain_page(served):
    _, _, plain, _ = served
    for path in ("api/health", "api/devices", "api/sync/pull", "index.html"):
        with pytest.raises(urllib.error.HTTPError) as refused:
            got(plain + path)
        assert refused.value.code == 404
        refused.value.close()


def test_keys_are_for_the_server_alone(served):
    folder = served[0] / "tls"
    modes = {path.name: stat.S_IMODE(path.stat().st_mode) for path in (folder, *folder.iterdir())}
    assert modes == {
        "tls": 0o700,
        "authority.key": 0o600,
        "authority.crt": 0o600,
        "desk.key": 0o600,
        "desk.crt": 0o600,
    }


def test_pair_shows_the_link_and_its_picture(served, basinside):
    folder, address, _, _ = served
    shown = basinside("pair", BASINSIDE_DATA=str(folder)).stdout.decode()
    code = re.search(r"[0-9A-Z]{4}-[0-9A-Z]{4}", shown)[0]
    link = f"{address}#/pair/{code}"
    assert f"Or open {link}\n" in shown
    assert picture(link) in shown
    assert shown.count("\n") > 15


def test_others_may_reach_it_over_tls_only(basinside, tmp_path):
    result = basinside("serve", HOST="0.0.0.0", PORT="0", BASINSIDE_DATA=str(tmp_path))
    assert result.returncode == 1
    assert b"`basinside serve --tls`" in result.stderr


def openssl_verifies(made, leaf, *more):
    return subprocess.run(
        ["openssl", "verify", "-x509_strict", *more, "-CAfile", made.authority, leaf],
        capture_output=True,
        check=False,
        text=True,
    )


def test_openssl_finds_the_chain_good_for_its_addresses_and_no_others(tmp_path):
    made = certificates(tmp_path, [LOOPBACK, ipaddress.ip_address("192.168.7.20")], NOW)
    at = ("-attime", str(int(NOW.timestamp())), "-purpose", "sslserver")
    for name in (("-verify_ip", "192.168.7.20"), ("-verify_hostname", "localhost")):
        assert openssl_verifies(made, made.chain, *at, *name).returncode == 0
    other = openssl_verifies(made, made.chain, *at, "-verify_ip", "192.168.7.21")
    assert "IP address mismatch" in other.stderr


@pytest.mark.parametrize(
    "name", [x509.DNSName("example.org"), x509.IPAddress(ipaddress.ip_address("203.0.113.9"))]
)
def test_even_a_stolen_key_signs_for_nobody_on_the_internet(tmp_path, name):
    """RFC 5280 §4.2.1.10, with the reserved names of RFC 2606 and RFC 5737."""
    made = certificates(tmp_path, [LOOPBACK], NOW)
    authority = x509.load_pem_x509_certificate(made.authority.read_bytes())
    stolen = serialization.load_pem_private_key(
        (tmp_path / "tls" / "authority.key").read_bytes(), None
    )
    leaf = x509.load_pem_x509_certificate(made.chain.read_bytes())
    forged = x509.CertificateBuilder(
        authority.subject,
        leaf.subject,
        ec.generate_private_key(ec.SECP256R1()).public_key(),
        x509.random_serial_number(),
        NOW - timedelta(days=1),
        NOW + timedelta(days=90),
    )
    for extension in leaf.extensions:
        if not isinstance(extension.value, x509.SubjectAlternativeName):
            forged = forged.add_extension(extension.value, extension.critical)
    forged = forged.add_extension(x509.SubjectAlternativeName([name]), critical=False)
    file = tmp_path / "forged.crt"
    file.write_bytes(forged.sign(stolen, hashes.SHA256()).public_bytes(serialization.Encoding.PEM))
    told = openssl_verifies(made, file, "-attime", str(int(NOW.timestamp())))
    assert "permitted subtree violation" in told.stderr


def test_a_leaf_is_renewed_in_time_and_for_a_new_address_and_phones_need_not_trust_anew(tmp_path):
    made = certificates(tmp_path, [LOOPBACK], NOW)
    authority, leaf = made.authority.read_bytes(), made.chain.read_bytes()
    certificates(tmp_path, [LOOPBACK], NOW + timedelta(days=300))
    assert made.chain.read_bytes() == leaf
    certificates(tmp_path, [LOOPBACK], NOW + timedelta(days=380))
    renewed = made.chain.read_bytes()
    assert renewed != leaf
    certificates(tmp_path, [LOOPBACK, ipaddress.ip_address("10.0.0.7")], NOW)
    assert made.chain.read_bytes() != renewed
    assert made.authority.read_bytes() == authority


def test_a_machine_names_private_addresses_only():
    found = addresses_of_machine()
    assert LOOPBACK in found
    assert not any(address.is_global for address in found)
