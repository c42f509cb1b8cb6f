"""`basinside devices | revoke`: lists the paired devices, and removes one."""

from ..service.http.open_desk import now_ms
from ..service.records.instants import instant_text
from ..service.store.rows import Device
from ..service.store.salon import DATABASE_FILE, Salon
from ..service.store.unready import Unready
from ..service.sync.names import named_by_record
from .serve import Settings


def list_devices(settings: Settings) -> int:
    """Print one line for each device ever paired, the latest first; return 0.

    Raises `Unready` if there is no salon yet.
    """
    salon = opened(settings)
    try:
        with salon.reading() as reading:
            devices = named_by_record(reading, reading.devices())
    finally:
        salon.close()
    if not devices:
        print("No device is paired yet. `basinside pair` makes a code for one.", flush=True)
    for device in devices:
        print(_line(device), flush=True)
    return 0


def revoke(settings: Settings, asked: str) -> int:
    """Revoke a device, named by its id or by a name that only it has; return 0.

    Everything it sent stays. Raises `Unready` if the name fits no device, or several.
    """
    salon = opened(settings)
    try:
        with salon.writing() as writing:
            device = _meant(named_by_record(writing, writing.devices()), asked)
            if not device.revoked_at:
                writing.revoke(device.device_id, instant_text(now_ms()))
    finally:
        salon.close()
    if device.revoked_at:
        print(f"{device.name} was removed already, at {device.revoked_at}.", flush=True)
        return 0
    waits = f" {device.queued} entries waited on it when it last called." if device.queued else ""
    print(
        f"{device.name} is removed. It keeps the records it had read until somebody empties it."
        f"{waits} A new code from `basinside pair` pairs it again.",
        flush=True,
    )
    return 0


def opened(settings: Settings) -> Salon:
    """Return the salon of the data folder; raise `Unready` if there is none yet."""
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
        raise Unready(f"{len(found)} devices are called {asked}. Name one by its id.")
    raise Unready(f"No device is called {asked}. `basinside devices` lists them with their ids.")


def _line(device: Device) -> str:
    state = "removed" if device.revoked_at else "paired"
    if device.reads_only:
        state += ", only reads"
    if device.until:
        state += f", until {device.until}"
    seen = f"last seen {device.last_seen_at}" if device.last_seen_at else "never sent anything"
    return f"{device.device_id}  {state}  {seen}, {device.queued} waiting  {device.name}"
