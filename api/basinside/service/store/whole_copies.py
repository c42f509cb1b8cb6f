"""Whole copies of the database beside it, and which of them are kept.

Seven days and four weeks are kept: the newest copy of each of the last seven days that have one,
and of each of the last four weeks. The copies before the last two upgrades are kept too.
"""

import os
import re
import shutil
import sqlite3
from collections.abc import Callable, Iterable
from contextlib import closing
from datetime import date
from pathlib import Path

COPIES_FOLDER = "backups"
_DAYS, _WEEKS, _UPGRADES = 7, 4, 2
_OF_A_DAY = re.compile(r"salon-(\d{4}-\d{2}-\d{2})\.db")
_BEFORE_UPGRADE = re.compile(r"salon-before-(\w+)\.db")


def copied(connection: sqlite3.Connection, target: Path) -> None:
    """Write a copy as of one moment, whole and to the disk, in place of one of the same name.

    Raises `sqlite3.DatabaseError` or `OSError`; then nothing of the copy is left.
    """
    partial = target.with_name(f"{target.name}.{os.getpid()}.partial")
    try:
        partial.unlink(missing_ok=True)
        partial.touch(mode=0o600)
        with closing(sqlite3.connect(partial)) as copy:
            connection.backup(copy)
        with partial.open("rb+") as file:
            os.fsync(file.fileno())
        partial.replace(target)
    finally:
        partial.unlink(missing_ok=True)


def of_day(folder: Path, day: date) -> Path:
    """Return the file for a day's copy in a data folder."""
    return folder / COPIES_FOLDER / f"salon-{day.isoformat()}.db"


def before_upgrade(folder: Path, step: str) -> Path:
    """Return the file for the copy of before an upgrade's first step."""
    return folder / COPIES_FOLDER / f"salon-before-{step}.db"


def copies(folder: Path) -> list[Path]:
    """Return the copies in a data folder, the newest first."""
    found = [
        path
        for path in (folder / COPIES_FOLDER).glob("salon-*.db")
        if _OF_A_DAY.fullmatch(path.name) or _BEFORE_UPGRADE.fullmatch(path.name)
    ]
    return sorted(found, key=lambda path: (path.stat().st_mtime, path.name), reverse=True)


def drop_old(folder: Path) -> None:
    """Delete the copies that the rule does not keep."""
    found = copies(folder)
    days = {path.name: _day_of(path) for path in found if _OF_A_DAY.fullmatch(path.name)}
    daily = sorted(days, key=lambda name: days[name], reverse=True)
    kept = {
        *_newest_of_each(daily, lambda name: days[name], _DAYS),
        *_newest_of_each(daily, lambda name: days[name].isocalendar()[:2], _WEEKS),
        *[path.name for path in found if path.name not in days][:_UPGRADES],
    }
    for path in found:
        if path.name not in kept:
            path.unlink(missing_ok=True)


def clear_unfinished(folder: Path) -> None:
    """Delete what a killed backup left: copies that are not whole, and those put back for trial."""
    for path in (folder / COPIES_FOLDER).glob("*"):
        if path.name.startswith("trial-"):
            shutil.rmtree(path, ignore_errors=True)
        elif path.suffix in (".partial", ".new"):
            path.unlink(missing_ok=True)


def _newest_of_each(
    newest_first: Iterable[str], of: Callable[[str], object], most: int
) -> list[str]:
    newest: dict[object, str] = {}
    for name in newest_first:
        newest.setdefault(of(name), name)
    return list(newest.values())[:most]


def _day_of(path: Path) -> date:
    found = _OF_A_DAY.fullmatch(path.name)
    try:
        return date.fromisoformat(found[1] if found else "")
    except ValueError:  # such as a 31 February, by hand
        return date.min
