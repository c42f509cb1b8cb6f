"""How long a reading by photo takes once its pixels are there: the page's own code, in Node.

Six rendered pictures with two strips, 24 patches, 12 known strands and 12 to read. The page does
the same in a worker, so that nothing it does waits for it. Reported, never failed.
"""

import json
import sys
import tempfile
from pathlib import Path
from statistics import median

ROOT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(ROOT / "tests" / "photo_reading"), str(ROOT / "tests" / "records")]

from pages_code import told_of_each  # noqa: E402
from rendered_scenes import HEIGHT, LIGHTS, WIDTH, rgba, scene  # noqa: E402


def main() -> None:
    """Print the median and the longest time of a reading."""
    with tempfile.TemporaryDirectory() as name:
        folder, asked = Path(name), []
        for at, light in enumerate(LIGHTS[:6]):
            drawn = scene(1, at % 2, light)
            path = folder / f"{at}.rgba"
            path.write_bytes(rgba(drawn.jpeg))
            size = {"width": WIDTH, "height": HEIGHT}
            asked.append({"pixels": str(path), **size, "marks": drawn.marks})
        told = told_of_each("photo_readings.mjs", asked, folder).splitlines()
    took_ms = [json.loads(line)["took_ms"] for line in told]
    print(
        f"a reading of 12 strands: median {median(took_ms):.0f} ms, longest {max(took_ms):.0f} ms"
    )


if __name__ == "__main__":
    main()
