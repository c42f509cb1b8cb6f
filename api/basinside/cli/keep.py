"""`basinside backup | restore | erase`: copies, restores and erases records by hand."""

import os
import shutil
import sqlite3
import time
from contextlib import suppress
from pathlib import Path

from ..service.http.open_desk import now_ms
from ..service.store.checks import looked_through
from ..service.store.salon import DATABASE_FILE, Salon
from ..service.store.unready import Unready
from ..service.whole.backups import back_up, holds_erased
from ..service.whole.erasing import ask_to_erase, call_off, erase_client, put_off, replay
from ..service.whole.ledger import Ledger
from ..service.whole.tide import begin
from .devices import opened
from .serve import Settings, serving_alone


def backup(settings: Settings, target: Path) -> int:
    """Write a whole copy of the records and check it; return 0.

    The server may go on. Raises `Unready` if the copy cannot be written or is not sound.
    """
    if target.exists():
        raise Unready(f"{target} exists already. Name a new file.")
    salon = opened(settings)
    partial = target.with_name(target.name + ".partial")
    try:
        salon.copy_to(partial)
        seq = looked_through(partial)
        partial.replace(target)
        with salon.writing() as writing:
            writing.backed_up(seq)
    except OSError as error:
        raise Unready(f"{target} cannot be written: {error.strerror}.") from error
    finally:
        partial.unlink(missing_ok=True)
        salon.close()
    print(f"{target} holds every record up to number {seq}.", flush=True)
    return 0


def restore(settings: Settings, source: Path) -> int:
    """Put a copy back in place of the records, and keep the old ones beside it; return 0.

    Erased people stay erased, and every device hears that this is another history. Raises `Unready`
    if the copy is not sound or the server runs.
    """
    seq = looked_through(source)
    database = settings.data_folder / DATABASE_FILE
    settings.data_folder.mkdir(parents=True, exist_ok=True)
    with serving_alone(settings.data_folder):
        partial = database.with_suffix(".partial")
        shutil.copyfile(source, partial)
        with partial.open("rb+") as file:
            os.fsync(file.fileno())
        if database.exists():
            aside = database.with_name(f"{DATABASE_FILE}.before-{time.strftime('%Y%m%d-%H%M%S')}")
            # Moves the rest of the write-ahead log into the file, if the file can still be read.
            with suppress(sqlite3.DatabaseError, Unready):
                opened(settings).close()
            for suffix in ("", "-wal", "-shm"):
                old = database.with_name(DATABASE_FILE + suffix)
                if old.exists():
                    old.replace(aside.with_name(aside.name + suffix))
            print(
                f"The old records are in {aside}. Delete them once you need them no more.",
                flush=True,
            )
        for suffix in ("-wal", "-shm"):
            database.with_name(DATABASE_FILE + suffix).unlink(missing_ok=True)
        partial.replace(database)
        salon = Salon(database)
        try:
            with salon.writing() as writing:
                before = writing.epoch()
            why = begin(salon, now_ms())
            if why is None:
                with salon.writing() as writing:
                    epoch = writing.epoch()
                    if epoch == before:
                        writing.begin_epoch(epoch + 1, _now_text(), "put back from a backup")
            erased = replay(salon, Ledger(settings.data_folder))
            waiting = put_off(salon, now_ms())
        finally:
            salon.close()
    print(f"The records are as they were at number {seq}; {erased} stay erased.", flush=True)
    for client_id, at in waiting.items():
        print(f"{client_id} will be erased at {at}. `basinside erase --keep` cancels it.")
    return 0


def erase(settings: Settings, client_id: str, *, now: bool = False, keep: bool = False) -> int:
    """Erase one client and everything that belongs to them, after the grace time or now; return 0.

    With `keep` a requested erasure is cancelled. Raises `Unready` if there is no such client, or
    nothing to cancel.
    """
    salon = opened(settings)
    try:
        if keep:
            if not call_off(salon, client_id, now_ms()):
                raise Unready(f"{client_id} has no erasure to cancel. Nothing was changed.")
            said = "Cancelled: the client stays."
        else:
            with salon.reading() as reading:
                kept = reading.kept([client_id]).get(client_id)
            if kept is None or kept.kind != "client":
                raise Unready(f"No client has the id {client_id}. Copy it from the client's page.")
            said = _erased_now(salon, settings, client_id) if now else _asked(salon, client_id)
    finally:
        salon.close()
    print(said, flush=True)
    return 0


def _asked(salon: Salon, client_id: str) -> str:
    at = ask_to_erase(salon, client_id, now_ms())
    return (
        f"The client is erased at {at}, or when the server is next started after it."
        f" Until then `basinside erase --keep {client_id}` cancels it; --now erases at once."
    )


def _erased_now(salon: Salon, settings: Settings, client_id: str) -> str:
    count = erase_client(salon, Ledger(settings.data_folder), client_id, now_ms())
    failed = back_up(salon, now_ms()).failed if holds_erased(salon) else ""
    return (
        f"{count} records are erased here. Phones erase theirs when they are next in reach;"
        " backups made by hand still hold them until they are deleted."
        + (f" So do the desk's own: {failed}" if failed else "")
    )


def _now_text() -> str:
    return time.strftime("%Y-%m-%dT%H:%M:%SZ", time.gmtime())
