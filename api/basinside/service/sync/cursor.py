"""A cursor: a place in the log that also says in which history it was read, and who gave it.

A number alone cannot show that an older backup was put back. The check can: it is eight digits of
the running hash over all operations before it. The signature tells a place that this desk gave from
a spoilt or an invented one. So a wrong digit troubles only the device that sent it.
"""

import hmac
from typing import NamedTuple

from ..records.instants import instant_text
from ..store.reader import Reader
from ..store.rows import Position
from ..store.salon import Salon
from .refused import Refused


class Cursor(NamedTuple):
    """The number of the history, the number in the log, the check, and the signature.

    Cursors that were given before there were signatures have none: `mac` is then "".
    """

    epoch: int
    seq: int
    check: str
    mac: str = ""

    def __str__(self) -> str:
        return f"{self.place}.{self.mac}" if self.mac else self.place

    @property
    def place(self) -> str:
        """What is signed: all but the signature."""
        return f"e{self.epoch}.{self.seq}.{self.check}"


def cursor_at(reading: Reader, position: Position) -> Cursor:
    """Return the cursor of a place in the present history."""
    bare = Cursor(reading.epoch(), position.seq, position.chain.hex()[:8])
    return bare._replace(mac=reading.key.cursor_mac(bare.place))


def read_cursor(text: str) -> Cursor:
    """Return the cursor that a text of the contract's pattern names."""
    epoch, seq, check, *mac = text.split(".")
    return Cursor(int(epoch[1:]), int(seq), check, *mac)


def checked(reading: Reader, cursor: Cursor, acked_through: int) -> int:
    """Return a cursor's number.

    Raises `Refused`: 409 `epoch_changed` if this desk gave it in another history, and 400
    `cursor_unknown` if it gave no such cursor.
    """
    is_ours = _is_ours(reading, cursor)
    if (is_ours or not cursor.mac) and _fits(reading, cursor):
        return cursor.seq
    raise epoch_changed(reading.epoch(), acked_through) if is_ours else _cursor_unknown(cursor)


def epoch_changed(epoch: int, acked_through: int) -> Refused:
    """Return the refusal of a device that knows another history."""
    return Refused(
        409,
        "epoch_changed",
        "Somebody put the desk's records back from a backup. Send what the desk may lack, then"
        " take a snapshot.",
        epoch=f"e{epoch}",
        acked_through=acked_through,
    )


def begin_anew_behind(salon: Salon, cursor: Cursor, now_ms: int) -> bool:
    """Begin a new epoch if a cursor of ours knows more than the log; return whether so.

    That happens if all files were copied back, so that nothing beside the database tells.
    """
    with salon.writing() as writing:
        epoch = writing.epoch()
        if not _is_ours(writing, cursor) or cursor.epoch < epoch or _fits(writing, cursor):
            return False
        why = f"a device had read another history, up to {cursor.seq}"
        writing.begin_epoch(cursor.epoch + 1, instant_text(now_ms), why)
    return True


def _is_ours(reading: Reader, cursor: Cursor) -> bool:
    return hmac.compare_digest(reading.key.cursor_mac(cursor.place), cursor.mac)


def _fits(reading: Reader, cursor: Cursor) -> bool:
    chain = reading.chain_at(cursor.seq)
    return cursor.epoch == reading.epoch() and chain is not None and chain.hex()[:8] == cursor.check


def _cursor_unknown(cursor: Cursor) -> Refused:
    return Refused(
        400,
        "cursor_unknown",
        f'This desk gave no cursor "{cursor}". Take a snapshot, and go on from its cursor.',
    )
