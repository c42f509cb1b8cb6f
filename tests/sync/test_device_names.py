"""What a device is called: by its record, in the desk's list and on its command line alike."""

from basinside.cli.devices import list_devices, revoke
from basinside.cli.serve import Settings


def names(phone):
    listed = phone.client.get("/api/devices", headers=phone.headers).json()["devices"]
    return {each["device_id"]: each["name"] for each in listed}


def test_a_device_that_is_renamed_is_listed_under_its_new_name(new_phone, folder, capsys):
    ana, bo = new_phone(), new_phone()
    before = names(ana)
    ana.push(ana.op("device.create", bo.device_id, {"name": "The one by the door"}))
    assert names(ana) == before | {bo.device_id: "The one by the door"}
    settings = Settings("127.0.0.1", 0, folder)
    list_devices(settings)
    assert "The one by the door" in capsys.readouterr().out
    revoke(settings, "The one by the door")
    assert "The one by the door is removed." in capsys.readouterr().out


def test_a_device_whose_record_has_no_name_keeps_the_one_it_paired_under(new_phone):
    ana, bo = new_phone(), new_phone()
    before = names(ana)
    made = ana.op("device.create", bo.device_id, {"name": "Till"})
    ana.push(made)
    ana.push(ana.op("device.set", bo.device_id, {"name": None}, base={"name": [made["op_id"]]}))
    assert names(ana) == before
