"""An older copy put back costs nothing, and cannot bring back who was erased."""

from contextlib import contextmanager

import pytest
from litestar.testing import TestClient
from test_push import problem

from basinside.app import create_app
from basinside.cli.keep import backup, erase, restore
from basinside.cli.serve import Settings
from basinside.service.store.salon import DATABASE_FILE
from basinside.service.store.unready import Unready
from basinside.service.whole.tide import keep_tide

CLIENT = "0199c0de-0000-7000-8000-00000000c11e"
CANARY = "quartzfinch"


@pytest.fixture
def settings(folder):
    return Settings("127.0.0.1", 0, folder)


@contextmanager
def restarted(settings, *phones):
    """A new application on the same folder, which the phones go on with."""
    with TestClient(create_app(settings.data_folder), base_url="http://127.0.0.1") as client:
        for phone in phones:
            phone.client = client
        yield


def bytes_kept(folder):
    return b"".join(path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file())


def handed_back(phone, had, epoch):
    """What the phone does after `epoch_changed`: offers what it holds, and hands back the rest."""
    whose = {"v": 1, "device_id": phone.device_id, "epoch": epoch}
    have = [
        {
            "entity_id": change["entity_id"],
            "ops": [head["op"] for head in change["fields"].values()],
        }
        for change in had.values()
    ]
    offered = phone.client.post(
        "/api/sync/offer", json=whose | {"have": have}, headers=phone.headers
    ).json()
    changes = [
        change
        for change in had.values()
        if any(head["op"] in offered["missing"] for head in change["fields"].values())
    ]
    reply = phone.client.post(
        "/api/sync/rescue", json=whose | {"changes": changes}, headers=phone.headers
    )
    assert reply.status_code == 200, reply.text
    return reply.json()


def test_what_was_lost_with_an_older_copy_comes_back_from_a_phone(
    new_phone, client, settings, tmp_path
):
    ana, ben = new_phone(), new_phone()
    old, new = ana.note("before the backup"), ana.note("after the backup")
    ana.push(old)
    assert backup(settings, tmp_path / "copy.db") == 0
    ana.push(new)
    had, cursor = ben.all_changes()
    client.app.state.desk.salon.close()
    assert restore(settings, tmp_path / "copy.db") == 0
    with restarted(settings, ana, ben):
        told = problem(ben.pull(cursor=cursor), 409, "epoch_changed")
        assert (told["epoch"], told["acked_through"]) == ("e2", 0)
        assert len(ben.all_changes()[0]) == 1
        assert handed_back(ben, had, "e2") == {"v": 1, "epoch": "e2", "taken": 1, "erased": 0}
        assert handed_back(ben, had, "e2")["taken"] == 0
        records, _ = ben.all_changes()
        assert {change["fields"]["text"]["v"] for change in records.values()} == {
            "before the backup",
            "after the backup",
        }
        # The writer sends it too: it lands, and stays one note.
        ana.epoch = "e2"
        told = problem(ana.push(new, epoch="e1"), 409, "epoch_changed")
        assert told["acked_through"] == 1
        assert len(ana.push(new).json()["accepted"]) == 1
        assert ana.all_changes()[0].keys() == records.keys()


def test_a_backup_tells_phones_how_much_is_safe(phone, settings, tmp_path):
    assert phone.push(phone.note()).json()["safe_seq"] == 0
    backup(settings, tmp_path / "copy.db")
    assert phone.push(phone.note()).json()["safe_seq"] == 1


def test_records_are_taken_back_only_after_a_restore(phone):
    body = {"v": 1, "device_id": phone.device_id, "epoch": "e1", "changes": []}
    reply = phone.client.post("/api/sync/rescue", json=body, headers=phone.headers)
    problem(reply, 409, "nothing_restored")


def test_who_was_erased_is_in_no_byte_and_stays_out_after_an_older_copy(
    phone, client, settings, tmp_path
):
    visit = next(phone.ids)
    ops = [
        phone.op("client.create", CLIENT, {"name": f"Ona {CANARY}"}),
        phone.op("service.create", visit, {"client": CLIENT, "purpose": "client"}),
        phone.op("note.create", next(phone.ids), {"service": visit, "text": f"{CANARY} warm"}),
        phone.op("note.create", next(phone.ids), {"text": "someone else's"}),
    ]
    assert len(phone.push(*ops).json()["accepted"]) == 4
    had, _ = phone.all_changes()
    backup(settings, tmp_path / "copy.db")
    assert CANARY.encode() in bytes_kept(settings.data_folder)

    assert erase(settings, CLIENT, now=True) == 0
    assert CANARY.encode() not in bytes_kept(settings.data_folder)
    pulled = phone.pull().json()
    assert len(pulled["erased"]) == 3
    assert len(pulled["changes"]) == 1
    again = phone.push(ops[0]).json()
    assert len(again["duplicate"]) == 1
    late = phone.op("note.create", next(phone.ids), {"client": CLIENT, "text": CANARY})
    assert phone.push(late).json()["refused"][0]["code"] == "erased"
    assert late["entity_id"].encode() not in bytes_kept(settings.data_folder)

    client.app.state.desk.salon.close()
    restore(settings, tmp_path / "copy.db")
    with restarted(settings, phone):
        assert handed_back(phone, had, "e2")["taken"] == 0
        records, _ = phone.all_changes()
        assert len(records) == 1
        client.app.state.desk.salon.run_alone("PRAGMA wal_checkpoint(TRUNCATE)")
    for aside in settings.data_folder.glob(f"{DATABASE_FILE}.before-*"):
        aside.unlink()
    assert CANARY.encode() not in bytes_kept(settings.data_folder)


def test_a_copy_of_all_files_put_back_by_hand_brings_nobody_back(phone, client, settings):
    """The ledger's file grows only, and is read before the first request is served."""
    phone.push(phone.op("client.create", CLIENT, {"name": f"Ona {CANARY}"}))
    salon = client.app.state.desk.salon
    salon.run_alone("PRAGMA wal_checkpoint(TRUNCATE)")
    older = (settings.data_folder / DATABASE_FILE).read_bytes()
    erase(settings, CLIENT, now=True)
    salon.close()
    (settings.data_folder / DATABASE_FILE).write_bytes(older)
    with restarted(settings, phone):
        assert phone.all_changes()[0] == {}
    assert CANARY.encode() not in bytes_kept(settings.data_folder)


def test_a_copy_of_the_whole_folder_put_back_by_hand_begins_a_new_history_once(
    new_phone, client, settings
):
    """Nothing beside the database tells then: the first cursor that knows more does."""
    ana, ben = new_phone(), new_phone()
    ana.push(ana.note("before"))
    folder, salon = settings.data_folder, client.app.state.desk.salon
    keep_tide(salon)
    salon.run_alone("PRAGMA wal_checkpoint(TRUNCATE)")
    older = {path: path.read_bytes() for path in folder.iterdir() if path.is_file()}
    ana.push(ana.note("after"))
    _, cursor = ben.all_changes()
    salon.close()
    for path in folder.iterdir():
        if path.is_file():
            path.unlink()
    for path, content in older.items():
        path.write_bytes(content)
    with restarted(settings, ana, ben):
        assert ana.pull().json()["epoch"] == "e1"
        for _ in range(2):
            assert problem(ben.pull(cursor=cursor), 409, "epoch_changed")["epoch"] == "e2"


def test_what_is_no_backup_is_not_put_back(settings, tmp_path):
    broken = tmp_path / "broken.db"
    broken.write_bytes(b"SQLite format 3\0" + bytes(5000))
    for source, says in ((broken, "no salon's database"), (tmp_path / "none.db", "does not exist")):
        with pytest.raises(Unready, match=says):
            restore(settings, source)
