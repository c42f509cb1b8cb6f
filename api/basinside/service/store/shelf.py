"""The shelf: the salon's products, seeded once with an invented demo salon."""

import os
import shutil
import tempfile
from pathlib import Path

import msgspec

from ...contract.products import Shelf
from .. import ROOT
from .unready import Unready

SEED_FOLDER = ROOT / "seed_demo"

SHELF_FILE = "shelf.json"
SALON_FILE = "salon.json"


def seed_if_new(data_folder: Path, seed_folder: Path = SEED_FOLDER) -> bool:
    """Put the demo salon into a data folder without a salon; return whether it did.

    A folder that once held a salon is never seeded again. The salon's file is written last and
    marks a finished seeding, so an interrupted one is done again. Raises `Unready` if the folder
    cannot be written or there is no seed.
    """
    if (data_folder / SALON_FILE).exists():
        return False
    try:
        data_folder.mkdir(parents=True, exist_ok=True)
        for name in (SHELF_FILE, SALON_FILE):
            _copy_whole(seed_folder / name, data_folder / name)
    except OSError as error:
        raise Unready(
            f"The demo salon cannot be put into {data_folder}: {error.strerror}."
            " Give that folder write access, or name another in BASINSIDE_DATA."
        ) from error
    return True


def read_shelf(data_folder: Path) -> Shelf:
    """Return the products kept in the data folder.

    Raises `Unready` if the shelf is missing or is not a shelf.
    """
    kept = data_folder / SHELF_FILE
    try:
        return msgspec.json.decode(kept.read_bytes(), type=Shelf)
    except OSError as error:
        raise Unready(
            f"The shelf {kept} cannot be read: {error.strerror}. Put it back, or name an empty"
            " folder in BASINSIDE_DATA to start again with the demo salon."
        ) from error
    except (msgspec.DecodeError, UnicodeDecodeError) as error:
        raise Unready(f"The shelf {kept} has a fault: {error}. Correct that place.") from error


def check_writable(data_folder: Path) -> None:
    """Raise `Unready` unless the data folder takes files; make it if need be."""
    try:
        data_folder.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=data_folder):
            pass
    except OSError as error:
        raise Unready(
            f"The data folder {data_folder} cannot be written: {error.strerror}."
            " Give it write access, or name another folder in BASINSIDE_DATA."
        ) from error


def _copy_whole(source: Path, target: Path) -> None:
    """Copy so that the target is either absent or complete, whenever the power goes."""
    partial = target.with_suffix(".partial")
    shutil.copyfile(source, partial)
    with partial.open("rb+") as file:
        os.fsync(file.fileno())
    partial.replace(target)
