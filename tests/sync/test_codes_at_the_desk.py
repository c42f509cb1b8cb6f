"""The page at the server's own machine gets a code for another phone, and may remove one."""

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


FROM_ELSEWHERE = pytest.mark.parametrize(
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


@FROM_ELSEWHERE
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


@pytest.fixture
def other(desk):
    """Another phone of the salon."""
    phone = Phone(desk.client, desk.salon, 2, desk.now_ms)
    phone.pair(desk.now_ms)
    return phone


def removed(by, device_id, **headers):
    path = f"/api/devices/{device_id}"
    return by.client.delete(path, headers=by.headers | headers)


def test_the_desk_removes_a_phone_once_and_a_new_code_lets_it_in_again(desk, other):
    told = removed(desk, other.device_id)
    assert told.status_code == 200, told.text
    assert (told.json()["device_id"], told.json()["name"]) == (other.device_id, "Phone 2")
    assert told.json()["revoked_at"] > told.json()["paired_at"]
    assert other.pull().json()["code"] == "device_revoked"
    # A second time it stays as it was, and the id may be written in capitals.
    assert removed(desk, other.device_id.upper()).json() == told.json()
    listed = desk.client.get("/api/devices", headers=desk.headers).json()["devices"]
    assert told.json() in listed
    other.pair(desk.now_ms)
    assert other.pull().status_code == 200


@FROM_ELSEWHERE
def test_a_phone_away_from_the_desk_removes_itself_alone(desk, other, headers):
    refused = removed(other, desk.device_id, **headers)
    assert (refused.status_code, refused.json()["code"]) == (403, "at_the_desk_only")
    assert "basinside revoke" in refused.json()["detail"]
    assert desk.pull().status_code == 200
    assert removed(other, other.device_id, **headers).status_code == 200
    assert other.pull().json()["code"] == "device_revoked"


@pytest.mark.parametrize("device_id", ["0199c0de-0000-7000-8000-0000000000ff", "nobody"])
def test_a_device_that_was_never_paired_cannot_be_removed(desk, device_id):
    refused = removed(desk, device_id)
    assert (refused.status_code, refused.json()["code"]) == (404, "device_unknown")


def test_removing_takes_no_parameter(desk):
    refused = removed(desk, f"{desk.device_id}?now=1")
    assert (refused.status_code, refused.json()["code"]) == (400, "body_unreadable")
    assert desk.pull().status_code == 200


def test_a_phone_on_a_desk_without_tls_of_its_own_cannot_remove_another(new_phone):
    ana, ben = new_phone(), new_phone()
    refused = removed(ana, ben.device_id)
    assert (refused.status_code, refused.json()["code"]) == (403, "at_the_desk_only")
    assert ben.pull().status_code == 200
