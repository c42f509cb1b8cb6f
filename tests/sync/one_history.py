"""One seeded history of a simulated salon: run, shortened where it fails, said how to repeat.

`SEED=n`, and `STEPS=1,2,3` for some of its steps, run one again in `test_simulation.py`.
"""

import tempfile
from pathlib import Path

from holding import hold
from salon_world import STEPS, World, copied

from basinside.service.sync.cursor import read_cursor


def history(seed, template, folder, steps=range(STEPS), **bugs):
    """Run one history and hold it to what must hold; raise where it does not."""
    copied(template, folder)
    world = World(seed, folder, **bugs)
    try:
        world.run(steps)
        hold(world)
    finally:
        world.salon.close()


def outcome(seed, template, folder):
    """Return all that one history leaves at the desk and on its phones, as text."""
    copied(template, folder)
    world = World(seed, folder)
    try:
        world.run()
        with world.salon.reading() as reading:
            log = reading._rows("SELECT seq, op_id, device_id, device_seq FROM log ORDER BY seq")
            records = reading._rows("SELECT entity_id, seq, change FROM record ORDER BY entity_id")
        phones = [
            (
                phone.device_id,
                _place(phone.cursor),
                sorted(phone.refused),
                sorted(phone.base.items()),
            )
            for phone in world.phones
        ]
        return repr((log, records, sorted(world.erased), phones))
    finally:
        world.salon.close()


def _place(cursor):
    """Return a cursor without its signature, since each folder has a secret of its own."""
    return cursor and read_cursor(cursor).place


def failure(seed, template, steps=range(STEPS), **bugs):
    """Return why a history fails, as its kind and first line, or None where it holds."""
    with tempfile.TemporaryDirectory() as folder:
        try:
            history(seed, template, Path(folder), steps, **bugs)
        except Exception as error:  # noqa: BLE001 - whatever it is, it is told
            return type(error).__name__, str(error).partition("\n")[0]
    return None


def shortened(seed, template, **bugs):
    """Return the fewest steps found with which a failing history fails alike.

    Delta debugging (Zeller and Hildebrandt, 2002): ever smaller pieces are left out for good where
    the history still fails without them, until no single step can be.
    """
    why, steps, size = failure(seed, template, **bugs), list(range(STEPS)), STEPS // 2
    while size:
        at, before = 0, len(steps)
        while at < len(steps):
            fewer = steps[:at] + steps[at + size :]
            if failure(seed, template, fewer, **bugs) == why:
                steps = fewer
            else:
                at += size
        if size > 1 or len(steps) == before:
            size //= 2
    return steps


def again(seed, steps):
    """Return the command that runs a history again."""
    numbers = ",".join(map(str, steps))
    return (
        f"SEED={seed} STEPS={numbers} .venv/bin/pytest tests/sync/test_simulation.py -k every_seed"
    )
