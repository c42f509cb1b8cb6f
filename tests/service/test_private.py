"""Nobody else on the computer can read the salon's files.

Source: OWASP ASVS 4.0.3 §8.3.4 and §14; file modes by POSIX.1-2024, `chmod` and `umask`.
"""

import stat

from running import Server

OTHERS = stat.S_IRWXG | stat.S_IRWXO


def modes_of(folder):
    """The mode of a folder and of each thing in it, by name."""
    return {path.name: stat.S_IMODE(path.stat().st_mode) for path in (folder, *folder.rglob("*"))}


def test_what_the_server_and_a_backup_write_is_for_the_owner_alone(basinside, tmp_path):
    folder, copy = tmp_path / "salon", tmp_path / "copy.db"
    Server(folder).start().stop()
    assert basinside("backup", str(copy), BASINSIDE_DATA=str(folder)).returncode == 0
    assert {"salon.db", "shelf.json"} <= modes_of(folder).keys()
    assert [name for name, mode in modes_of(folder).items() if mode & OTHERS] == []
    assert stat.S_IMODE(copy.stat().st_mode) == 0o600


def test_a_folder_that_was_open_to_all_is_told_of_and_closed_by_the_next_start(basinside, tmp_path):
    folder = tmp_path / "salon"
    Server(folder).start().stop()
    (folder / "salon.db.before-20260101-120000").write_bytes(b"older records")
    for path in (folder, *folder.rglob("*")):
        path.chmod(0o755 if path.is_dir() else 0o644)
    told = basinside("doctor", BASINSIDE_DATA=str(folder))
    assert told.returncode == 1
    assert b"wrong  Data folder: Others on this computer can read" in told.stdout
    Server(folder).start().stop()
    assert [name for name, mode in modes_of(folder).items() if mode & OTHERS] == []
    assert b"by this account alone" in basinside("doctor", BASINSIDE_DATA=str(folder)).stdout
