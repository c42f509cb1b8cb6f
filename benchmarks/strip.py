"""How much a development strip costs: 21 minutes with ranges, in forward runs a minute.

A forward run is the three looks of one head at one minute, kinetics included, nothing kept
from before.
"""

import time
from statistics import median

from basinside.contract.hair import Hair
from basinside.contract.mixes import Mix, Part
from basinside.contract.predictions import PredictionRequest
from basinside.contract.products import Dyes, MinuteSpan, Product
from basinside.engine.hair.head import Head, head_of
from basinside.engine.timing import kinetics
from basinside.engine.timing.bowl import bowl_of
from basinside.engine.timing.development import Development
from basinside.engine.timing.predict import predict

ROUNDS = 9


def forget() -> None:
    """Empty what the engine keeps between questions."""
    kinetics.in_hair.cache_clear()
    kinetics.on_top.cache_clear()
    Head.strands.cache_clear()


def main() -> None:
    """Report the strip's cost in forward runs, interleaved, median of nine."""
    violet_blue = Product(
        id="vb",
        name="9 violet blue",
        line="Still",
        class_="neutral_demi",
        level=9,
        tone=["violet", "blue"],
        dyes=Dyes(violet=0.3, blue=0.3),
        window=MinuteSpan(5, 20),
        developer_percent=[1.9],
    )
    hair, mix = Hair(level=10), Mix([Part("vb", 40)], 10)
    request = PredictionRequest(hair, mix, [violet_blue])
    bowl, head = bowl_of(mix, {"vb": violet_blue}), head_of(hair)

    def forward_run() -> None:
        forget()
        Development(bowl).looks(head, 10)

    def forward_run_warm() -> None:
        Development(bowl).looks(head, 10)

    def strip() -> None:
        forget()
        predict(request)

    def seconds(call, times: int) -> float:  # noqa: ANN001
        start = time.perf_counter()
        for _ in range(times):
            call()
        return (time.perf_counter() - start) / times

    rows = [
        (seconds(forward_run, 60), seconds(forward_run_warm, 60), seconds(strip, 2))
        for _ in range(ROUNDS)
    ]
    cold, warm, whole = (median(column) for column in zip(*rows, strict=True))
    a_minute = whole / 21
    print(f"forward run {1e6 * cold:.0f} µs, with kinetics known {1e6 * warm:.0f} µs")
    print(
        f"strip of 21 minutes with ranges {1e3 * whole:.1f} ms:"
        f" {a_minute / cold:.1f} forward runs a minute, {a_minute / warm:.1f} with kinetics known"
    )


if __name__ == "__main__":
    main()
