"""After a restore: erasures and records that devices hand back."""

from typing import Any

import msgspec
from litestar import Request, Response, post

from ...contract.rescue import Offer, Rescue
from ...contract.sync import MOST_BYTES
from ..sync.offer import offer, rescue
from .salon_calls import asking_device, body_of, decoded, desk_of, now_ms, replied
from .sync import other_device

_offer = msgspec.json.Decoder(Offer)
_rescue = msgspec.json.Decoder(Rescue)


@post("/api/sync/offer", request_max_body_size=MOST_BYTES + 1, status_code=200)
async def offer_records(request: Request[Any, Any, Any]) -> Response[bytes]:
    """Take forgotten erasures; answer with the writes that are missing here."""
    device = await asking_device(request)
    desk = desk_of(request)
    body = decoded(await body_of(request), _offer)
    if body.device_id != device.device_id:
        raise other_device()
    return replied(await desk.write(offer, desk.salon, desk.ledger, body))


@post("/api/sync/rescue", request_max_body_size=MOST_BYTES + 1, status_code=200)
async def rescue_records(request: Request[Any, Any, Any]) -> Response[bytes]:
    """Join records that a device hands back to those here."""
    device = await asking_device(request)
    desk = desk_of(request)
    body = decoded(await body_of(request), _rescue)
    if body.device_id != device.device_id:
        raise other_device()
    rescued = await desk.write(rescue, desk.salon, body, now_ms())
    if rescued.taken:
        desk.changed()
    return replied(rescued)
