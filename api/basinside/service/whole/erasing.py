"""Erasing a person: every record that hangs on them, and every trace of those in the files.

An operation keeps its ids and its number, so that a repeat is still known, and loses its body.
Deleted rows are overwritten (`secure_delete`), the search is built anew, since its index keeps
words of what was deleted, and the write-ahead log is emptied (https://sqlite.org/pragma.html).
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

# How long an erasure that was asked for can still be called off.
GRACE_MS = 72 * 3_600_000


def ask_to_erase(salon: Salon, client_id: str, now_ms: int) -> str:
    """Keep that a client is to be erased once the grace time has run; return when, as an instant.

    Asked again, the first asking stands.
    """
    with salon.writing() as writing:
        writing.ask_erasure(client_id, instant_text(now_ms), instant_text(now_ms + GRACE_MS))
        return writing.erasures_asked()[client_id]


def call_off(salon: Salon, client_id: str, now_ms: int) -> bool:
    """Keep a client who was to be erased; return whether they were.

    Whoever read on meanwhile was not given them, so that each record gets a new number.
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
    """Begin every grace time anew; return the clients that are to be erased, and when.

    For an older copy put back: it may hold an asking that was called off since.
    """
    with salon.writing() as writing:
        writing.put_off_erasures(instant_text(now_ms + GRACE_MS))
        return writing.erasures_asked()


def erase_due(salon: Salon, ledger: Ledger, now_ms: int) -> int:
    """Erase whoever's grace time has run; return how many clients that were."""
    with salon.reading() as reading:
        asked = reading.erasures_asked()
    due = [client_id for client_id, at in asked.items() if at <= instant_text(now_ms)]
    for client_id in due:
        erase_client(salon, ledger, client_id, now_ms)
    return len(due)


def erase_client(salon: Salon, ledger: Ledger, client_id: str, now_ms: int) -> int:
    """Erase a client with all that hangs on them; return how many records that were."""
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
    """Return the client's record and every one that hangs on it, or on a service of theirs."""
    ids = {client_id, *reading.ids_about([client_id])}
    return ids | set(reading.ids_about(ids))


def hidden(reading: Reader) -> set[str]:
    """Return the records no screen shows any more: of clients who are to be erased.

    While a product is on somebody's head, their clock stays in sight until it is rinsed.
    """
    found: set[str] = set()
    for client_id in reading.erasures_asked():
        ids = closure_of(reading, client_id)
        if not _is_on_a_head(reading, ids):
            found |= ids
    return found


def hidden_json(reading: Reader) -> str:
    """Return the same as a list of JSON, as a condition over a column takes it."""
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
    """Take the records of these hashed ids, and the bodies of their operations, out."""
    writing.wipe(set(hashes), id_sha256)


def clean_files(salon: Salon) -> None:
    """Leave no trace of what was deleted in the database's files."""
    salon.run_alone("VACUUM")
    salon.run_alone("PRAGMA wal_checkpoint(TRUNCATE)")
