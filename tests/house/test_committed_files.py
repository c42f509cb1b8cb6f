"""What no committed file may hold: it would tie the project to one place, or sprawl."""

import re
import subprocess
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]

# Joined here, so that this file does not hold what it looks for.
REGISTRY_HOSTS = tuple(
    ".".join(labels)
    for labels in (
        ("pypi", "org"),
        ("pypi", "python", "org"),
        ("files", "pythonhosted", "org"),
        ("registry", "npmjs", "org"),
        ("registry", "npmjs", "com"),
        ("registry", "yarnpkg", "com"),
        ("deb", "debian", "org"),
    )
)
HOME_FOLDERS = ("work", "root", "tmp", "home", "Users")
MACHINE_PATH = re.compile(rf"(?<![\w./$}}-])/(?:{'|'.join(HOME_FOLDERS)})(?=/|$)", re.MULTILINE)
MOST_LINES = 400


def committed_texts() -> dict[str, str]:
    """Every committed text file by name; pictures, fonts and other binaries are left out."""
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True)
    texts = {}
    for name in filter(None, listed.stdout.decode().split("\0")):
        path = ROOT / name
        content = path.read_bytes() if path.is_file() and not path.is_symlink() else b"\0"
        if b"\0" not in content:
            texts[name] = content.decode()
    return texts


def test_the_committed_files_are_really_read():
    assert {"Makefile", "pyproject.toml", "api/basinside/__init__.py"} <= committed_texts().keys()


def test_no_file_names_a_package_registry():
    naming = [
        f"{name}: {host}"
        for name, text in committed_texts().items()
        for host in REGISTRY_HOSTS
        if host in text
    ]
    assert naming == []


def test_no_file_names_a_place_on_one_machine():
    naming = [
        f"{name}: {text[found.start() : found.start() + 40]!r}"
        for name, text in committed_texts().items()
        for found in MACHINE_PATH.finditer(text)
    ]
    assert naming == []


def test_a_place_on_one_machine_is_seen_and_a_web_address_is_not():
    home = f"/{HOME_FOLDERS[3]}/"
    assert MACHINE_PATH.search(f"cd {home}someone")
    assert MACHINE_PATH.search(f'"{home}someone"')
    assert not MACHINE_PATH.search(f"see example.test{home}page and api{home}page")


def test_no_python_file_grew_past_four_hundred_lines():
    long = {
        name: text.count("\n")
        for name, text in committed_texts().items()
        if name.endswith(".py") and text.count("\n") > MOST_LINES
    }
    assert long == {}
