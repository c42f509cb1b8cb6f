"""The demo salon: put into a new data folder once, whole or not at all, and never again."""

import json

import pytest

from basinside.service.store import shelf
from basinside.service.store.shelf import SALON_FILE, SHELF_FILE, read_shelf, seed_if_new
from basinside.service.store.unready import Unready


def test_a_new_folder_gets_the_demo_salon(tmp_path):
    folder = tmp_path / "deep" / "salon"
    assert seed_if_new(folder)
    assert read_shelf(folder).demo is True
    assert json.loads((folder / SALON_FILE).read_text())["demo"] is True


def test_a_second_run_changes_nothing(tmp_path):
    seed_if_new(tmp_path)
    (tmp_path / SHELF_FILE).write_text('{"products": []}')
    assert not seed_if_new(tmp_path)
    assert read_shelf(tmp_path).products == []


def test_a_shelf_taken_away_is_missed_and_not_seeded_again(tmp_path):
    seed_if_new(tmp_path)
    (tmp_path / SHELF_FILE).unlink()
    assert not seed_if_new(tmp_path)
    with pytest.raises(Unready, match=r"cannot be read: No such file.*Put it back"):
        read_shelf(tmp_path)


def test_a_seeding_cut_short_is_done_over(tmp_path):
    seed_if_new(tmp_path)
    whole = (tmp_path / SHELF_FILE).read_bytes()
    (tmp_path / SALON_FILE).unlink()  # written last, so its absence is what a cut leaves
    (tmp_path / SHELF_FILE).write_bytes(whole[:100])
    assert seed_if_new(tmp_path)
    assert (tmp_path / SHELF_FILE).read_bytes() == whole


@pytest.mark.parametrize("cut", [SHELF_FILE, SALON_FILE])
def test_a_disk_that_fails_leaves_no_half_file(tmp_path, monkeypatch, cut):
    def copy_half(source, target):
        if source.name != cut:
            return copy_whole(source, target)
        target.write_bytes(source.read_bytes()[:20])
        raise OSError(28, "No space left on device")

    copy_whole = shelf.shutil.copyfile
    monkeypatch.setattr(shelf.shutil, "copyfile", copy_half)
    with pytest.raises(Unready, match="No space left on device"):
        seed_if_new(tmp_path)
    assert not (tmp_path / cut).exists()
    monkeypatch.undo()
    assert seed_if_new(tmp_path)
    assert read_shelf(tmp_path).products


def test_a_shelf_that_is_not_one_names_the_place(tmp_path):
    (tmp_path / SHELF_FILE).write_text('{"products": [{"id": "a b"}]}')
    with pytest.raises(Unready, match=r"products\[0\]"):
        read_shelf(tmp_path)
