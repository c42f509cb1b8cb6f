"""A cursor: a place in the log that also says in which history it was read.

A number alone cannot show that an older backup was put back. The check can: it is eight digits of
the running hash over all operations before it.
"""

from typing import NamedTuple

from ..records.instants import instant_text
from ..store.reader import Reader
from ..store.rows import Position
from ..store.salon import Salon
from .refused import Refused


class Cursor(NamedTuple):
    """The number of the history, the number in the log, and the check, eight hex digits."""

    epoch: int
    seq: int
    check: str

    def __str__(self) -> str:
        return f"e{self.epoch}.{self.seq}.{self.check}"


def cursor_at(reading: Reader, position: Position) -> Cursor:
    """Return the cursor of a place in the present history."""
    return Cursor(reading.epoch(), position.seq, position.chain.hex()[:8])


def read_cursor(text: str) -> Cursor:
    """Return the cursor that a text of the contract's pattern names."""
    epoch, seq, check = text.split(".")
    return Cursor(int(epoch[1:]), int(seq), check)


def checked(reading: Reader, cursor: Cursor, acked_through: int) -> int:
    """Return a cursor's number; raise `Refused` if it was read in another history."""
    chain = reading.chain_at(cursor.seq)
    if cursor.epoch != reading.epoch() or chain is None or chain.hex()[:8] != cursor.check:
        raise epoch_changed(reading.epoch(), acked_through)
    return cursor.seq


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
    """Begin a new epoch if a cursor of this one knows more than the log; return whether so.

    That happens if all files were copied back, so that nothing beside the database tells.
    """
    with salon.writing() as writing:
        if cursor.epoch != writing.epoch():
            return False
        chain = writing.chain_at(cursor.seq)
        if chain is not None and chain.hex()[:8] == cursor.check:
            return False
        why = f"a device had read another history, up to {cursor.seq}"
        writing.begin_epoch(cursor.epoch + 1, instant_text(now_ms), why)
    return True
