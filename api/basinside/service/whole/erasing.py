"""Erases a person: every record that belongs to them, and every trace in the files.

An operation keeps its ids and its number, so that a repeat is still known, and loses its body.
Deleted rows are overwritten (`secure_delete`). The search is built again, since its index keeps the
words of deleted rows. The write-ahead log is emptied (https://sqlite.org/pragma.html).
"""

from collections.abc import Iterable

import msgspec

from ..records.instants import instant_text
from ..records.show import show
from ..records.wire import kept_of, state_kept
from ..store.reader import Reader
from ..store.salon import Salon
from ..store.writer import Writer
from .erased import id_sha256
from .ledger import Ledger
from .renumber import logged_again

# How long an erasure can still be cancelled.
GRACE_MS = 72 * 3_600_000


def ask_to_erase(salon: Salon, client_id: str, now_ms: int) -> str:
    """Note that a client is to be erased after the grace time; return when, as an instant.

    A second request leaves the first as it is.
    """
    with salon.writing() as writing:
        writing.ask_erasure(client_id, instant_text(now_ms), instant_text(now_ms + GRACE_MS))
        return writing.erasures_asked()[client_id]


def call_off(salon: Salon, client_id: str, now_ms: int) -> bool:
    """Cancel a client's erasure; return whether there was one.

    Readers did not get the client's records meanwhile, so each record gets a new number.
    """
    with salon.writing() as writing:
        if not writing.drop_erasure(client_id):
            return False
        for kept in writing.kept(closure_of(writing, client_id)).values():
            state = state_kept(kept)
            seq = logged_again(writing, state, kept.change, instant_text(now_ms))
            writing.keep([kept_of(state, seq)])
        return True


def put_off(salon: Salon, now_ms: int) -> dict[str, str]:
    """Begin every grace time again; return the clients that are to be erased, and when.

    For an older copy put back: it may hold a request that was cancelled since.
    """
    with salon.writing() as writing:
        writing.put_off_erasures(instant_text(now_ms + GRACE_MS))
        return writing.erasures_asked()


def erase_due(salon: Salon, ledger: Ledger, now_ms: int) -> int:
    """Erase every client whose grace time is over; return how many."""
    with salon.reading() as reading:
        asked = reading.erasures_asked()
    due = [client_id for client_id, at in asked.items() if at <= instant_text(now_ms)]
    for client_id in due:
        erase_client(salon, ledger, client_id, now_ms)
    return len(due)


def erase_client(salon: Salon, ledger: Ledger, client_id: str, now_ms: int) -> int:
    """Erase a client and everything that belongs to them; return how many records that were."""
    with salon.writing() as writing:
        ids = closure_of(writing, client_id)
        ledger.erase(writing, (id_sha256(each) for each in ids), now_ms)
        wipe(writing, {id_sha256(each) for each in ids})
        writing.drop_erasure(client_id)
    clean_files(salon)
    return len(ids)


def replay(salon: Salon, ledger: Ledger) -> int:
    """Erase again what the ledger's file says and this database has forgotten; return how many."""
    entries = ledger.of_file()
    with salon.writing() as writing:
        known = writing.erased(entry.id_sha256 for entry in entries)
        forgotten = [entry for entry in entries if entry.id_sha256 not in known]
        if not forgotten:
            return 0
        writing.note_erasures(forgotten)
        wipe(writing, {entry.id_sha256 for entry in forgotten})
    clean_files(salon)
    return len(forgotten)


def closure_of(reading: Reader, client_id: str) -> set[str]:
    """Return the client's record and every one that belongs to it, or to a service of theirs."""
    ids = {client_id, *reading.ids_about([client_id])}
    return ids | set(reading.ids_about(ids))


def hidden(reading: Reader) -> set[str]:
    """Return the records that no screen shows any more: of clients to be erased.

    While a product is on somebody's head, their clock stays visible until it is rinsed.
    """
    found: set[str] = set()
    for client_id in reading.erasures_asked():
        ids = closure_of(reading, client_id)
        if not _is_on_a_head(reading, ids):
            found |= ids
    return found


def hidden_json(reading: Reader) -> str:
    """Return the same as a JSON list, for a condition over a column."""
    return msgspec.json.encode(sorted(hidden(reading))).decode()


def _is_on_a_head(reading: Reader, ids: set[str]) -> bool:
    shown = {id_: show(state_kept(kept)).values for id_, kept in reading.kept(ids).items()}
    return any(
        values.get("first_section_at")
        and not values.get("rinsed_at")
        and shown.get(str(values.get("service")), {}).get("state") not in ("ended", "cancelled")
        for values in shown.values()
    )


def wipe(writing: Writer, hashes: Iterable[str]) -> None:
    """Delete the records of these hashed ids, and the bodies of their operations."""
    writing.wipe(set(hashes), id_sha256)


def clean_files(salon: Salon) -> None:
    """Leave no trace of deleted rows in the database's files."""
    salon.run_alone("VACUUM")
    salon.run_alone("PRAGMA wal_checkpoint(TRUNCATE)")
