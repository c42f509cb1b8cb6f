"""Repairs rows that are not as they were written: sets them aside, and makes them again.

Each record's row has a checksum. A row that does not match is left out of every answer. The record
is folded again from its operations and comes to every device under a new number. The old row is
kept as a matter under *Needs a look*.
"""

import hashlib
from collections.abc import Iterable, Sequence

from ..records.ids import matter_id
from ..records.instants import instant_text
from ..records.wire import kept_of
from ..store.rows import Aside, Kept, Logged
from ..store.salon import Salon
from ..store.writer import Writer
from .refold import folded_anew
from .renumber import logged_again


def mend(salon: Salon, now_ms: int) -> int:
    """Make the records with unsound rows again; return how many."""
    with salon.writing() as writing:
        found = sorted(salon.unsound)
        mend_in(writing, found, now_ms)
    salon.unsound -= set(found)
    return len(found)


def kept_sound(writing: Writer, entity_ids: Iterable[str], now_ms: int) -> dict[str, Kept]:
    """Return which of the records exist, each made again if its row is unsound."""
    ids = set(entity_ids)
    kept = writing.kept(ids)
    if writing.unsound:
        mend_in(writing, sorted(writing.unsound), now_ms)
        writing.unsound.clear()
        kept = writing.kept(ids)
    return kept


def mend_in(writing: Writer, entity_ids: Sequence[str], now_ms: int) -> None:
    """Set the rows of records aside and make the records again, inside a transaction."""
    now = instant_text(now_ms)
    for entity_id, seq, row in writing.rows_as_they_are(entity_ids):
        writing.set_aside([_aside(now, "record", entity_id, seq, row)])
        writing.drop_rows([entity_id])
        state, unreadable = folded_anew(writing.log_of(entity_id))
        writing.set_aside(_operation_aside(now, logged) for logged in unreadable)
        if state:
            writing.keep([kept_of(state, logged_again(writing, state, row, now))])


def _operation_aside(now: str, logged: Logged) -> Aside:
    return _aside(now, "operation", logged.entity_id, logged.seq, logged.body or b"")


def _aside(now: str, what: str, entity_id: str, seq: int, row: bytes) -> Aside:
    about = [what, entity_id, str(seq), hashlib.sha256(row).hexdigest()]
    return Aside(matter_id("unreadable", about), now, what, entity_id, seq, row)  # type: ignore[arg-type]
