"""How many seconds of processor each test took, its servers and browsers included.

`SPENT=file make test` writes them: seconds and the test a line, the longest first. They say where
time goes on a machine that others use as well, where seconds of the clock do not. Linux only.
"""

import os
from collections import defaultdict
from pathlib import Path

import pytest

TICKS = os.sysconf("SC_CLK_TCK")
NAME = "cpu_s"


def processor_s():
    """Return the seconds that this process and all that came from it have used until now."""
    children, ticks = defaultdict(list), {}
    for folder in Path("/proc").glob("[0-9]*"):
        try:
            said = (folder / "stat").read_text()
        except OSError:
            continue  # ended meanwhile
        # A name may hold spaces and brackets; what follows its last bracket does not.
        fields = said.rpartition(")")[2].split()
        process = int(folder.name)
        children[int(fields[1])].append(process)
        ticks[process] = sum(map(int, fields[11:15]))
    waiting, total = [os.getpid()], 0
    while waiting:
        process = waiting.pop()
        total += ticks.get(process, 0)
        waiting += children[process]
    return total / TICKS


class Spent:
    """Notes the processor's seconds with each report, and writes all of them at the end."""

    def __init__(self, file):
        self._file, self._last_s, self._by_test = Path(file), processor_s(), defaultdict(float)

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_makereport(self):
        report = yield
        now_s = processor_s()
        # Of a browser that is closed, some processes leave nothing behind to count.
        report.user_properties.append((NAME, max(0, now_s - self._last_s)))
        self._last_s = now_s
        return report

    def pytest_runtest_logreport(self, report):
        self._by_test[report.nodeid] += dict(report.user_properties).get(NAME, 0)

    def pytest_sessionfinish(self, session):
        if hasattr(session.config, "workerinput"):
            return
        rows = sorted(self._by_test.items(), key=lambda each: -each[1])
        self._file.write_text("".join(f"{seconds:8.2f} {test}\n" for test, seconds in rows))
