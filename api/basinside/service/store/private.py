"""Keeps the records from everybody else on this computer: they name people and their health."""

import os
import stat
from collections.abc import Iterator
from pathlib import Path

# The owner alone; https://pubs.opengroup.org/onlinepubs/9799919799/functions/umask.html
FOR_THE_OWNER_ALONE = 0o077


def make_private(folder: Path) -> None:
    """Take the rights of the group and of others from a folder and from all that is in it.

    What belongs to another account stays as it is: `open_to_others` tells of it.
    """
    for path in open_to_others(folder):
        try:
            path.chmod(stat.S_IMODE(path.stat().st_mode) & ~FOR_THE_OWNER_ALONE)
        except OSError:  # of another account, or gone meanwhile
            continue


def open_to_others(folder: Path) -> list[Path]:
    """Return which of a folder and the files below it others may read, write or enter."""
    return [path for path in _within(folder) if _mode_of(path) & FOR_THE_OWNER_ALONE]


def _within(folder: Path) -> Iterator[Path]:
    yield folder
    for inside, folders, files in os.walk(folder):
        yield from (Path(inside, name) for name in (*folders, *files))


def _mode_of(path: Path) -> int:
    try:
        found = path.lstat().st_mode
    except OSError:  # gone meanwhile
        return 0
    return 0 if stat.S_ISLNK(found) else stat.S_IMODE(found)
