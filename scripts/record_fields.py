"""Writes the table of record fields for the pages; with `--check`, says whether it has drifted."""

import json
import sys

from basinside.service.records.fields import table
from quietly import ROOT

TARGET = ROOT / "web" / "src" / "records" / "fields.generated.json"


def main() -> None:
    """Write the table, or exit 1 with what to do where the written one is not this one."""
    text = json.dumps(table(), indent=1) + "\n"
    if "--check" not in sys.argv[1:]:
        TARGET.write_text(text, "utf-8")
    elif not TARGET.exists() or TARGET.read_text("utf-8") != text:
        sys.exit(
            f"{TARGET.relative_to(ROOT)} is not what service/records/fields.py gives:"
            " run `.venv/bin/python scripts/record_fields.py` and commit what it writes."
        )


if __name__ == "__main__":
    main()
