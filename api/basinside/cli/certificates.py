"""The salon's own certificate authority: phones reach the desk over TLS without a name.

It may sign only for private networks (name constraints, RFC 5280 §4.2.1.10). So a phone that trusts
it trusts nobody new on the internet, even if its key is stolen. Leaves live 397 days, the most that
browsers accept (common practice, from memory). They are renewed a month before.
"""

import ipaddress
import os
import socket
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import NamedTuple

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from ..service.store.unready import Unready

Address = ipaddress.IPv4Address | ipaddress.IPv6Address
AUTHORITY_LIVES = timedelta(days=3650)
LEAF_LIVES = timedelta(days=397)
RENEWED_BEFORE = timedelta(days=30)
# RFC 1918, RFC 4193, loopback and link-local; a leaf for any other address is worth nothing.
_PRIVATE = (
    *("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "127.0.0.0/8", "169.254.0.0/16"),
    *("fc00::/7", "fe80::/10", "::1/128"),
)
# A phone whose clock is a little behind must not find it "not yet valid".
_BACK = timedelta(days=1)


class Certificates(NamedTuple):
    """Where the files are. The authority's certificate is for everyone, the keys for nobody."""

    authority: Path
    chain: Path
    key: Path

    def fingerprint(self) -> str:
        """Return the authority's SHA-256 as phones show it, "AB CD …"."""
        found = _read(self.authority).fingerprint(hashes.SHA256()).hex().upper()
        return " ".join(found[at : at + 2] for at in range(0, len(found), 2))


def certificates(data_folder: Path, addresses: list[Address], now: datetime) -> Certificates:
    """Return good certificates for these addresses; make or renew them if need be.

    Raises `Unready` if the files cannot be read or written.
    """
    folder = data_folder / "tls"
    made = Certificates(folder / "authority.crt", folder / "desk.crt", folder / "desk.key")
    authority_key = folder / "authority.key"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        folder.chmod(0o700)
        if not _good(made.authority, authority_key, now, LEAF_LIVES):
            _make_authority(made.authority, authority_key, now)
            made.chain.unlink(missing_ok=True)
        if not _good(made.chain, made.key, now, RENEWED_BEFORE) or _named(made.chain) != set(
            addresses
        ):
            _make_leaf(made, authority_key, addresses, now)
    except (OSError, ValueError) as error:
        raise Unready(
            f"The certificates in {folder} cannot be used: {error}. Give the folder write access,"
            " or delete it. Every phone must then trust the new ones."
        ) from error
    return made


def addresses_of_machine() -> list[Address]:
    """Return this machine's private addresses, first the one by which others reach it."""
    found: list[Address] = []
    with suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
        asking.connect(("10.255.255.255", 9))  # sends nothing: it only asks for the route
        found.append(ipaddress.ip_address(asking.getsockname()[0]))
    with suppress(OSError):
        for *_, place in socket.getaddrinfo(socket.gethostname(), None):
            with suppress(ValueError):
                found.append(ipaddress.ip_address(str(place[0])))
    found += [ipaddress.ip_address("127.0.0.1"), ipaddress.ip_address("::1")]
    return [each for each in dict.fromkeys(found) if _is_private(each)]


def _is_private(address: Address) -> bool:
    networks = (ipaddress.ip_network(text) for text in _PRIVATE)
    return any(address in network for network in networks if network.version == address.version)


def _make_authority(path: Path, key_path: Path, now: datetime) -> None:
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "The salon’s desk")])
    allowed: list[x509.GeneralName] = [
        x509.IPAddress(ipaddress.ip_network(text)) for text in _PRIVATE
    ]
    allowed += [x509.DNSName("local"), x509.DNSName("localhost")]
    signed = (
        _begun(name, name, key.public_key(), now, AUTHORITY_LIVES)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(signs_certificates=True), critical=True)
        .add_extension(x509.NameConstraints(allowed, None), critical=True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .sign(key, hashes.SHA256())
    )
    _write_key(key_path, key)
    _write(path, signed.public_bytes(serialization.Encoding.PEM), 0o644)


def _make_leaf(
    made: Certificates, authority_key: Path, addresses: list[Address], now: datetime
) -> None:
    authority = _read(made.authority)
    signer = serialization.load_pem_private_key(authority_key.read_bytes(), None)
    assert isinstance(signer, ec.EllipticCurvePrivateKey)  # noqa: S101 - we wrote it
    key = ec.generate_private_key(ec.SECP256R1())
    host = socket.gethostname().partition(".")[0]
    names: list[x509.GeneralName] = [x509.DNSName("localhost")]
    if host.isascii() and host.replace("-", "").isalnum() and host != "localhost":
        names.append(x509.DNSName(f"{host.lower()}.local"))
    names += [x509.IPAddress(address) for address in addresses]
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "The salon’s desk, this machine")])
    signed = (
        _begun(name, authority.subject, key.public_key(), now, LEAF_LIVES)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(signs_certificates=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectAlternativeName(names), critical=False)
        .add_extension(
            x509.AuthorityKeyIdentifier.from_issuer_public_key(signer.public_key()), critical=False
        )
        .sign(signer, hashes.SHA256())
    )
    _write_key(made.key, key)
    _write(made.chain, signed.public_bytes(serialization.Encoding.PEM), 0o644)


def _begun(
    subject: x509.Name,
    issuer: x509.Name,
    key: ec.EllipticCurvePublicKey,
    now: datetime,
    lives: timedelta,
) -> x509.CertificateBuilder:
    return x509.CertificateBuilder(
        issuer_name=issuer,
        subject_name=subject,
        public_key=key,
        serial_number=x509.random_serial_number(),
        not_valid_before=now - _BACK,
        not_valid_after=now - _BACK + lives,
    )


def _usage(*, signs_certificates: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signs_certificates,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        key_cert_sign=signs_certificates,
        crl_sign=signs_certificates,
        encipher_only=False,
        decipher_only=False,
    )


def _good(path: Path, key: Path, now: datetime, left: timedelta) -> bool:
    """Return whether both files exist, belong together, and stay good for long enough."""
    if not (path.exists() and key.exists()):
        return False
    kept = _read(path)
    fits = serialization.load_pem_private_key(key.read_bytes(), None).public_key()
    return fits == kept.public_key() and kept.not_valid_after_utc - now > left


def _named(path: Path) -> set[Address]:
    names = _read(path).extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    return set(names.get_values_for_type(x509.IPAddress))  # type: ignore[arg-type]


def _read(path: Path) -> x509.Certificate:
    return x509.load_pem_x509_certificate(path.read_bytes())


def _write_key(path: Path, key: ec.EllipticCurvePrivateKey) -> None:
    encoding, form = serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8
    _write(path, key.private_bytes(encoding, form, serialization.NoEncryption()), 0o600)


def _write(path: Path, content: bytes, mode: int) -> None:
    """Write a file whole, and never for a moment with another mode."""
    partial = path.with_suffix(".partial")
    partial.unlink(missing_ok=True)
    with os.fdopen(os.open(partial, os.O_WRONLY | os.O_CREAT | os.O_EXCL, mode), "wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())
    partial.replace(path)


def now_utc() -> datetime:
    """Return the present, in UTC."""
    return datetime.now(UTC)
