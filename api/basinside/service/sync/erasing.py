"""Erasing a person: every record that hangs on them, and every trace of those in the files.

An operation keeps its ids and its number, so that a repeat is still known, and loses its body.
Deleted rows are overwritten (`secure_delete`), the search is built anew, since its index keeps
words of what was deleted, and the write-ahead log is emptied (https://sqlite.org/pragma.html).
"""

from collections.abc import Iterable

from ..store.salon import Salon
from ..store.writing import Writing
from .erased import id_sha256
from .ledger import Ledger


def erase_client(salon: Salon, ledger: Ledger, client_id: str, now_ms: int) -> int:
    """Erase a client with all that hangs on them; return how many records that were."""
    with salon.writing() as writing:
        ids = closure_of(writing, client_id)
        ledger.erase(writing, (id_sha256(each) for each in ids), now_ms)
        wipe(writing, {id_sha256(each) for each in ids})
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


def closure_of(writing: Writing, client_id: str) -> set[str]:
    """Return the client's record and every one that hangs on it, or on a service of theirs."""
    ids = {client_id, *writing.ids_about([client_id])}
    return ids | set(writing.ids_about(ids))


def wipe(writing: Writing, hashes: Iterable[str]) -> None:
    """Take the records of these hashed ids, and the bodies of their operations, out."""
    writing.wipe(set(hashes), id_sha256)


def clean_files(salon: Salon) -> None:
    """Leave no trace of what was deleted in the database's files."""
    salon.run_alone("VACUUM")
    salon.run_alone("PRAGMA wal_checkpoint(TRUNCATE)")
