"""The locks: every package pinned to its content, none tied to one registry."""

import json
import re
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).resolve().parents[2]
PYPROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text())
GROUPS = PYPROJECT["dependency-groups"]

# Each lock, and what pyproject.toml declares that it must hold.
DECLARED = {
    "requirements.lock": [*PYPROJECT["project"]["dependencies"], *GROUPS["build"]],
    "requirements-dev.lock": [
        *PYPROJECT["project"]["dependencies"],
        *GROUPS["build"],
        *GROUPS["dev"],
    ],
    "requirements-node.lock": GROUPS["node"],
    "requirements-phone.lock": [
        text for text in PYPROJECT["project"]["dependencies"] if text.startswith("msgspec")
    ],
}
PINNED = re.compile(r"[a-z0-9.-]+==[^\s;]+( ; [^\\]+?)?( --hash=sha256:[0-9a-f]{64})+")


def lock_lines(name: str) -> list[str]:
    """The lock's requirements, each on one line; comments are left out."""
    joined = re.sub(r"\s*\\\n\s*", " ", (ROOT / name).read_text())
    return [line for line in joined.splitlines() if line and not line.lstrip().startswith("#")]


def pins(name: str) -> dict[str, str]:
    """Package → version as the lock pins it."""
    return dict(line.split(" ", 1)[0].split("==") for line in lock_lines(name))


@pytest.mark.parametrize("lock", DECLARED)
def test_every_locked_package_is_pinned_to_hashes_and_nothing_else_is_said(lock):
    assert lock_lines(lock)
    assert [line for line in lock_lines(lock) if not PINNED.fullmatch(line)] == []


@pytest.mark.parametrize(
    "line",
    [
        "uvicorn==0.1",
        "uvicorn>=0.1 --hash=sha256:" + "0" * 64,
        "uvicorn @ https://example.test/uvicorn.whl --hash=sha256:" + "0" * 64,
        "--index-url https://example.test",
        "uvicorn==0.1 --hash=md5:" + "0" * 32,
    ],
)
def test_a_line_without_pin_or_hash_is_seen(line):
    assert not PINNED.fullmatch(line)


@pytest.mark.parametrize("lock", DECLARED)
def test_a_lock_holds_what_the_project_declares(lock):
    pinned = pins(lock)
    declared = [Requirement(text) for text in DECLARED[lock]]
    astray = [
        str(requirement)
        for requirement in declared
        if not requirement.specifier.contains(pinned.get(canonicalize_name(requirement.name), "0"))
    ]
    assert astray == [], "run `make lock`"


def test_tests_run_against_the_packages_that_are_shipped():
    assert pins("requirements.lock").items() <= pins("requirements-dev.lock").items()


def test_the_phone_runs_the_packages_of_the_server():
    phone = pins("requirements-phone.lock")
    assert phone
    assert phone.items() <= pins("requirements.lock").items()


@pytest.mark.parametrize("folder", ["web", "benchmarks"])
def test_a_node_lock_pins_contents_and_names_no_download_address(folder):
    packages = json.loads((ROOT / folder / "package-lock.json").read_text())["packages"]
    fetched = {name: entry for name, entry in packages.items() if name}
    assert fetched
    assert [name for name, entry in fetched.items() if "resolved" in entry] == []
    assert [name for name, entry in fetched.items() if not entry.get("integrity")] == []
