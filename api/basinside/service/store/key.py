"""The salon's own secret, in a file beside the database: it signs what must come back unchanged.

It is outside the database, so that an older copy of the records put back still knows its own
signatures.
"""

import hashlib
import hmac
import secrets
from pathlib import Path

KEY_FILE = "erasures.key"
_CURSOR_MAC_DIGITS = 16


class SalonKey:
    """The secret of one data folder; it is made when it is first needed."""

    def __init__(self, folder: Path) -> None:
        self._file = folder / KEY_FILE
        self._bytes: bytes | None = None

    def signed(self, text: str) -> str:
        """Return the signature of a text, HMAC-SHA-256 (RFC 2104), 64 hex digits."""
        return hmac.new(self._read(), text.encode(), hashlib.sha256).hexdigest()

    def cursor_mac(self, place: str) -> str:
        """Return the signature of a place in the log, 16 hex digits (64 bits)."""
        # No line of the ledger begins so, hence neither signature can pass for the other.
        return self.signed(f"cursor {place}")[:_CURSOR_MAC_DIGITS]

    def make(self) -> None:
        """Make the secret if there is none: before anything asks for it at once."""
        if not self._file.exists():
            partial = self._file.with_suffix(".partial")
            partial.touch(mode=0o600)
            partial.write_bytes(secrets.token_bytes(32))
            partial.replace(self._file)

    def _read(self) -> bytes:
        if self._bytes is None:
            self.make()
            self._bytes = self._file.read_bytes()
        return self._bytes
