"""A real application on a new salon, and phones that are paired with it."""

import time

import pytest
from litestar.testing import TestClient
from phone import Phone
from running import PATIENCE_S
from started_services import Visit

from basinside.app import create_app
from basinside.service.http import recheck


@pytest.fixture
def folder(tmp_path):
    return tmp_path / "salon"


@pytest.fixture
def client(folder):
    with TestClient(create_app(folder), base_url="http://127.0.0.1") as client:
        yield client


@pytest.fixture
def salon(client):
    return client.app.state.desk.salon


@pytest.fixture
def new_phone(client, salon):
    """Makes the nth phone; its clock is right, and it is paired unless told otherwise."""
    made = []

    def new(*, paired=True):
        now_ms = time.time_ns() // 1_000_000
        phone = Phone(client, salon, len(made) + 1, now_ms)
        made.append(phone)
        if paired:
            phone.pair(now_ms)
        return phone

    return new


@pytest.fixture
def phone(new_phone):
    return new_phone()


@pytest.fixture
def often(monkeypatch):
    """The desk looks again fifty times a second, so that a test need not wait for its second."""
    monkeypatch.setattr(recheck, "EVERY_S", 0.02)


@pytest.fixture
def matters(phone, salon, often):  # noqa: ARG001
    """Asks what needs a look once the desk has looked at all that came in."""

    def ask():
        ends = time.monotonic() + PATIENCE_S
        while True:
            with salon.reading() as reading:
                if reading.reviewed_seq() == reading.end().seq:
                    break
            assert time.monotonic() < ends, "the desk did not look again"
            time.sleep(0.02)
        return phone.client.get("/api/matters", headers=phone.headers).json()["matters"]

    return ask


@pytest.fixture
def visit(phone):
    return Visit(phone)
