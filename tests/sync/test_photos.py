"""Photos: whole or not at all, after the record that names them, and gone with the client."""

import base64
import hashlib
import random

import pytest
from test_push import CLIENT, problem

from basinside.cli.keep import backup, restore
from basinside.cli.serve import Settings
from basinside.service.store.salon import Salon
from basinside.service.whole.erasing import erase_client
from basinside.service.whole.ledger import Ledger

PICTURE = random.Random(1).randbytes(200_000)
SHA256 = hashlib.sha256(PICTURE).hexdigest()


def send(phone, picture=PICTURE, **other):
    body = {
        "v": 1,
        "device_id": phone.device_id,
        "sha256": hashlib.sha256(picture).hexdigest(),
        "type": "image/jpeg",
        "bytes": base64.b64encode(picture).decode(),
    } | other
    return phone.client.post("/api/sync/photos", json=body, headers=phone.headers)


def fetch(phone, sha256=SHA256):
    reply = phone.client.get("/api/sync/photo", params={"sha256": sha256}, headers=phone.headers)
    photo = reply.json()["photo"]
    return photo and (photo["type"], base64.b64decode(photo["bytes"]))


def missing(phone, **query):
    path = "/api/sync/photos/missing"
    return phone.client.get(path, params=query, headers=phone.headers).json()


@pytest.fixture
def named(phone):
    """A client whose note names the photo."""
    phone.push(
        phone.op("client.create", CLIENT, {"name": "Ona"}),
        phone.note("her ends", client=CLIENT) | {"fields": {"client": CLIENT, "photo": SHA256}},
    )


@pytest.mark.usefixtures("named")
def test_a_photo_comes_out_as_it_went_in_and_is_kept_once(phone, new_phone):
    assert fetch(phone) is None
    assert missing(phone) == {"v": 1, "missing": [SHA256], "next": None}
    assert send(phone).json() == {"v": 1, "sha256": SHA256, "known": False}
    other = new_phone()
    assert send(other).json()["known"] is True
    assert fetch(other) == ("image/jpeg", PICTURE)
    assert missing(other)["missing"] == []


@pytest.mark.usefixtures("named")
def test_a_photo_that_did_not_come_whole_is_not_kept_and_is_asked_for_again(phone):
    cut = base64.b64encode(PICTURE[:100_000]).decode()
    told = problem(send(phone, bytes=cut), 400, "body_unreadable")
    assert told["errors"][0]["pointer"] == "/bytes"
    assert missing(phone)["missing"] == [SHA256]
    assert send(phone).status_code == 200
    assert fetch(phone) == ("image/jpeg", PICTURE)


def test_a_photo_waits_for_the_record_that_names_it(phone):
    problem(send(phone), 409, "not_named")
    assert fetch(phone) is None
    phone.push(phone.note() | {"fields": {"text": "", "photo": SHA256}})
    assert send(phone).status_code == 200


@pytest.mark.parametrize("result", [{"photo": SHA256, "at": "2026-11-25T12:00:00Z"}])
def test_the_result_of_a_service_and_a_reaction_name_photos_too(phone, result):
    other = hashlib.sha256(b"abc").hexdigest()
    phone.push(
        phone.op("service.create", next(phone.ids), {"result": result}),
        phone.op("reaction.create", next(phone.ids), {"signs": ["itch"], "photo": other}),
    )
    assert missing(phone)["missing"] == sorted([SHA256, other])
    first = missing(phone, limit=1)
    assert missing(phone, limit=1, after=first["next"])["missing"] == [max(SHA256, other)]


@pytest.mark.usefixtures("named")
def test_one_that_is_too_large_or_no_picture_is_refused(phone):
    problem(send(phone, bytes(600_000)), 413, "too_large")
    problem(send(phone, bytes(3_000_000)), 413, "too_large")
    problem(send(phone, type="text/html"), 400, "body_unreadable")
    reply = phone.client.get("/api/sync/photo", params={"sha256": "x"}, headers=phone.headers)
    problem(reply, 400, "body_unreadable")


@pytest.mark.usefixtures("named")
def test_a_photo_goes_with_its_client_from_every_byte_and_comes_back_no_more(phone, salon, folder):
    shared = b"a photo in two clients' notes"
    shared_sha256 = hashlib.sha256(shared).hexdigest()
    for client in (CLIENT, next(phone.ids)):
        phone.push(phone.note() | {"fields": {"client": client, "photo": shared_sha256}})
    assert [send(phone, each).status_code for each in (PICTURE, shared)] == [200, 200]
    assert any(PICTURE[5000:5032] in file.read_bytes() for file in folder.glob("salon.db*"))
    erase_client(salon, Ledger(folder), CLIENT, phone.now_ms)
    assert fetch(phone) is None
    assert fetch(phone, shared_sha256) == ("image/jpeg", shared)
    files = list(folder.glob("salon.db*"))
    assert files
    pieces = [PICTURE[at : at + 32] for at in range(0, len(PICTURE), 2000)]
    assert not any(piece in file.read_bytes() for file in files for piece in pieces)
    problem(send(phone), 409, "not_named")
    assert missing(phone)["missing"] == []


@pytest.mark.usefixtures("named")
def test_a_backup_holds_the_photos(phone, folder, tmp_path, capsys):
    send(phone)
    backup(Settings("127.0.0.1", 0, folder), tmp_path / "copy.db")
    elsewhere = Settings("127.0.0.1", 0, tmp_path / "elsewhere")
    restore(elsewhere, tmp_path / "copy.db")
    capsys.readouterr()
    restored = Salon(tmp_path / "elsewhere" / "salon.db")
    with restored.reading() as reading:
        photo = reading.photo(SHA256)
    restored.close()
    assert (photo.type, photo.bytes) == ("image/jpeg", PICTURE)


@pytest.mark.usefixtures("named")
def test_records_go_on_while_a_photo_has_no_room(client, phone, salon):
    desk = client.app.state.desk

    def in_the_writer(statement):
        return desk._writer.submit(salon.run_alone, statement).result()

    # SQLite answers SQLITE_FULL at its own bound just as at the disk's (sqlite.org/rescode.html).
    ((pages,),) = in_the_writer("PRAGMA page_count")
    in_the_writer(f"PRAGMA max_page_count = {pages + 10}")
    problem(send(phone), 507, "disk_full")
    assert phone.push(phone.note("small")).json()["accepted"]
    in_the_writer("PRAGMA max_page_count = 1000000")
    assert send(phone).status_code == 200
