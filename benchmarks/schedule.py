"""How long the order of work for six zones takes, possible or not, without and with mends."""

import random
import time
from statistics import median

from basinside.contract.predictions import Window
from basinside.contract.schedules import ScheduleRequest, Zone
from basinside.engine.timing.zones.schedule import schedule

ZONES, CASES, SEED = 6, 60, 3


def drawn(rng: random.Random, hands: int, rinse: str) -> ScheduleRequest:
    """Return six zones of windows from none to twenty minutes, as salons have them."""
    zones = []
    for place in range(ZONES):
        earliest, width = rng.randint(3, 35), rng.randint(0, 20)
        window = Window(earliest, earliest + width // 2, earliest + width)
        zones.append(Zone(f"zone {place}", window, rng.randint(3, 18)))
    return ScheduleRequest(zones, hands, rng.randint(2, 8), rinse)  # type: ignore[arg-type]


def main() -> None:
    """Report each kind's times, the replies that are possible apart from those that are not."""
    for hands in (1, 2):
        for rinse in ("separate", "shared"):
            rng = random.Random(SEED)
            seconds: dict[bool, list[float]] = {True: [], False: []}
            for _ in range(CASES):
                request = drawn(rng, hands, rinse)
                start = time.perf_counter()
                possible = schedule(request).slack_min is not None
                seconds[possible].append(time.perf_counter() - start)
            for possible, times in seconds.items():
                if times:
                    print(
                        f"{ZONES} zones, {hands} pairs of hands, {rinse} rinse,"
                        f" {'possible' if possible else 'impossible, with mends'}: {len(times)}"
                        f" cases, median {1e3 * median(times):.1f} ms, longest"
                        f" {1e3 * max(times):.0f} ms"
                    )


if __name__ == "__main__":
    main()
