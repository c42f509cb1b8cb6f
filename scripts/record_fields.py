"""Writes for the pages what records are here; with `--check`, says what has drifted.

Two tables: each kind's fields with how they merge, and which of them a safety review reads.
"""

import json
import sys
from pathlib import Path
from typing import Any

from basinside.service.records.fields import table
from basinside.service.records.put_forward import wanted_fields
from quietly import ROOT

WEB = ROOT / "web" / "src"
TABLES: dict[Path, Any] = {
    WEB / "records" / "fields.generated.json": table(),
    WEB / "gate" / "wanted.generated.json": wanted_fields(),
}


def main() -> None:
    """Write the files, or exit 1 with what to do where a written one is not what is here."""
    drifted = []
    for target, content in TABLES.items():
        text = json.dumps(content, indent=1) + "\n"
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
