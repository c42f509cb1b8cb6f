"""Runs the tests under a clock that is set to days and hours that break programs.

Needs Debian's `faketime` (apt-get install faketime); as root it is installed. Every process of a
run has the same shift. Chromium does not start under faketime: its pages get the shift from
`tests/common/browser.py`. Elapsed time goes on as it is, so nothing waits longer.

Arguments go to pytest, as in `scripts/other_dates.py tests/engine`; DATES=0,3 runs the first and
the fourth date alone.
"""

import datetime as dt
import os
import shutil
import subprocess
import sys
from pathlib import Path
from zoneinfo import ZoneInfo

from quietly import ENVIRONMENT, ROOT, VENV, run_quietly

LONDON = "Europe/London"


def dates(today: dt.date) -> list[tuple[str, str, dt.datetime]]:
    """Return what each date is, its zone, and when the run begins there.

    Summer time begins and ends at 01:00 UTC on the last Sunday of March and of October
    (Directive 2000/84/EC); London does likewise.
    """
    zone = ZoneInfo(LONDON)
    leap = next(year for year in range(today.year, today.year + 9) if year % 4 == 0)
    if dt.date(leap, 2, 29) < today:
        leap += 4
    year = today.year + 1
    spring, autumn = last_sunday(year, 3), last_sunday(year, 10)
    ahead = today.replace(year=today.year + 3, day=min(today.day, 28))
    return [
        ("29 February", "UTC", dt.datetime(leap, 2, 29, 10, tzinfo=dt.UTC)),
        ("a minute before summer time", LONDON, at(spring, 0, 59, zone)),
        ("a minute before winter time", LONDON, at(autumn, 1, 59, zone)),
        ("two minutes before midnight", "UTC", at(today, 23, 58, dt.UTC)),
        ("three years ahead", "UTC", at(ahead, 10, 0, dt.UTC)),
    ]


def last_sunday(year: int, month: int) -> dt.date:
    """Return the last Sunday of a month that has 31 days."""
    last = dt.date(year, month, 31)
    return last - dt.timedelta(days=(last.weekday() + 1) % 7)


def at(day: dt.date, hour: int, minute: int, zone: dt.tzinfo) -> dt.datetime:
    """Return an hour of a day in a zone, the first of two where the hour comes twice."""
    return dt.datetime.combine(day, dt.time(hour, minute), tzinfo=zone)


def library() -> Path:
    """Return the library that shifts a process's clock, installed where it may be."""
    found = sorted(Path("/usr/lib").glob("*/faketime/libfaketime.so.1"))
    if found:
        return found[0]
    if os.geteuid() != 0 or shutil.which("apt-get") is None:
        sys.exit("This needs faketime: install it (on Debian: apt-get install faketime).")
    failed = "faketime could not be installed: see to the network and try again."
    run_quietly(["apt-get", "update"], "apt", failed)
    run_quietly(["apt-get", "install", "--yes", "-qq", "faketime"], "apt", failed)
    return library()


def main() -> int:
    """Run the tests once at each date; return 0 where all hold."""
    preloaded, now = library(), dt.datetime.now(dt.UTC)
    wanted = os.environ.get("DATES")
    chosen = {int(each) for each in wanted.split(",")} if wanted else None
    failed = []
    for number, (name, zone, begins) in enumerate(dates(now.date())):
        if chosen is not None and number not in chosen:
            continue
        print(f"== {number}: {name}, {begins:%Y-%m-%d %H:%M %Z}", flush=True)
        shift_s = (begins - dt.datetime.now(dt.UTC)).total_seconds()
        shifted = ENVIRONMENT | {
            "TZ": zone,
            "PYTHONPATH": str(ROOT / "scripts" / "shifted"),
            "LD_PRELOAD": str(preloaded),
            "FAKETIME": f"{shift_s:+.0f}s",
            # What measures elapsed time is left alone, or waiting would go wrong.
            "FAKETIME_DONT_FAKE_MONOTONIC": "1",
            "DONT_FAKE_MONOTONIC": "1",
        }
        command = [str(VENV / "bin" / "pytest"), "--numprocesses", "auto", "--dist", "loadscope"]
        ended = subprocess.run(
            [*command, "--no-loadscope-reorder", "--quiet", *sys.argv[1:]],
            cwd=ROOT,
            env=shifted,
            check=False,
        )
        if ended.returncode:
            failed.append(name)
    print(f"failed at: {', '.join(failed)}" if failed else "All of these dates hold.")
    return bool(failed)


if __name__ == "__main__":
    sys.exit(main())
