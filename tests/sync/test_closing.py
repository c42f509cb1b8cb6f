"""A desk that closes: what it has taken is done first, and what comes then is refused in words."""

import asyncio
import os
import threading

import pytest
from own_thread import in_its_own_thread
from test_push import problem

from basinside.service.http.open_desk import Desk
from basinside.service.store.salon import DATABASE_FILE, Salon
from basinside.service.sync.refused import Refused
from basinside.service.whole.tide import TIDE_FILE, begin, keep_tide

MORE_THAN_ONE_THREAD = 7
PATIENCE_S = 60
A_MOMENT_S = 0.5  # for who would come between; who waits for its turn loses nothing by it


def test_closing_waits_for_what_was_taken_and_refuses_the_rest(folder):
    folder.mkdir()
    may_end = threading.Event()

    def long_work(number):
        may_end.wait(PATIENCE_S)
        return number

    async def closed_under_way():
        desk = Desk(Salon(folder / DATABASE_FILE))
        taken = [
            asyncio.create_task(call(long_work, number))
            for number in range(MORE_THAN_ONE_THREAD)
            for call in (desk.read, desk.write)
        ]
        await asyncio.sleep(0)
        closing = asyncio.create_task(desk.close())
        await asyncio.sleep(0)
        for call in (desk.read, desk.write):
            with pytest.raises(Refused) as refused:
                await call(long_work, "too late")
            assert refused.value.status == 503
            assert refused.value.retry_after_s > 0
        assert not closing.done()
        may_end.set()
        answers = await asyncio.gather(*taken)
        await closing
        return answers

    expected = [number for number in range(MORE_THAN_ONE_THREAD) for _ in ("read", "write")]
    assert in_its_own_thread(asyncio.run, closed_under_way()) == expected


def test_who_gave_up_waiting_does_not_leave_work_behind_in_a_closed_file(folder):
    folder.mkdir()
    may_end, done = threading.Event(), []

    def long_work(salon):
        may_end.wait(PATIENCE_S)
        with salon.reading() as reading:
            done.append(reading.count("1", []))

    async def closed_under_way():
        desk = Desk(Salon(folder / DATABASE_FILE))
        asking = asyncio.create_task(desk.read(long_work, desk.salon))
        await asyncio.sleep(0)
        asking.cancel()
        closing = asyncio.create_task(desk.close())
        await asyncio.sleep(0)
        may_end.set()
        await closing

    in_its_own_thread(asyncio.run, closed_under_way())
    assert done == [0]


def test_a_call_that_comes_too_late_is_told_to_come_again(client, phone):
    client.blocking_portal.call(client.app.state.desk.close)
    reply = problem(phone.push(phone.note()), 503, "busy")
    assert reply["detail"] == "The desk is stopping. Ask again once it runs."


def test_two_who_note_how_far_the_salon_got_do_not_take_each_others_file(folder, monkeypatch):
    folder.mkdir()
    salon, others = Salon(folder / DATABASE_FILE), []
    begin(salon, 0)
    (folder / TIDE_FILE).unlink()

    def another_comes(_file):
        if not others:
            others.append(threading.Thread(target=keep_tide, args=(salon,)))
            others[0].start()
            others[0].join(A_MOMENT_S)

    monkeypatch.setattr(os, "fsync", another_comes)
    keep_tide(salon)
    others[0].join(PATIENCE_S)
    salon.close()
    assert [path.name for path in folder.glob(f"{TIDE_FILE}*")] == [TIDE_FILE]
