"""After a restore: takes the erasures and records that devices hand back."""

from typing import Any

import msgspec
from litestar import Request, Response, post

from ...contract.rescue import Offer, Rescue
from ...contract.sync import MOST_BYTES
from ..sync.offer import offer, rescue
from .asked import replied, told_by_device
from .open_desk import desk_of, now_ms

_offer = msgspec.json.Decoder(Offer)
_rescue = msgspec.json.Decoder(Rescue)


@post("/api/sync/offer", request_max_body_size=MOST_BYTES + 1, status_code=200)
async def offer_records(request: Request[Any, Any, Any]) -> Response[bytes]:
    """Take forgotten erasures; answer with the writes that are missing here."""
    desk = desk_of(request)
    body = await told_by_device(request, _offer)
    return replied(await desk.write(offer, desk.salon, desk.ledger, body))


@post("/api/sync/rescue", request_max_body_size=MOST_BYTES + 1, status_code=200)
async def rescue_records(request: Request[Any, Any, Any]) -> Response[bytes]:
    """Join records that a device hands back to those here."""
    desk = desk_of(request)
    body = await told_by_device(request, _rescue)
    rescued = await desk.write(rescue, desk.salon, body, now_ms())
    if rescued.taken:
        desk.changed()
    return replied(rescued)
