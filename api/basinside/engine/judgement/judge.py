"""From looks at the basin to this head, its strip and window, and what to do."""

from collections.abc import Sequence
from dataclasses import dataclass

import msgspec

from ...contract.judgements import JudgementReply, JudgementRequest, Reading, Surprise
from ...contract.predictions import Window
from ...contract.products import Product
from ..hair.head import head_of
from ..hair.reading import read_hair
from ..meaning import check_hair, check_mix, check_wish, shelf_of
from ..refusal import Faults
from ..timing.bowl import bowl_of
from ..timing.development import Development, after_what_is_on
from ..timing.predict import lab_of_wish
from ..timing.strip import Strip
from ..timing.window import makers_window, window_of
from ..version import engine_version
from .belief import Belief, Evidence, described_as, updated
from .evidence import sighting_of
from .next_visit import next_visit
from .outlook import Outlook
from .say import advice_on, this_head, too_early, too_late
from .surprise import Scene, surprise_of


def judge(request: JudgementRequest) -> JudgementReply:
    """Return the head as the readings make it, its strip and window, and the advice.

    Raises `Faulty` with every place whose meaning is wrong.
    """
    shelf = _checked(request)
    development = Development(bowl_of(request.mix, shelf), request.look.bunched)
    scene = Scene(request.mix, shelf, request.hair, request.look.bunched)
    believed = described(request, shelf, development.bowl.by_label)
    seen = believe(believed, development, request.readings, scene)
    heads = seen.belief.heads()
    outlook = Outlook(
        development=development,
        heads=heads,
        wish=lab_of_wish(request.wish),
        tolerance=request.wish.tolerance,
        now=max(reading.minute for reading in request.readings),
    )
    judged = seen.belief.judged()
    strip = Strip(development, heads)
    return JudgementReply(
        hair=judged,
        strip=[strip.at(minute) for minute in range(development.bowl.full_min + 1)],
        window=_window(outlook),
        advice=advice_on(outlook, request.readings[-1].words == "patchy"),
        surprise=seen.surprise,
        engine_version=engine_version(),
        this_head=this_head(seen.belief, judged),
        chance=outlook.best.chance,
        too_early=too_early(outlook),
        too_late=too_late(outlook),
        # a head that could hardly be must not be learnt
        next_visit=next_visit(
            seen.belief.hair, judged if seen.surprise is None else seen.belief.hair
        ),
    )


@dataclass(frozen=True)
class Seen:
    """What is believed after all readings, and the last of them that was a surprise."""

    belief: Belief
    surprise: Surprise | None


def described(request: JudgementRequest, shelf: dict[str, Product], by_label: float) -> Belief:
    """Return what is believed of a head before the readings of a bowl."""
    read = msgspec.structs.replace(read_hair(request.hair), reading=None)
    return described_as(
        read, head_of(read), lambda head: after_what_is_on(head, read, shelf), by_label
    )


def believe(
    belief: Belief, development: Development, readings: Sequence[Reading], scene: Scene | None
) -> Seen:
    """Return what the readings leave of a belief, one after another.

    A word compares with what was expected when it was said. Without a `scene` nothing is
    looked for behind a surprise.
    """
    clues: list[Evidence] = []
    surprise = None
    for number, reading in enumerate(readings):
        heads = belief.heads()
        sighting = sighting_of(development, heads, reading)
        if scene is not None:
            surprise = surprise_of(number, sighting, development, heads.possible, scene) or surprise
        clue = sighting.evidence(development, belief)
        if clue is not None:
            clues.append(clue)
            belief = updated(belief, clues)
    return Seen(belief, surprise)


def _window(outlook: Outlook) -> Window:
    maker = outlook.development.bowl.maker
    return makers_window(None) if maker is None else window_of(outlook.landings)


def _checked(request: JudgementRequest) -> dict[str, Product]:
    faults = Faults()
    shelf = shelf_of(request.products, faults)
    check_hair(request.hair, "/hair", shelf, faults)
    check_mix(request.mix, "/mix", shelf, faults)
    check_wish(request.wish, "/wish", faults)
    for i, reading in enumerate(request.readings):
        _check_reading(reading, f"/readings/{i}", faults)
    faults.refuse_if_any()
    return shelf


def _check_reading(reading: Reading, at: str, faults: Faults) -> None:
    if (reading.lab is None) == (reading.words is None):
        came = "neither" if reading.lab is None else "both"
        faults.add(at, f"A reading is either a Lab or a word; got {came}. Give one of them.")
    elif reading.words is not None and reading.source != "eye":
        faults.add(
            f"{at}/source",
            f"A word comes from the eye; got {reading.source}. Send its Lab, or say source eye.",
        )
    elif reading.words is not None and reading.sd is not None:
        faults.add(f"{at}/sd", "How far off a reading may be goes with its Lab. Leave it out here.")
