"""Pairs a device: it trades a code made at the server's machine for a token.

Only the SHA-256 of codes and tokens is stored. A token has 256 random bits, so a fast hash is
enough. A code has 40, lives ten minutes and works once, and wrong ones are counted.
"""

import hashlib
import ipaddress
import secrets

from ...contract.devices import Paired, Pairing
from ..records.instants import instant_text
from ..store.rows import Device, Rights
from ..store.salon import Salon
from .refused import Refused

CODE_LIVES_MS = 10 * 60_000
EVERY_RIGHT = Rights()
MOST_DAYS = 3650
_DAY_MS = 24 * 3600_000
# No vowels, so that no code spells a word, and no two letters that look alike.
_LETTERS = "23456789BCDFGHJKMNPQRSTVWXZ"
_CODE_LENGTH = 8
# Wrong codes from one address before it is refused for a while, and from all addresses together:
# somebody who speaks from many still guesses far less than one code in a million.
_MOST_WRONG = 10
_MOST_WRONG_OF_ALL = 1000
_PAUSE_MS = 60_000
# The part of an IPv6 address that names a network (RFC 4291 §2.5.4). One caller may use every
# address in a network.
_IPV6_NETWORK_BITS = 64


def new_code(salon: Salon, now_ms: int, rights: Rights = EVERY_RIGHT) -> str:
    """Return a new pairing code, such as "K7QF-29XM", good once and for ten minutes."""
    letters = "".join(secrets.choice(_LETTERS) for _ in range(_CODE_LENGTH))
    with salon.writing() as writing:
        until = instant_text(now_ms + CODE_LIVES_MS)
        writing.offer_code(_code_sha256(letters), instant_text(now_ms), until, rights)
    return f"{letters[:4]}-{letters[4:]}"


class Gate:
    """Counts wrong codes, by the address they came from; one in each process."""

    def __init__(self) -> None:
        # Of each address, how many were wrong in a row and when the last one was.
        self._wrong: dict[str, tuple[int, int]] = {}

    def pair(self, salon: Salon, asked: Pairing, now_ms: int, address: str = "") -> Paired:
        """Return a token to a device with a right code; raise `Refused` for a wrong one.

        `address` is the caller's. Ten wrong codes in a row close the gate to it for a minute.
        """
        caller = _network_of(address)
        lately = {
            known: (count, at_ms)
            for known, (count, at_ms) in self._wrong.items()
            if 0 <= now_ms - at_ms < _PAUSE_MS  # a clock set back closes nothing for long
        }
        self._wrong = lately
        wrong, _ = lately.get(caller, (0, 0))
        all_wrong = sum(count for count, _ in lately.values())
        if wrong >= _MOST_WRONG or all_wrong >= _MOST_WRONG_OF_ALL:
            said = "Too many codes were wrong. Wait a minute, then make a new one at the desk."
            raise Refused(429, "too_many_codes", said, retry_after_s=_PAUSE_MS // 1000)
        token = secrets.token_urlsafe(32)
        now = instant_text(now_ms)
        with salon.writing() as writing:
            known = writing.device(asked.device_id)
            rights = writing.use_code(_code_sha256(asked.code), asked.device_id, now)
            if rights:
                lately.pop(caller, None)
                until = instant_text(now_ms + rights.days * _DAY_MS) if rights.days else None
                writing.pair(
                    asked.device_id,
                    asked.name,
                    token_sha256(token),
                    now,
                    reads_only=rights.reads_only,
                    until=until,
                )
                return Paired(
                    v=1,
                    token=token,
                    salon_id=writing.salon_id(),
                    epoch=f"e{writing.epoch()}",
                    acked_through=known.acked_through if known else 0,
                    last_queued=known.queued if known else 0,
                    last_seen_at=known.last_seen_at if known else None,
                    server_time=now,
                    reads_only=rights.reads_only,
                    until=until,
                )
        lately[caller] = (wrong + 1, now_ms)
        raise Refused(
            403,
            "code_unknown",
            "That code is wrong, used or too old. Make a new one at the desk: `basinside pair`.",
        )


def _network_of(address: str) -> str:
    """Return an address as one caller's: of IPv6 its network, and anything else as it is."""
    try:
        known = ipaddress.ip_address(address)
    except ValueError:
        return address
    if isinstance(known, ipaddress.IPv6Address):
        if known.ipv4_mapped:
            return str(known.ipv4_mapped)
        return str(ipaddress.ip_network((known, _IPV6_NETWORK_BITS), strict=False))
    return address


def device_of(salon: Salon, token: str | None, now_ms: int, *, writes: bool = False) -> Device:
    """Return the device that holds a token; raise `Refused` (401, 403) if none does.

    So does one that may only read, if the call writes.
    """
    if token is None:
        said = "Only paired devices get records. Pair this one with a code from the desk."
        raise Refused(401, "pairing_expired", said)
    with salon.reading() as reading:
        device = reading.device_of_token(token_sha256(token))
    if device is None or (device.until and device.until <= instant_text(now_ms)):
        said = "This pairing has expired. Pair again with a code from the desk; nothing is lost."
        raise Refused(401, "pairing_expired", said)
    if device.revoked_at:
        said = "The salon removed this device. Ask at the desk to pair it again."
        raise Refused(403, "device_revoked", said)
    if writes and device.reads_only:
        said = "This token only reads. Pair with a code from `basinside pair` to write as well."
        raise Refused(403, "reads_only", said)
    return device


def token_sha256(token: str) -> bytes:
    """Return the stored form of a token."""
    return hashlib.sha256(token.encode()).digest()


def _code_sha256(code: str) -> bytes:
    letters = "".join(letter for letter in code.upper() if letter not in " -")
    return hashlib.sha256(letters.encode()).digest()
