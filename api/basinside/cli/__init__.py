"""The command line: serves, asks the engine, keeps the records, checks this machine."""

import argparse
import errno
import os
import sqlite3
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

import msgspec

from .. import __version__
from ..contract.problems import Problem
from ..engine.door import answer
from ..service.http.document.written import FOLDER, openapi_files
from ..service.store.private import FOR_THE_OWNER_ALONE
from ..service.store.rows import Rights
from ..service.store.unready import Unready
from .aside import write_aside
from .bring_in import bring_in
from .demo import demo
from .devices import list_devices, revoke
from .doctor import examine
from .keep import backup, erase, restore
from .pair import pair
from .safety_page import PAGE, safety_page
from .serve import Settings, serve
from .tables import TABLES

# The name of each asking command, and the question it puts to the engine's door.
_ASKING = {
    "predict": "predictions",
    "formulate": "formulations",
    "judge": "judgements",
    "weigh": "mixes",
    "schedule": "schedules",
    "mend": "mends",
    "lighten": "lightenings",
    "labels": "labels",
}
# The function behind each command on this machine's own records.
_KEEPING: dict[str, Callable[[Settings, argparse.Namespace], int]] = {
    "serve": lambda settings, asked: serve(settings, tls=asked.tls),
    "doctor": lambda settings, _: examine(settings),
    "devices": lambda settings, _: list_devices(settings),
    "revoke": lambda settings, asked: revoke(settings, asked.device),
    "demo": lambda settings, _: demo(settings),
    "pair": lambda settings, asked: pair(settings, Rights(asked.reads_only, asked.days)),
    "backup": lambda settings, asked: backup(settings, asked.file),
    "restore": lambda settings, asked: restore(settings, asked.file),
    "bring-in": lambda settings, asked: bring_in(settings, asked.file),
    "aside": lambda settings, asked: write_aside(settings, asked.file),
    "erase": lambda settings, asked: erase(settings, asked.client, now=asked.now, keep=asked.keep),
}


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; return 0, or 1 after a sentence on what to do. Usage errors exit 2."""
    asked = _parser().parse_args(arguments)
    try:
        if asked.command in _ASKING:
            return _ask(_ASKING[asked.command], asked.file, asked.table)
        if asked.command == "openapi":
            return _written(FOLDER, openapi_files(), asked)
        if asked.command == "safety":
            return _written(PAGE.parent, {PAGE.name: safety_page()}, asked)
        # Backups and databases hold names: nobody else on this computer may read a new file.
        before = os.umask(FOR_THE_OWNER_ALONE)
        try:
            return _KEEPING[asked.command](Settings.from_environment(), asked)
        finally:
            os.umask(before)
    except Unready as unready:
        return _refuse(str(unready))
    except sqlite3.DatabaseError as error:
        return _refuse(_not_now(error))
    except OSError as error:
        if error.errno not in (errno.ENOSPC, errno.EDQUOT):
            raise
        return _refuse(_DISK_FULL)
    except BrokenPipeError:  # the reader, such as `head`, has seen enough
        sys.stderr.close()
        return 0


_DISK_FULL = "The disk is full, so nothing was written. Make room on it, and run this again."


def _not_now(error: sqlite3.DatabaseError) -> str:
    """Return what to do about a failure of the database; raise it if it is a fault of ours."""
    code = getattr(error, "sqlite_errorcode", sqlite3.SQLITE_ERROR) & 0xFF
    if code == sqlite3.SQLITE_FULL:
        return _DISK_FULL
    if code in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        return "Another process is writing the records. Wait a moment, and run this again."
    if code in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB):
        return "The records are damaged. `basinside doctor` says how to repair them."
    if code in (sqlite3.SQLITE_IOERR, sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN):
        return f"The records cannot be written: {error}. Look at the disk, and run this again."
    raise error


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="basinside",
        description="Says what to mix for this hair, and shows its colour minute by minute.",
    )
    parser.add_argument("--version", action="version", version=__version__)
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    serving = commands.add_parser(
        "serve", help="start the server; HOST, PORT and BASINSIDE_DATA set address and data folder"
    )
    serving.add_argument(
        "--tls",
        action="store_true",
        help="use TLS with the salon's own certificate, so that HOST may be 0.0.0.0",
    )
    for command, help_text in (
        ("backup", "write a copy of all records; the server may go on"),
        ("restore", "put a copy back in place of the records; stop the server first"),
        ("bring-in", "import a file that a phone saved; the server may go on"),
        ("aside", "write out the rows that could not be read"),
    ):
        keeping = commands.add_parser(command, help=help_text)
        keeping.add_argument("file", metavar="FILE", type=Path, help="the file")
    erasing = commands.add_parser(
        "erase", help="erase a client and everything that belongs to them"
    )
    when = erasing.add_mutually_exclusive_group()
    when.add_argument("--now", action="store_true", help="erase at once, not in three days")
    when.add_argument("--keep", action="store_true", help="cancel an erasure that still waits")
    erasing.add_argument("client", metavar="CLIENT", help="the client's id")
    commands.add_parser("demo", help="fill an empty data folder with an invented day")
    pairing = commands.add_parser("pair", help="show a code that pairs one phone, desk or program")
    pairing.add_argument(
        "--reads-only", action="store_true", help="for a program that reads and writes nothing"
    )
    pairing.add_argument("--days", type=int, metavar="N", help="end the pairing after so many days")
    commands.add_parser("devices", help="list every device ever paired")
    revoking = commands.add_parser("revoke", help="remove a paired device")
    revoking.add_argument("device", metavar="DEVICE", help="its id, or a name that only it has")
    document = commands.add_parser(
        "openapi", help="write openapi/openapi.json and the examples beside it"
    )
    page = commands.add_parser(
        "safety", help="write docs/safety.md, the safety rules for people to read"
    )
    for written in (document, page):
        written.add_argument(
            "--check", action="store_true", help="write nothing; fail if the file is out of date"
        )
    for command, help_text in (
        ("predict", "show the colours while a mix develops"),
        ("formulate", "say what to mix for a wish"),
        ("judge", "judge a look at the basin: wait, look again or rinse"),
        ("weigh", "turn a mix into scale readings, with developer from stock"),
        ("schedule", "order the work on several zones, with times"),
        ("mend", "say how to go on after a miss"),
        ("lighten", "say whether lightened hair is light enough for a wish"),
        ("labels", "say what each tube makes on the hair it is meant for"),
    ):
        asking = commands.add_parser(command, help=help_text)
        asking.add_argument(
            "file", metavar="FILE", help="the request as JSON; - for standard input"
        )
        asking.add_argument("--table", action="store_true", help="print a table, not JSON")
    commands.add_parser("doctor", help="check this machine for anything missing or wrong")
    return parser


def _ask(question: str, file: str, table: bool) -> int:
    try:
        body = sys.stdin.buffer.read() if file == "-" else Path(file).read_bytes()
    except OSError as error:
        return _refuse(f"{file} cannot be read: {error.strerror}. Name a file with the request.")
    reply = answer(question, body)
    if reply.status != 200:
        problem = msgspec.json.decode(reply.body, type=Problem)
        return _refuse(*(_placed(fault.pointer, fault.message) for fault in problem.errors))
    shown = TABLES[question](body, reply.body) if table else _indented(reply.body)
    print(shown, flush=True)
    return 0


def _written(folder: Path, current: dict[str, str], asked: argparse.Namespace) -> int:
    """Write files made from the engine into a folder, or say which stored one differs, and where.

    An example beside the document that is made no more is deleted.
    """
    beside = {folder / name for name in current}
    stale = [path for path in folder.glob("examples/*.json") if path not in beside]
    if not asked.check:
        for path in stale:
            path.unlink()
        for name, text in current.items():
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            (folder / name).write_text(text, "utf-8")
        return 0
    again = f"run `basinside {asked.command}` and commit the file."
    for name, text in current.items():
        path = folder / name
        kept = path.read_text("utf-8") if path.exists() else ""
        if kept != text:
            pairs = zip(kept.splitlines(), text.splitlines(), strict=False)
            same_lines = next((count for count, (old, new) in enumerate(pairs) if old != new), 0)
            place = f"{folder.name}/{name} is out of date, first at line {same_lines + 1}"
            return _refuse(f"{place}: {again}")
    return _refuse(*(f"{folder.name}/examples/{p.name} is not needed: {again}" for p in stale))


def _indented(body: bytes) -> str:
    return msgspec.json.format(body, indent=2).decode()


def _placed(pointer: str, message: str) -> str:
    return f"{pointer}: {message}" if pointer else message


def _refuse(*sentences: str) -> int:
    """Print sentences on what to do; return 1, or 0 where there is none."""
    for sentence in sentences:
        print(sentence, file=sys.stderr)
    return 1 if sentences else 0
