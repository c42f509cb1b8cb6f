"""Each entry of the log has its time, an id where an answer names it, and no forged neighbour."""

import logging
import re

from litestar.testing import TestClient

from basinside.app import create_app
from basinside.cli.log import Lines
from basinside.service.http import health

TIME = r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z"


def line_of(message):
    record = logging.LogRecord("basinside", logging.ERROR, "here", 1, message, (), None)
    return Lines().format(record)


def test_an_entry_begins_with_its_time_in_utc():
    assert re.fullmatch(
        rf"{TIME} ERROR basinside: The disk is full\.", line_of("The disk is full.")
    )


def test_a_line_break_in_an_entry_forges_no_other():
    forged = "GET /\r\n2026-11-30T12:00:00.000Z ERROR basinside: all is well\u2028more\x0bmore"
    first, *others = line_of(forged).splitlines()
    assert re.match(TIME, first)
    assert len(others) == 3
    assert all(each.startswith("    ") for each in others)


def test_the_answer_to_a_fault_of_ours_names_its_entry_in_the_log(tmp_path, monkeypatch, caplog):
    def broken():
        raise ValueError

    monkeypatch.setattr(health, "engine_version", broken)
    app = create_app(tmp_path / "salon")
    with TestClient(app, base_url="http://127.0.0.1", raise_server_exceptions=False) as client:
        reply = client.get("/api/health")
    assert reply.status_code == 500
    (fault,) = re.findall(r"under ([0-9a-f]{8})\.", reply.json()["detail"])
    assert f"{fault}: GET '/api/health': ValueError" in caplog.text
