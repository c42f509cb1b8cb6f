"""`basinside devices | revoke`: who may come in to the salon's records, and who may no more."""

import time

from ..service.records.instants import instant_text
from ..service.store.rows import Device
from ..service.store.salon import DATABASE_FILE, Salon
from ..service.store.unready import Unready
from .serve import Settings


def list_devices(settings: Settings) -> int:
    """Print one line for each device that was ever paired, the latest first; return 0.

    Raises `Unready` where there is no salon yet.
    """
    salon = opened(settings)
    try:
        with salon.reading() as reading:
            devices = reading.devices()
    finally:
        salon.close()
    if not devices:
        print("No device is paired yet. `basinside pair` makes a code for one.", flush=True)
    for device in devices:
        print(_line(device), flush=True)
    return 0


def revoke(settings: Settings, asked: str) -> int:
    """Let a device in no more, named by its id or by a name that only it has; return 0.

    What it sent stays. Raises `Unready` where no one device is meant.
    """
    salon = opened(settings)
    try:
        with salon.writing() as writing:
            device = _meant(writing.devices(), asked)
            if not device.revoked_at:
                writing.revoke(device.device_id, instant_text(time.time_ns() // 1_000_000))
    finally:
        salon.close()
    if device.revoked_at:
        print(f"{device.name} was let in no more since {device.revoked_at} already.", flush=True)
        return 0
    waits = f" It last said that {device.queued} entries waited on it." if device.queued else ""
    print(
        f"{device.name} is let in no more. What it had read stays on it until it is emptied."
        f"{waits} A new code from `basinside pair` lets it in again.",
        flush=True,
    )
    return 0


def opened(settings: Settings) -> Salon:
    """Return the salon of the data folder; raise `Unready` where there is none yet."""
    database = settings.data_folder / DATABASE_FILE
    if not database.exists():
        raise Unready(f"There is no salon in {settings.data_folder} yet. Run `make run` once.")
    return Salon(database)


def _meant(devices: list[Device], asked: str) -> Device:
    found = [device for device in devices if device.device_id == asked.strip().lower()]
    found = found or [device for device in devices if device.name == asked.strip()]
    if len(found) == 1:
        return found[0]
    if found:
        raise Unready(f"{len(found)} devices are called {asked}. Name the one meant by its id.")
    raise Unready(f"No device is called {asked}. `basinside devices` lists them with their ids.")


def _line(device: Device) -> str:
    state = "let in no more" if device.revoked_at else "let in"
    seen = f"last seen {device.last_seen_at}" if device.last_seen_at else "never sent anything"
    return f"{device.device_id}  {state}  {seen}, {device.queued} waiting  {device.name}"
