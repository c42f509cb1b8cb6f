"""The command line: serve, ask the engine, write the document, look for what is missing."""

import argparse
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

import msgspec

from .. import __version__
from ..contract.problems import Problem
from ..engine.door import answer
from ..service.http.document.openapi import DOCUMENT, openapi_text
from ..service.store.unready import Unready
from .aside import write_aside
from .bring_in import bring_in
from .devices import list_devices, revoke
from .doctor import examine
from .keep import backup, erase, restore
from .pair import pair
from .safety_page import PAGE, safety_page
from .serve import Settings, serve
from .tables import TABLES

# What each asking command is called, and the question it puts to the engine's door.
_ASKING = {
    "predict": "predictions",
    "formulate": "formulations",
    "judge": "judgements",
    "weigh": "mixes",
    "schedule": "schedules",
    "mend": "mends",
    "lighten": "lightenings",
}
# What each writing command writes.
_WRITTEN = {"openapi": "openapi/openapi.json", "safety": "docs/safety.md"}

# What each command on this machine's own records does.
_KEEPING: dict[str, Callable[[Settings, argparse.Namespace], int]] = {
    "serve": lambda settings, asked: serve(settings, tls=asked.tls),
    "doctor": lambda settings, _: examine(settings),
    "devices": lambda settings, _: list_devices(settings),
    "revoke": lambda settings, asked: revoke(settings, asked.device),
    "pair": lambda settings, _: pair(settings),
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
            return _written(DOCUMENT, openapi_text(), asked)
        if asked.command == "safety":
            return _written(PAGE, safety_page(), asked)
        return _KEEPING[asked.command](Settings.from_environment(), asked)
    except Unready as unready:
        return _refuse(str(unready))
    except BrokenPipeError:  # the reader, such as `head`, has seen enough
        sys.stderr.close()
        return 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="basinside",
        description="What to mix for this hair, and what it will look like minute by minute.",
    )
    parser.add_argument("--version", action="version", version=__version__)
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    serving = commands.add_parser(
        "serve", help="start the server; HOST, PORT and BASINSIDE_DATA say where and with what"
    )
    serving.add_argument(
        "--tls",
        action="store_true",
        help="over TLS with a certificate of the salon's own, so that HOST may be 0.0.0.0",
    )
    for command, help_text in (
        ("backup", "write a whole copy of the records; the server may go on"),
        ("restore", "put a copy back in place of the records; stop the server first"),
        ("bring-in", "take in a file that a phone saved; the server may go on"),
        ("aside", "write out the rows of the records that could not be read"),
    ):
        keeping = commands.add_parser(command, help=help_text)
        keeping.add_argument("file", metavar="FILE", type=Path, help="the file")
    erasing = commands.add_parser("erase", help="erase a client with all that hangs on them")
    when = erasing.add_mutually_exclusive_group()
    when.add_argument("--now", action="store_true", help="at once, not in three days")
    when.add_argument("--keep", action="store_true", help="call it off while it can be")
    erasing.add_argument("client", metavar="CLIENT", help="the id of the client")
    commands.add_parser("pair", help="make a code that lets one phone or desk in")
    commands.add_parser("devices", help="list the devices that were ever paired")
    revoking = commands.add_parser("revoke", help="let a device in no more")
    revoking.add_argument("device", metavar="DEVICE", help="its id, or a name that only it has")
    document = commands.add_parser("openapi", help="write openapi/openapi.json")
    page = commands.add_parser("safety", help="write docs/safety.md, the safety rules for people")
    for written in (document, page):
        written.add_argument("--check", action="store_true", help="only say whether it has drifted")
    for command, help_text in (
        ("predict", "what will be seen while a mix develops"),
        ("formulate", "what to mix for a wish"),
        ("judge", "what a look at the basin says: wait, look again or rinse"),
        ("weigh", "a mix as scale readings, its developer from what is in stock"),
        ("schedule", "in which order zones are put on and rinsed, and when"),
        ("mend", "what would bring hair that missed nearer its wish"),
        ("lighten", "whether hair under a lightener is light enough for a wish"),
    ):
        asking = commands.add_parser(command, help=help_text)
        asking.add_argument(
            "file", metavar="FILE", help="the request as JSON; - for standard input"
        )
        asking.add_argument("--table", action="store_true", help="print a table, not JSON")
    commands.add_parser("doctor", help="look for what is missing or wrong on this machine")
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


def _written(path: Path, current: str, asked: argparse.Namespace) -> int:
    """Write a file made from the engine, or say where the one kept has drifted from it."""
    if not asked.check:
        path.parent.mkdir(exist_ok=True)
        path.write_text(current, "utf-8")
        return 0
    kept = path.read_text("utf-8") if path.exists() else ""
    if kept == current:
        return 0
    pairs = zip(kept.splitlines(), current.splitlines(), strict=False)
    same_lines = next((count for count, (old, new) in enumerate(pairs) if old != new), 0)
    return _refuse(
        f"{_WRITTEN[asked.command]} has drifted, first at line {same_lines + 1}:"
        f" run `basinside {asked.command}` and commit what it writes."
    )


def _indented(body: bytes) -> str:
    return msgspec.json.format(body, indent=2).decode()


def _placed(pointer: str, message: str) -> str:
    return f"{pointer}: {message}" if pointer else message


def _refuse(*sentences: str) -> int:
    for sentence in sentences:
        print(sentence, file=sys.stderr)
    return 1
