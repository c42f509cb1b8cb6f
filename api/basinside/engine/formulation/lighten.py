"""Under the lightener: light enough for this wish, more time, a deeper wish, or stop."""

from collections.abc import Iterator

import msgspec
from msgspec import UNSET

from ...contract.lightenings import LighteningReply, LighteningRequest
from ...contract.wishes import Wish
from ..colour.difference import residual_from
from ..colour.normal import share_below
from ..colour.words import half_level
from ..hair.fibre import PALEST_LEVEL
from ..hair.head import Head
from ..meaning import check_hair, check_wish
from ..refusal import Faults
from ..timing.predict import heads_of, lab_of_wish
from ..version import engine_version
from .first import at_level, lowest_level, nearest_by_any_dye

_HALVES = 5  # between two half levels the threshold is found to a sixtieth
# Three levels deeper is another wish; a level is about ten of L*.
_DEEPER_LEVELS = (0.5, 1.0, 1.5, 2.0, 2.5, 3.0)
_DEEPER_LIGHTNESS = (3.0, 6.0, 9.0, 12.0, 15.0, 18.0, 21.0, 24.0, 27.0, 30.0)


def lighten(request: LighteningRequest) -> LighteningReply:
    """Return what to do with hair under a lightener, from how light it is and the wish.

    Light enough is hair that some vector of oxidation dyes brings within tolerance of the wish.
    Raises `Faulty` with every place whose meaning is wrong.
    """
    faults = Faults()
    if request.hair.already_on:
        faults.add(
            "/hair/already_on",
            "Hair under a lightener is read as it is now. Leave out what was on it before.",
        )
    hair = msgspec.structs.replace(request.hair, already_on=[], also=[], lifted=True)
    check_hair(hair, "/hair", {}, faults)
    check_wish(request.wish, "/wish", faults)
    if request.hair.also:
        faults.add("/hair/also", "Look at one zone at a time. Leave the other hair out.")
    faults.refuse_if_any()

    head = heads_of(hair, {}).centre
    wish, tolerance = lab_of_wish(request.wish), request.wish.tolerance
    residual = residual_from(wish)
    enough = nearest_by_any_dye(head, residual) <= tolerance
    target = lowest_level(head, residual, tolerance)
    threshold = _threshold(head, request.wish)
    deeper = None if enough else _deeper_wish(head, request.wish)
    do, words, look_again = _do(request, head.level, enough, target, deeper)
    return LighteningReply(
        do=do,  # type: ignore[arg-type]
        words=words,
        level=min(PALEST_LEVEL, head.level),
        light_enough=_chance(head.level, threshold, request.hair.sure.level_sd),
        engine_version=engine_version(),
        lift_to=UNSET if enough or target is None else target,
        look_again_min=UNSET if look_again is None else look_again,
        deeper_wish=deeper or UNSET,
    )


def _do(
    request: LighteningRequest,
    level: float,
    enough: bool,
    target: float | None,
    deeper: Wish | None,
) -> tuple[str, str, int | None]:
    """Return what to do, in words, and when to look again."""
    lightener, elapsed = request.lightener, request.elapsed_min
    at = f"It is at level {half_level(level)}"
    if enough:
        return "rinse", f"Rinse now. {at}, light enough for this wish.", None
    ended = elapsed >= lightener.max_min
    if target is not None and not ended:
        again = min(elapsed + lightener.check_every_min, lightener.max_min)
        words = (
            f"More time. {at}; this wish needs level {half_level(target)}. Look again at minute"
            f" {again}; the leaflet ends at {lightener.max_min}. {_instead(deeper)}"
        )
        return "more_time", words.strip(), again
    why = (
        f"The leaflet's {lightener.max_min} minutes are up."
        if ended
        else "No lift makes this wish possible."
    )
    need = "" if target is None else f"; this wish needs level {half_level(target)}"
    if deeper is not None:
        return "deeper_wish", f"Rinse now. {why} {at}{need}. {_instead(deeper)}", None
    return (
        "stop",
        f"Rinse now and stop. {why} {at}{need}. Choose another wish, or lift again another day.",
        None,
    )


def _instead(deeper: Wish | None) -> str:
    if deeper is None:
        return ""
    if deeper.level is not None and deeper.tone is not None:
        return f"As it is, it carries level {half_level(deeper.level)} {' '.join(deeper.tone)}."
    return "As it is, it carries the same tone, deeper."


def _deeper_wish(head: Head, wish: Wish) -> Wish | None:
    """Return the lightest wish of the same tone that this hair already carries."""
    for deeper in _deeper(wish):
        miss = nearest_by_any_dye(head, residual_from(lab_of_wish(deeper)))
        if miss <= wish.tolerance:
            return deeper
    return None


def _deeper(wish: Wish) -> Iterator[Wish]:
    if wish.lab is not None:
        lightness, a, b = wish.lab
        for lower in _DEEPER_LIGHTNESS:
            if lightness > lower:
                yield msgspec.structs.replace(wish, lab=(lightness - lower, a, b))
    elif wish.level is not None:
        for lower in _DEEPER_LEVELS:
            if wish.level - lower >= 1:
                yield msgspec.structs.replace(wish, level=wish.level - lower)


def _threshold(head: Head, wish: Wish) -> float | None:
    """Return the level from which the wish can be made, to a sixtieth; None when from none."""
    residual, tolerance = residual_from(lab_of_wish(wish)), wish.tolerance
    target = lowest_level(at_level(head, 1.0), residual, tolerance)
    if target is None:
        return None
    low, high = target - 0.5, target
    for _ in range(_HALVES):
        middle = (low + high) / 2
        reached = nearest_by_any_dye(at_level(head, middle), residual) <= tolerance
        low, high = (low, middle) if reached else (middle, high)
    return high


def _chance(level: float, threshold: float | None, level_sd: float) -> float:
    if threshold is None:
        return 0.0
    if level_sd == 0:
        return float(level >= threshold)
    return share_below((level - threshold) / level_sd)
