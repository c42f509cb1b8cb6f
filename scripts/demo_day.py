#!/usr/bin/env python3
"""Writes `seed_demo/day.json`: an invented Saturday in the demo salon, as data.

Beside it, the strip that the opening screen plays.

Run it after the engine's answers moved: every mix, window and colour in the file is its answer.
People, notes and lines are invented. Who is allergic to what is no case of anybody's.
"""

import json
import sys

from demo_parts import (
    ACTS,
    ADA,
    MO,
    SEED,
    Head,
    alert_test,
    at_once,
    client,
    done,
    line_card,
    new_id,
    note,
    service,
    setting,
    start,
    zone,
)
from demo_strip import STRIP, strip_text

DAY = SEED / "day.json"


def fill() -> None:
    """Put the whole day into `ACTS`."""
    pearl = Head(10, ["pearl"], 10, line="Still")
    beige = Head(9.5, ["beige"], 9, line="Still", grams=40)
    cool = Head(10, ["violet", "pearl"], 9.5, line="Quill")
    soft = Head(10, ["beige"], 10, porosity=0.6, line="Quill")

    at_once(
        "@day-400 09:00",
        ("person", MO, {"name": "Mo Tarn", "role": "owner"}),
        ("person", ADA, {"name": "Ada Venn", "role": "colourist"}),
        setting("salon_name", json.loads((SEED / "salon.json").read_text())["name"]),
    )
    at_once("@day-300 09:00", *(card for line in ("Still", "Quill") for card in line_card(line)))

    # Two are done: one to the end, one rinsed and drying.
    lea = client("Lea Dorn", "@day-300 09:30", "555 0101")
    alert_test(lea, pearl.line, "@day-87 12:00", result="clear", read_at="@day-85 13:05")
    done("Lea Dorn", lea, pearl, -84, 10, 0, "as_shown")
    done("Lea Dorn", lea, pearl, -42, 10, 15, "warmer")
    alert_test(lea, pearl.line, "@day-3 12:00", result="clear", read_at="@day-1 13:40")
    note("@day-42 11:40", "Grew warm after four weeks. A touch more violet next time.", client=lea)
    kept = {"name": "Lea, pearl", "client": lea, **pearl.chosen(), "chance": pearl.chance}
    at_once("@day-42 11:45", ("formula", new_id(), kept))
    under_way(
        "Lea Dorn",
        lea,
        pearl,
        "@quarter-180",
        -170,
        rinsed=True,
        state="ended",
        result={"at": "@now-115", "words": "as_shown"},
    )

    sol = client("Sol Amsel", "@day-120 16:00", "555 0102")
    alert_test(sol, beige.line, "@day-4 10:00", result="clear", read_at="@day-2 11:30")
    done("Sol Amsel", sol, beige, -56, 16, 0, "as_shown")
    under_way("Sol Amsel", sol, beige, "@quarter-75", -60, rinsed=True, state="started")

    # Two are under way: a toner that may be rinsed in two minutes, and a lightener in foils.
    wren = client("Wren Aldous", "@day-500 11:00", "555 0103")
    alert_test(wren, soft.line, "@day-5 13:00", result="clear", read_at="@day-3 14:30")
    done("Wren Aldous", wren, soft, -49, 13, 0, "as_shown")
    visit = under_way(
        "Wren Aldous", wren, soft, "@quarter-30", -soft.window["earliest"] - 1, state="started"
    )
    note("@now-9", "Sits with her back to the window: look under the lamp.", client=wren)
    note("@now-4", "Back sections went on last.", by=ADA, phone=2, service=visit, client=wren)

    ona = client("Ona Pell", "@day-200 15:00", "555 0104")
    alert_test(ona, "Cobble", "@day-6 15:00", result="clear", read_at="@day-4 16:20")
    lightening("Ona Pell", ona)

    # One is held: her last test reacted.
    juno = client("Juno Marek", "@day-90 09:00", "555 0105", colour_reaction="mild")
    alert_test(
        juno,
        cool.line,
        "@day-4 17:00",
        result="redness",
        read_at="@day-2 18:20",
        read_by="Ada Venn",
    )
    words = "The test spot reacted. Do not colour with this line."
    held = {"at": "@now-40", "rules": ["alert-test-reacted"], "words": words}
    planned(juno, cool, "@quarter+30", "@now-40", held=held)
    note("@day-2 18:25", "Red for a day where the dab was. She will ask her doctor.", client=juno)

    # Two come later: a regular, and one whose test can be read today.
    iva = client("Iva Senn", "@day-260 12:00", "555 0106")
    alert_test(iva, pearl.line, "@day-3 09:00", result="clear", read_at="@day-1 10:15")
    done("Iva Senn", iva, pearl, -35, 13, 30, "as_shown")
    planned(iva, pearl, "@quarter+75", "@day-35 14:45")
    bo = client("Bo Larkspur", "@day-20 18:00", "555 0107")
    alert_test(bo, beige.line, "@now-2840")
    planned(bo, beige, "@quarter+135", "@day-20 18:05")

    # Tomorrow's: a test that has lapsed.
    ruth = client("Ruth Ember", "@day-410 10:00", "555 0108")
    alert_test(ruth, cool.line, "@day-240 10:00", result="clear", read_at="@day-238 11:10")
    done("Ruth Ember", ruth, cool, -236, 10, 0, "as_shown")
    planned(ruth, cool, "@day+1 10:00", "@day-10 17:30")
    note("@now-2", "Ruth rang: can she come at ten?", by=ADA, phone=2, client=ruth)
    note("@now-26", "Second tube of Still 10 pearl is open.", by=ADA, phone=2, client=iva)


def planned(who: str, head: Head, when: str, since: str, **fields: object) -> None:
    """Add a visit to come, its mix taken over from before."""
    own, visit = service(who, when, **fields)
    at_once(since, ("service", own, visit), zone(own, head))


def under_way(
    name: str,
    who: str,
    head: Head,
    when: str,
    first: int,
    *,
    rinsed: bool = False,
    **fields: object,
) -> str:
    """Add a visit of today whose first section went on so many minutes ago; return its id."""
    own, visit = service(who, when, **fields)
    last = first + 3
    times = {"first_section_at": f"@now{first:+d}", "last_section_at": f"@now{last:+d}"}
    minute = head.window["best"]
    if rinsed:
        times["rinsed_at"] = f"@now{last + minute:+d}"
    one_zone = zone(own, head, **times, deadline_at=f"@now{first + head.most_minutes:+d}")
    began = start(name, visit, one_zone, head)
    at_once(times["first_section_at"], ("service", own, visit), one_zone, began)
    if rinsed:
        words = f"all over rinsed at minute {minute}"
        told = {"service": own, "what": words, "at": times["rinsed_at"]}
        at_once(times["rinsed_at"], ("step", new_id(), told))
    return own


def lightening(name: str, who: str) -> None:
    """Add a visit of today with foils under a lightener, looked at once."""
    own, visit = service(who, "@quarter-45", state="started")
    lightener = {
        "kind": "powder",
        "developer_percent": 6,
        "check_every_min": 10,
        "mix_ratio": 2,
        "grams": 30,
        "max_min": 45,
    }
    reason = "No colour is promised under a lightener: look, and rinse when it is light enough."
    fields = {
        "service": own,
        "name": "foils",
        "order": 0,
        "work": "lightener",
        "area": "off_scalp_foil",
        "lightener": lightener,
        "most_minutes": 45,
        "window": {"reason": reason},
        "looked": {"minute": 10, "level": 8},
        "first_section_at": "@now-14",
        "last_section_at": "@now-12",
        "deadline_at": "@now+31",
    }
    one_zone = ("zone", new_id(), fields)
    at_once("@now-14", ("service", own, visit), one_zone, start(name, visit, one_zone, None))


def written() -> str:
    """Return the text of the file, an act a line."""
    fill()
    lines = ",\n".join(json.dumps(act, ensure_ascii=False) for act in ACTS)
    return f'{{"demo": true, "writer": "{MO}", "acts": [\n{lines}\n]}}\n'


def main() -> int:
    """Write the files; with `--check`, say whether they are as they would be written."""
    texts = {DAY: written(), STRIP: strip_text()}
    if "--check" not in sys.argv:
        for path, text in texts.items():
            path.write_text(text)
        return 0
    stale = [path.name for path, text in texts.items() if path.read_text() != text]
    for name in stale:
        print(f"{name} is not the engine's answer: run scripts/demo_day.py", file=sys.stderr)
    return 1 if stale else 0


if __name__ == "__main__":
    sys.exit(main())
