"""Who asks too much, or asks and hangs up, keeps nobody else waiting for a mix or for safety.

Source: OWASP API Security Top 10 2023, API4 "Unrestricted Resource Consumption".
"""

import asyncio
import http.client
import json
import threading
from contextlib import ExitStack, contextmanager

import pytest
from litestar.exceptions import ServiceUnavailableException
from own_thread import in_its_own_thread, served_in_a_thread
from running import PATIENCE_S
from waiting import once

from basinside.app import create_app
from basinside.service.http import calculations
from basinside.service.http.engine_thread import MOST_OF_ONE, MOST_WAITING, Lane


class Held:
    """A calculation that keeps its thread until it is let go; counts what else is worked out."""

    def __init__(self):
        self.let_go, self.begun, self.done = threading.Event(), threading.Event(), []

    def hold(self):
        self.begun.set()
        assert self.let_go.wait(PATIENCE_S)

    def note(self, name):
        self.done.append(name)
        return name


def with_a_held_lane(work):
    """Run `work(lane, held, ask)` on a lane whose thread is held, with the next place taken too."""

    async def run():
        lane, held = Lane("test"), Held()

        def ask(client, name):
            return asyncio.create_task(lane.work_out(client, held.note, name))

        first = asyncio.create_task(lane.work_out("first", held.hold))
        await asyncio.sleep(0)
        second = ask("second", "at hand")
        await asyncio.sleep(0)
        try:
            return await work(lane, held, ask)
        finally:
            held.let_go.set()
            await asyncio.gather(first, second)
            lane.close()

    return in_its_own_thread(lambda: asyncio.run(run()))


def test_each_client_has_its_turn_however_much_another_asks():
    async def work(_, held, ask):
        many = [ask("greedy", f"greedy {n}") for n in range(5)]
        await asyncio.sleep(0)
        one = ask("patient", "patient")
        await asyncio.sleep(0)
        held.let_go.set()
        await asyncio.gather(one, *many)
        return held.done

    assert with_a_held_lane(work) == [
        "at hand",
        "greedy 0",
        "patient",
        *(f"greedy {n}" for n in range(1, 5)),
    ]


def test_who_hangs_up_gives_up_each_place_and_nothing_of_it_is_worked_out():
    async def work(_, held, ask):
        gone = [ask("gone", "gone") for _ in range(MOST_OF_ONE)]
        await asyncio.sleep(0)
        for task in gone:
            task.cancel()
        await asyncio.gather(*gone, return_exceptions=True)
        again = [ask("gone", "came back") for _ in range(MOST_OF_ONE)]
        await asyncio.sleep(0)
        held.let_go.set()
        await asyncio.gather(*again)
        return held.done

    assert with_a_held_lane(work) == ["at hand", *["came back"] * MOST_OF_ONE]


def test_one_client_may_have_thirty_two_waiting_and_no_more():
    async def work(_, held, ask):
        waiting = [ask("one", n) for n in range(MOST_OF_ONE)]
        await asyncio.sleep(0)
        with pytest.raises(ServiceUnavailableException, match="Too many questions") as refusal:
            await ask("one", "too many")
        assert refusal.value.headers == {"retry-after": "2"}
        other = ask("other", "other")
        await asyncio.sleep(0)
        held.let_go.set()
        await asyncio.gather(other, *waiting)
        return len(held.done)

    assert with_a_held_lane(work) == MOST_OF_ONE + 2


def test_no_more_than_the_bound_may_wait_in_all():
    async def work(_, held, ask):
        waiting = [ask(str(n), n) for n in range(MOST_WAITING)]
        await asyncio.sleep(0)
        with pytest.raises(ServiceUnavailableException, match="Too many questions"):
            await ask("one more", "too many")
        held.let_go.set()
        await asyncio.gather(*waiting)
        return len(held.done)

    assert with_a_held_lane(work) == MOST_WAITING + 1


@contextmanager
def a_real_server(app):
    """The application behind real connections, in a thread of its own; gives what asks it."""
    with ExitStack() as opened, served_in_a_thread(app) as address:

        def asked(path, question=None):
            connection = http.client.HTTPConnection(*address, timeout=PATIENCE_S)
            opened.callback(connection.close)
            connection.request("POST" if question else "GET", path, question)
            return connection

        yield asked


def test_abandoned_questions_delay_no_mix_and_no_safety(
    tmp_path, built_page, formulation, monkeypatch
):
    held, answer = Held(), calculations.answer

    def slow(question, body):
        if question == "labels":
            held.hold()
        held.note(question)
        return answer(question, body)

    monkeypatch.setattr(calculations, "answer", slow)
    app = create_app(tmp_path, built_page)
    lane = app.state.desk.lanes.questions
    question = json.dumps(formulation)
    with a_real_server(app) as asked:
        first = asked("/api/labels", "{}")
        assert held.begun.wait(PATIENCE_S)
        abandoned = [asked("/api/formulations", question) for _ in range(MOST_OF_ONE + 1)]
        once(lambda: sum(map(len, lane._waiting.values())), lambda n: n == MOST_OF_ONE)
        full = asked("/api/formulations", question).getresponse()
        assert (full.status, full.headers["retry-after"]) == (503, "2")
        # Safety does not wait for them.
        rules = asked("/api/safety/rules").getresponse()
        assert (rules.status, bool(rules.read())) == (200, True)
        for connection in abandoned:
            connection.close()
        once(lambda: len(lane._waiting), lambda n: n == 0)
        small = asked("/api/formulations", question)
        held.let_go.set()
        assert small.getresponse().status == 200
        first.getresponse().read()
    assert held.done == ["labels", "formulations"]
