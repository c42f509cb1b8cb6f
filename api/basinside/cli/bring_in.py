"""`basinside bring-in FILE`: imports a file that a phone saved, at the server's machine."""

from pathlib import Path

from ..contract.importing import MOST_FILE_BYTES
from ..service.desk.importing import bring_file_in
from ..service.desk.record_file import read_packed
from ..service.http.open_desk import now_ms
from ..service.store.unready import Unready
from ..service.sync.refused import Refused
from .devices import opened
from .serve import Settings


def bring_in(settings: Settings, path: Path) -> int:
    """Import everything new in a file and print the counts; return 0. The server may go on.

    Raises `Unready` if there is no salon, or the file cannot be read or is not sound. It then
    imports nothing.
    """
    salon = opened(settings)
    try:
        with path.open("rb") as file:
            packed = file.read(MOST_FILE_BYTES + 1)
        with salon.reading() as reading:
            salon_id = reading.salon_id()
        read = read_packed(packed)
        taken = bring_file_in(salon, salon_id, read, now_ms())
    except OSError as error:
        raise Unready(f"{path} cannot be read: {error.strerror}. Name the phone's file.") from error
    except Refused as refused:
        raise Unready(f"{path} was not imported. {refused.detail}") from refused
    finally:
        salon.close()
    print(
        f"New: {taken.accepted} entries, {taken.photos} photos, {taken.records} lost records."
        f" Here already: {taken.known}. Waiting for a look on the phone: {taken.waiting}."
    )
    for each in taken.refused:
        print(f"Skipped, line {each.line}{each.pointer}: {each.message}")
    return 0
