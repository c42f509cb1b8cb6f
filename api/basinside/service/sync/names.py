"""What the salon calls its devices: by their records, which everybody in the salon may change.

A device is named as it pairs, in the desk's table. A phone also writes that name as a record of its
own, so the screens know who wrote what. A program that pairs has the name of the table alone.
"""

from collections.abc import Sequence

from ..records.show import show
from ..records.wire import state_kept
from ..store.reader import Reader
from ..store.rows import Device

_KIND = "device"


def named_by_record(reading: Reader, devices: Sequence[Device]) -> list[Device]:
    """Return the devices, each under the name of its record, if it has one."""
    names = {
        kept.entity_id: show(state_kept(kept)).values.get("name")
        for kept in reading.kept(device.device_id for device in devices).values()
        if kept.kind == _KIND and not kept.gone
    }
    return [device._replace(name=names.get(device.device_id) or device.name) for device in devices]
