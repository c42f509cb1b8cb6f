"""The devices of the salon: letting one in, and the list of them."""

from typing import Any

import msgspec
from litestar import HttpMethod, Request, Response, post, route

from ...contract.devices import Devices, KnownDevice, Pairing
from .salon_calls import asking_device, body_of, decoded, desk_of, now_ms, replied

_pairing = msgspec.json.Decoder(Pairing)


@post("/api/devices/pair", status_code=200)
async def pair_device(request: Request[Any, Any, Any]) -> Response[bytes]:
    """Exchange a code for a token."""
    asked = decoded(await body_of(request), _pairing)
    desk = desk_of(request)
    return replied(await desk.write(desk.gate.pair, desk.salon, asked, now_ms()))


@route("/api/devices", http_method=[HttpMethod.GET, HttpMethod.HEAD])
async def list_devices(request: Request[Any, Any, Any]) -> Response[bytes]:
    """Answer with the devices that were ever paired."""
    await asking_device(request)
    desk = desk_of(request)

    def listed() -> Devices:
        with desk.salon.reading() as reading:
            return Devices(
                [
                    KnownDevice(
                        device_id=device.device_id,
                        name=device.name,
                        paired_at=device.paired_at,
                        revoked_at=device.revoked_at,
                        last_seen_at=device.last_seen_at,
                        queued=device.queued,
                        acked_through=device.acked_through,
                    )
                    for device in reading.devices()
                ]
            )

    return replied(await desk.read(listed))
