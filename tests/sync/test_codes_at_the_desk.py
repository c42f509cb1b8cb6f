"""A code for another phone is given to the page at the server's own machine, and to nobody else."""

import ssl
import time
import urllib.parse

import httpx
import pytest
import segno
from phone import Phone
from running import PATIENCE_S, Server

from basinside.service.store.salon import DATABASE_FILE, Salon

ASKED = {"v": 1}


@pytest.fixture(scope="module")
def desk(tmp_path_factory):
    """A browser that is paired at the machine of a real server over TLS."""
    server = Server(tmp_path_factory.mktemp("salon"), tls=True).start()
    trusting = ssl.create_default_context(cafile=server.folder / "tls" / "authority.crt")
    salon = Salon(server.folder / DATABASE_FILE)
    with httpx.Client(base_url=server.address, verify=trusting, timeout=PATIENCE_S) as client:
        phone = Phone(client, salon, 1, time.time_ns() // 1_000_000)
        phone.pair(phone.now_ms)
        yield phone
    salon.close()
    server.kill()


def asked(desk, **headers):
    return desk.client.post("/api/devices/codes", json=ASKED, headers=desk.headers | headers)


def test_the_code_lets_one_device_in_and_its_picture_is_the_link(desk):
    offered = asked(desk)
    assert offered.status_code == 200, offered.text
    code, link = offered.json()["code"], offered.json()["link"]
    assert link == f"{desk.client.base_url}/#/pair/{code}"
    # Drawn by segno, a library tested against ISO/IEC 18004's own examples; here its input is.
    drawn = segno.make(link, error="m", micro=False)
    picture = urllib.parse.unquote(offered.json()["picture"])
    path = picture.partition("qrline' ")[2].partition("d='")[2].partition("'")[0]
    assert path
    assert path in drawn.svg_inline(border=4)

    body = {"v": 1, "code": code, "device_id": f"{desk.device_id[:-1]}f", "name": "Bo’s phone"}
    assert desk.client.post("/api/devices/pair", json=body).status_code == 200
    again = body | {"device_id": f"{desk.device_id[:-1]}e"}
    assert desk.client.post("/api/devices/pair", json=again).json()["code"] == "code_unknown"


@pytest.mark.parametrize(
    "headers",
    [
        {"host": "desk.example.org"},
        {"host": "192.168.7.5:8000"},
        {"x-forwarded-for": "127.0.0.1"},
        {"x-forwarded-proto": "https"},
        {"forwarded": "for=192.168.7.9"},
        {"via": "1.1 proxy"},
    ],
    ids=lambda headers: next(iter(headers.items())),
)
def test_what_came_by_another_name_or_through_a_proxy_gets_none(desk, headers):
    refused = asked(desk, **headers)
    assert (refused.status_code, refused.json()["code"]) == (403, "at_the_desk_only")
    assert "basinside pair" in refused.json()["detail"]


def test_a_browser_that_is_not_paired_gets_none(desk):
    refused = desk.client.post("/api/devices/codes", json=ASKED)
    assert (refused.status_code, refused.json()["code"]) == (401, "pairing_expired")


def test_a_desk_that_phones_reach_through_a_proxy_alone_gives_none(client, phone):
    """Without its own TLS, what comes from elsewhere comes over loopback too."""
    refused = client.post("/api/devices/codes", json=ASKED, headers=phone.headers)
    assert (refused.status_code, refused.json()["code"]) == (403, "at_the_desk_only")
