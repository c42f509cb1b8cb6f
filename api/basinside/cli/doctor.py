"""`basinside doctor`: prints one line for each thing that must be right on this machine."""

import platform
import shutil
import sqlite3
import sys
from collections.abc import Callable
from contextlib import closing
from importlib.metadata import PackageNotFoundError, version
from typing import TypeVar

import msgspec

from .. import __version__
from ..app import WEB_FOLDER
from ..contract.formulations import FormulationReply
from ..contract.predictions import PredictionReply
from ..engine.door import answer, engine_version
from ..service.http.document import examples
from ..service.http.open_desk import now_ms
from ..service.records.instants import instant_ms
from ..service.store.checks import looked_through, unsound_rows
from ..service.store.private import open_to_others
from ..service.store.rows import Logged
from ..service.store.salon import DATABASE_FILE
from ..service.store.shelf import SEED_FOLDER, SHELF_FILE, check_writable, read_shelf
from ..service.store.unready import Unready
from ..service.store.whole_copies import copies
from ..service.whole.backups import EVERY_MS, backup_state
from ..service.whole.refold import read_entry
from .serve import Settings

Replied = TypeVar("Replied", bound=msgspec.Struct)

_OLDEST_PYTHON = (3, 11)
_LEAST_FREE_MIB = 200
_BACKUP_OLD_AFTER_DAYS = 3
_NEEDED = ("litestar", "msgspec", "sqlite-utils", "uvicorn")


def examine(settings: Settings) -> int:
    """Print one line for each check; return 0 when all is well, else 1."""
    checks: dict[str, Callable[[], str]] = {
        "Python": _python,
        "Packages": _packages,
        "Data folder": lambda: _data_folder(settings),
        "Room": lambda: _room(settings),
        "Shelf": lambda: _shelf(settings),
        "Records": lambda: _records(settings),
        "Backups": lambda: _backups(settings),
        "Page": _page,
        "Engine": _engine,
    }
    wrong = 0
    for name, check in checks.items():
        try:
            print(f"ok     {name}: {check()}")
        except Unready as unready:
            wrong += 1
            print(f"wrong  {name}: {unready}")
    return 1 if wrong else 0


def _python() -> str:
    if sys.version_info < _OLDEST_PYTHON:
        raise Unready(f"{platform.python_version()} is too old. Install Python 3.11 or later.")
    return platform.python_version()


def _packages() -> str:
    try:
        versions = [f"{name} {version(name)}" for name in _NEEDED]
    except PackageNotFoundError as missing:
        raise Unready(f"{missing.name} is not installed. Run `make run` to install it.") from None
    return ", ".join([f"basinside {__version__}", *versions])


def _data_folder(settings: Settings) -> str:
    check_writable(settings.data_folder)
    if others := open_to_others(settings.data_folder):
        raise Unready(
            f"Others on this computer can read {others[0]} ({len(others)} in all). The server"
            " closes them when it is next started. If that does not help, run `chmod -R go= "
            f"{settings.data_folder}` as the account that owns them."
        )
    return f"{settings.data_folder} can be written, by this account alone"


def _room(settings: Settings) -> str:
    free_mib = shutil.disk_usage(settings.data_folder).free // 1024**2
    if free_mib < _LEAST_FREE_MIB:
        raise Unready(
            f"Only {free_mib} MiB are free on the disk of {settings.data_folder}. Make room:"
            f" with under {_LEAST_FREE_MIB} MiB a busy day may fill it."
        )
    return f"{free_mib:,} MiB are free"


def _shelf(settings: Settings) -> str:
    seeded = (settings.data_folder / SHELF_FILE).exists()
    folder = settings.data_folder if seeded else SEED_FOLDER
    count = len(read_shelf(folder).products)
    return f"{count} products" + ("" if seeded else " in the demo salon, not yet seeded")


def _records(settings: Settings) -> str:
    """Check the whole database, and read every operation in it."""
    database = settings.data_folder / DATABASE_FILE
    if not database.exists():
        return "none yet"
    try:
        seq = looked_through(database)
        with closing(sqlite3.connect(f"file:{database}?mode=ro", uri=True)) as connection:
            rows = connection.execute(
                "SELECT seq, op_id, entity_id, eff, clock_off, body FROM log WHERE body IS NOT NULL"
            )
            unreadable = [row[0] for row in rows if read_entry(Logged(*row)) is None]
            safe = connection.execute("SELECT COALESCE(MAX(safe_seq), 0) FROM salon").fetchone()[0]
            unsound = unsound_rows(connection)
    except (Unready, sqlite3.DatabaseError) as why:
        raise Unready(
            f"{database} is damaged: {why}. Stop the server and put the latest backup back with"
            " `basinside restore FILE`. Phones hand back the later entries."
        ) from why
    if unreadable:
        raise Unready(
            f"Unreadable entries: {len(unreadable)}, the first at number {unreadable[0]}."
            f" The last backup holds all up to {safe}. Stop the server and put it back with"
            " `basinside restore FILE`. Phones hand back the later entries."
        )
    if unsound:
        raise Unready(
            f"Damaged rows of records: {unsound}. The server sets a row aside when somebody asks"
            " for it, and makes the record again from the entries."
        )
    return f"{seq} entries, all sound; the last backup holds all up to {safe}"


def _backups(settings: Settings) -> str:
    state = backup_state(settings.data_folder)
    if state.failed:
        raise Unready(state.failed)
    if not state.proven_at:
        return "none by itself yet; a server makes the first in its first minutes"
    days = (now_ms() - instant_ms(state.proven_at)) // EVERY_MS
    if days >= _BACKUP_OLD_AFTER_DAYS:
        raise Unready(
            f"The last backup is {days} days old. Leave the server running: it makes one a day."
        )
    return f"{len(copies(settings.data_folder))} kept, the last proven at {state.proven_at}"


def _page() -> str:
    if not (WEB_FOLDER / "index.html").exists():
        raise Unready(f"The page is not built: {WEB_FOLDER} has no index.html. Run `make run`.")
    return "built"


def _engine() -> str:
    """Ask what must hold for any engine: clear changes nothing, a dye does."""
    predicted = _asked("predictions", examples.CLEAR_ON_BLONDE, PredictionReply)
    first, last = predicted.strip[0].if_rinsed.lab, predicted.strip[-1].if_rinsed.lab
    if max(abs(a - b) for a, b in zip(first, last, strict=True)) > 0.01:
        raise Unready(f"A clear product changed hair from {first} to {last}. Install it again.")
    wanted = next(iter(examples.FORMULATIONS.values()))
    if not _asked("formulations", wanted, FormulationReply).formulas:
        raise Unready("A wish that three tubes can meet got no formula. Install it again.")
    return f"version {engine_version()} answers correctly"


def _asked(question: str, request: object, shape: type[Replied]) -> Replied:
    reply = answer(question, msgspec.json.encode(request))
    if reply.status != 200:
        raise Unready(f"A known question was refused ({reply.status}). Install Basinside again.")
    return msgspec.json.decode(reply.body, type=shape)
