"""The server is killed while phones push: what it acknowledged is there, once, where it said.

`benchmarks/killed_server.py` does it two hundred times.
"""

from killed_server import kill_often

from basinside.cli.doctor import examine
from basinside.cli.serve import Settings


def test_what_was_acknowledged_survives_a_kill(tmp_path, capsys):
    acknowledged = kill_often(tmp_path, kills=3)
    assert acknowledged >= 4
    examine(Settings("127.0.0.1", 0, tmp_path))
    records = next(line for line in capsys.readouterr().out.splitlines() if "Records: " in line)
    assert records.startswith("ok ")
