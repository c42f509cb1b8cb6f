"""The strip that the opening screen plays before any engine is there: an invented head."""

import json

from demo_parts import ROOT, SHELF, Fields, Head, asked

STRIP = ROOT / "web" / "src" / "screens" / "today" / "home_strip.generated.json"
LANES = ("on_head", "wiped", "if_rinsed")


def strip_text() -> str:
    """Return the file: for each minute and lane the cooler edge, the colour and the warmer edge.

    Colours are hex digits of sRGB; the window is in minutes.
    """
    head = Head(9.5, ["beige"], 9.5, porosity=0.6, line="Still")
    reply = asked(
        "predictions",
        {"hair": head.hair, "wish": head.wish, "mix": {**head.mix, "minutes": 20}}
        | {"products": SHELF},
    )
    best = reply["strip"][reply["window"]["best"]]
    told = {
        "window": reply["window"],
        "wet": best["on_head"]["words"],
        "dry": best["if_rinsed"]["words"],
        "minutes": [[_colours(minute[lane]) for lane in LANES] for minute in reply["strip"]],
    }
    return json.dumps(told, ensure_ascii=False, separators=(",", ":")) + "\n"


def _colours(lane: Fields) -> str:
    # The edge with less yellow (b*) is the cooler one.
    cooler, warmer = sorted(lane["range"]["edges"], key=lambda edge: edge["lab"][2])
    return "".join(each["hex"].removeprefix("#") for each in (cooler, lane, warmer))
