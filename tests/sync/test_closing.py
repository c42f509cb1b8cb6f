"""A desk that closes: what it has taken is done first, and what comes then is refused in words."""

import asyncio
import threading

import pytest
from test_push import problem

from basinside.service.http.open_desk import Desk
from basinside.service.store.salon import DATABASE_FILE, Salon
from basinside.service.sync.refused import Refused

MORE_THAN_ONE_THREAD = 7
PATIENCE_S = 60


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
    assert asyncio.run(closed_under_way()) == expected


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

    asyncio.run(closed_under_way())
    assert done == [0]


def test_a_call_that_comes_too_late_is_told_to_come_again(client, phone):
    client.blocking_portal.call(client.app.state.desk.close)
    reply = problem(phone.push(phone.note()), 503, "busy")
    assert reply["detail"] == "The desk is stopping. Ask again once it runs."
