"""The devices of the salon: pairs one, lists them, and removes one."""

import ipaddress
from typing import Any
from urllib.parse import urlsplit

import msgspec
import segno
from litestar import HttpMethod, Request, Response, delete, post, route

from ...contract.devices import CodeAsked, CodeOffered, Devices, KnownDevice, Pairing
from ..records.instants import instant_text
from ..store.rows import Device
from ..sync.names import named_by_record
from ..sync.pairing import CODE_LIVES_MS, new_code
from ..sync.refused import Refused
from .asked import asking_device, body_of, decoded, replied
from .open_desk import desk_of, now_ms

_pairing = msgspec.json.Decoder(Pairing)
_code_asked = msgspec.json.Decoder(CodeAsked)


@post("/api/devices/pair", status_code=200)
async def pair_device(request: Request[Any, Any, Any]) -> Response[bytes]:
    """Exchange a code for a token."""
    if is_of_a_foreign_page(request):
        said = "A page of another site sent this. Pair on the page that this server gives."
        raise Refused(403, "foreign_page", said)
    asked = decoded(await body_of(request), _pairing)
    desk = desk_of(request)
    address = request.client.host if request.client else ""
    return replied(await desk.write(desk.gate.pair, desk.salon, asked, now_ms(), address))


def is_of_a_foreign_page(request: Request[Any, Any, Any]) -> bool:
    """Return whether a browser sent a call for a page that another site gave it.

    A browser says so itself (Fetch Metadata, https://www.w3.org/TR/fetch-metadata/). One that does
    not names the page's origin (RFC 6454), which is then compared with the name that it asked for.
    A program that is no browser names neither.
    """
    site = request.headers.get("sec-fetch-site")
    if site:
        return site not in ("same-origin", "none")
    origin = request.headers.get("origin")
    if not origin:
        return False
    headers = request.headers
    asked_for = headers.get("x-forwarded-host") or headers.get("host") or ""
    return urlsplit(origin).netloc.lower() != asked_for.lower()


@post("/api/devices/codes", status_code=200)
async def offer_code(request: Request[Any, Any, Any]) -> Response[bytes]:
    """Give a paired browser on this machine a code for another device, drawn to scan."""
    await asking_device(request)
    decoded(await body_of(request), _code_asked)
    desk = desk_of(request)
    if not is_at_the_desk(request):
        said = "Make a code on the desk's own computer: run `basinside pair` there."
        raise Refused(403, "at_the_desk_only", said)
    made_ms = now_ms()
    code = await desk.write(new_code, desk.salon, made_ms)
    link = f"{desk.address_for_phones}#/pair/{code}"
    drawn = segno.make(link, error="m", micro=False).svg_data_uri(border=4, scale=8, light="#fff")
    return replied(CodeOffered(code, link, drawn, instant_text(made_ms + CODE_LIVES_MS)))


@delete("/api/devices/{device_id:str}", status_code=200)
async def revoke_device(request: Request[Any, Any, Any]) -> Response[bytes]:
    """Revoke a device: the caller itself from anywhere, any other at the desk alone."""
    caller = await asking_device(request)
    named = str(request.path_params["device_id"]).lower()
    if named != caller.device_id and not is_at_the_desk(request):
        said = "Remove another device on the desk's own computer: run `basinside revoke` there."
        raise Refused(403, "at_the_desk_only", said)
    desk = desk_of(request)

    def revoked() -> KnownDevice:
        with desk.salon.writing() as writing:
            device = writing.device(named)
            if device and not device.revoked_at:
                writing.revoke(named, instant_text(now_ms()))
                device = writing.device(named)
            if device:
                (device,) = named_by_record(writing, [device])
        if not device:
            said = "The salon never paired such a device. `GET /api/devices` lists them."
            raise Refused(404, "device_unknown", said)
        return _known(device)

    told = await desk.write(revoked)
    desk.changed()  # its stream of changes ends now
    return replied(told)


def is_at_the_desk(request: Request[Any, Any, Any]) -> bool:
    """Return whether a call came from the desk's own computer, while it serves its own TLS."""
    return bool(desk_of(request).address_for_phones) and is_of_this_machine(request)


def is_of_this_machine(request: Request[Any, Any, Any]) -> bool:
    """Return whether a call came over loopback, by a loopback name, and through no proxy.

    A proxy on this machine speaks over loopback for everybody, so its calls are refused. Some
    proxies do not name themselves. So codes are only offered over our own TLS, which has no proxy
    in front.
    """
    host = request.client.host if request.client else ""
    forwarded = any(
        name == "forwarded" or name.startswith("x-forwarded-") or name == "via"
        for name in request.headers
    )
    return not forwarded and _is_loopback(host) and _is_loopback(request.url.hostname or "")


def _is_loopback(host: str) -> bool:
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return host == "localhost"


@route("/api/devices", http_method=[HttpMethod.GET, HttpMethod.HEAD])
async def list_devices(request: Request[Any, Any, Any]) -> Response[bytes]:
    """Answer with the devices that were ever paired."""
    await asking_device(request)
    desk = desk_of(request)

    def listed() -> Devices:
        with desk.salon.reading() as reading:
            return Devices([_known(each) for each in named_by_record(reading, reading.devices())])

    return replied(await desk.read(listed))


def _known(device: Device) -> KnownDevice:
    return KnownDevice(
        device_id=device.device_id,
        name=device.name,
        paired_at=device.paired_at,
        revoked_at=device.revoked_at,
        last_seen_at=device.last_seen_at,
        queued=device.queued,
        acked_through=device.acked_through,
        reads_only=bool(device.reads_only),
        until=device.until,
    )
