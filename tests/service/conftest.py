"""A real application, and a real server on the loopback address."""

import copy
import io
import os
import subprocess
import sys
from pathlib import Path
from typing import NamedTuple

import pytest
from litestar.testing import TestClient
from running import PATIENCE_S

from basinside import cli
from basinside.app import create_app
from basinside.service.http.document import examples

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="session")
def built_page(tmp_path_factory):
    """A page as its build leaves it: an index, a hashed asset and its brotli twin."""
    folder = tmp_path_factory.mktemp("dist")
    (folder / "assets").mkdir()
    (folder / "index.html").write_text("<!doctype html><title>Built</title>")
    (folder / "assets" / "main-4f2a9c1b.js").write_text("let plain = 1;")
    (folder / "assets" / "main-4f2a9c1b.js.br").write_bytes(b"brotli, for all that it matters here")
    (folder / "assets" / "engine-0a1b2c3d.wasm").write_bytes(b"\0asm")
    (folder.parent / "beside.txt").write_text("not part of the page")
    return folder


@pytest.fixture(scope="session")
def app(tmp_path_factory, built_page):
    return create_app(tmp_path_factory.mktemp("salon"), built_page)


@pytest.fixture(scope="session")
def client(app):
    with TestClient(app, base_url="http://127.0.0.1") as client:
        yield client


@pytest.fixture
def formulation():
    """A formulation request that is answered 200, to be bent by a test."""
    return copy.deepcopy(next(iter(examples.FORMULATIONS.values())))


@pytest.fixture
def prediction():
    """A prediction request that is answered 200, to be bent by a test."""
    return copy.deepcopy(next(iter(examples.PREDICTIONS.values())))


@pytest.fixture
def judgement():
    """A judgement request that is answered 200, to be bent by a test."""
    return copy.deepcopy(next(iter(examples.JUDGEMENTS.values())))


class Ended(NamedTuple):
    """How a command ended, as `subprocess` tells it."""

    returncode: int
    stdout: bytes
    stderr: bytes


@pytest.fixture(scope="session")
def basinside():
    """Runs the command line in this process, which has loaded already what a command needs."""

    def run(*arguments, stdin=b"", **environment):
        said, complained = io.TextIOWrapper(io.BytesIO()), io.TextIOWrapper(io.BytesIO())
        with pytest.MonkeyPatch.context() as here:
            for name, value in environment.items():
                here.setenv(name, value)
            for name, stream in {
                "stdin": io.TextIOWrapper(io.BytesIO(stdin)),
                "stdout": said,
                "stderr": complained,
            }.items():
                here.setattr(sys, name, stream)
            try:
                code = cli.main(arguments)
            except SystemExit as ended:  # argparse, on a wrong command
                code = ended.code
        for stream in (said, complained):
            stream.flush()
        return Ended(code, said.buffer.getvalue(), complained.buffer.getvalue())

    return run


@pytest.fixture(scope="session")
def basinside_alone():
    """Runs the command line as a person does, in a process of its own, a second each time."""

    def run(*arguments, stdin=b"", **environment):
        return subprocess.run(
            [sys.executable, "-m", "basinside.cli", *arguments],
            input=stdin,
            capture_output=True,
            env=os.environ | environment,
            timeout=PATIENCE_S,
            check=False,
        )

    return run
