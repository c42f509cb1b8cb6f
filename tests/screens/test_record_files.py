"""The records out of one phone and into another, by the settings of both."""

import csv

from playwright.sync_api import expect
from test_service import Service


def settings_of(service):
    return service.open("settings").page.locator("#files")


def saved(files, button):
    with files.page.expect_download() as download:
        files.get_by_role("button", name=button, exact=True).click()
    return download.value.path()


def test_everything_comes_back_on_another_phone_behind_its_passphrase(visit):
    service = Service(visit()).open().of_a_new_client("Zoë Marek")
    files = settings_of(service)
    files.get_by_label("Passphrase").fill("ash and pearl")
    file = saved(files, "Save everything as a file")
    assert "Marek" not in file.read_bytes().decode("latin1")
    expect(files.get_by_text("locked with your passphrase")).to_be_visible()

    other = settings_of(Service(visit()).open())
    bring_in = other.get_by_label("Import a file")
    bring_in.set_input_files(file)
    expect(other.get_by_role("alert")).to_contain_text("This file has a passphrase")
    other.get_by_label("Passphrase").fill("ash and pearls")
    bring_in.set_input_files(file)
    expect(other.get_by_role("alert")).to_contain_text("The passphrase is wrong")
    other.get_by_label("Passphrase").fill("ash and pearl")
    bring_in.set_input_files(file)
    expect(other.get_by_role("status")).to_contain_text("imported")
    bring_in.set_input_files(file)
    expect(other.get_by_role("status")).to_have_text("All of this file was on this phone already.")
    other.page.evaluate("location.hash = '#/clients'")
    expect(other.page.get_by_text("Zoë Marek")).to_have_count(1)


def test_a_wrong_file_is_refused_in_words(visit):
    files = settings_of(Service(visit()).open())
    files.get_by_label("Import a file").set_input_files(
        {"name": "clients.csv", "mimeType": "text/csv", "buffer": b"name,phone\r\n"}
    )
    expect(files.get_by_role("alert")).to_contain_text("Choose one that ends in .records")


# Read back by the standard library's own csv, which knows nothing of what wrote it.
def test_clients_are_saved_as_a_table_that_runs_nothing(visit):
    service = Service(visit()).open().of_a_new_client('=HYPERLINK("x")')
    files = settings_of(service)
    table = saved(files, "Clients").read_text("utf-8-sig")
    (row,) = csv.DictReader(table.splitlines())
    assert row["name"] == '\'=HYPERLINK("x")'
