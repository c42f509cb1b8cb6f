"""Writes for the pages what records are here; with `--check`, says what has drifted.

Three tables say how each kind's fields merge, which of them a safety review reads, and under which
rules an alert test serves once. A module of types says what each field may hold, and a
table of checks says it to a running page.
"""

import json
import sys
from pathlib import Path
from typing import Any

from basinside.engine.safety.rulebook import each_time_advice
from basinside.service.records.fields import table
from basinside.service.records.put_forward import wanted_fields
from quietly import ROOT
from record_checks import record_checks
from record_types import record_types

WEB = ROOT / "web" / "src"


def _json(content: Any) -> str:
    return json.dumps(content, indent=1) + "\n"


WRITTEN: dict[Path, str] = {
    WEB / "records" / "fields.generated.json": _json(table()),
    WEB / "records" / "types.generated.ts": record_types(),
    WEB / "records" / "checks.generated.json": json.dumps(record_checks()) + "\n",
    WEB / "gate" / "wanted.generated.json": _json(wanted_fields()),
    WEB / "gate" / "each_time.generated.json": _json(each_time_advice()),
}


def main() -> None:
    """Write the files, or exit 1 with what to do where a written one is not what is here."""
    drifted = []
    for target, text in WRITTEN.items():
        if "--check" not in sys.argv[1:]:
            target.write_text(text, "utf-8")
        elif not target.exists() or target.read_text("utf-8") != text:
            drifted.append(str(target.relative_to(ROOT)))
    if drifted:
        sys.exit(
            f"{' and '.join(drifted)} is not what service/records/ gives:"
            " run `.venv/bin/python scripts/record_fields.py` and commit what it writes."
        )


if __name__ == "__main__":
    main()
