"""A real application on a new salon, and phones that are paired with it."""

import time

import pytest
from litestar.testing import TestClient
from phone import Phone

from basinside.app import create_app


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
