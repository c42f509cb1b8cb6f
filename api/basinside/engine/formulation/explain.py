"""Why this mix, in words: when to choose it, and its reasons in colour."""

from collections.abc import Sequence
from itertools import takewhile

from ...contract.formulations import Coverage, Stronger
from ...contract.products import ProductClass
from ..colour.lab import LabTuple
from ..colour.words import half_level
from ..products.classes import CLASSES, levels_lifted
from ..products.developer import common_percents
from ..timing.pace import early_words
from ..timing.strip import dry_words, is_flush
from .coverage import worse_than_covered
from .order import ALIKE_WITHIN, GENTLEST_FIRST
from .score import Standing

_NOTICEABLE = 3.0

# Common practice, no published source.
_CHOOSE_WHEN: dict[ProductClass, str] = {
    "direct": "no developer is wanted and it may fade within some washes",
    "acid_demi": "the hair is fragile and it may fade softly",
    "neutral_demi": "it should stay outside and fade softly",
    "alkaline_demi": "it should last longer than a gentle toner",
    "permanent": "it has to go deep and last",
}
_KNOW: dict[ProductClass, str] = {
    "direct": "Ready-made dye: no developer, nothing forms on the hair.",
    "acid_demi": "Acid demi: the gentlest with developer, no lift.",
    "neutral_demi": "Neutral demi: stays outside, no lift.",
    "alkaline_demi": "Alkaline demi: goes a little deeper, and lifts natural hair faintly.",
    "permanent": "Permanent: lifts natural hair, so keep it off what is not to change.",
}

# Common practice, no published source.
_COVER: dict[Coverage, str] = {
    "covered": "White hair: covered. Nobody could tell it from the rest.",
    "blended": "White hair: blended. It takes colour and stays a little lighter, as highlights do.",
    "seen": "White hair: seen. It stays apart from the rest.",
}


def choose_when(standing: Standing, among: Sequence[Standing]) -> str:
    """Return when to choose this formula rather than the others shown."""
    name = standing.line_up.product_class
    others = [s for s in among if s.line_up.product_class == name and s is not standing]
    told_apart = _against(standing, others) if others else []
    words = [_CHOOSE_WHEN[name], *([" and ".join(told_apart)] if told_apart else [])]
    gentler = gentler_as_close(standing, among)
    if gentler is not None:
        words.append(f"though {gentler_words(gentler)} comes as close")
    return ", ".join(words)


def gentler_words(gentler: Standing) -> str:
    """Return a gentler class as it is said: "the gentler acid demi"."""
    return f"the gentler {CLASSES[gentler.line_up.product_class].title}"


def gentler_as_close(standing: Standing, among: Sequence[Standing]) -> Standing | None:
    """Return the gentlest of the mixes shown that is expected within 0.3 ΔE of this one, or None.

    Only classes that colour by developer count: direct dye is another matter, and says so itself.
    One that leaves white hair less covered is not as close.
    """
    name = standing.line_up.product_class
    if name == "direct":
        return None
    limit = standing.here.expected + ALIKE_WITHIN
    cover = worse_than_covered(standing.coverage)
    for gentler in takewhile(lambda c: c != name, GENTLEST_FIRST):
        close = [
            s
            for s in among
            if s.line_up.product_class == gentler != "direct"
            and s.here.expected <= limit
            and worse_than_covered(s.coverage) <= cover
        ]
        if close:
            return min(close, key=Standing.rank)
    return None


def _against(standing: Standing, others: Sequence[Standing]) -> list[str]:
    """Return what sets a formula apart from others of its class, two things at most."""
    words = []
    if all(len(standing.portions) < len(s.portions) for s in others):
        words.append("with the least to weigh")
    if all(standing.minute < s.minute for s in others):
        words.append("in the least time")
    if all(standing.here.chance > s.here.chance for s in others):
        words.append("with the best chance")
    if standing.cost is not None and all(
        s.cost is not None and standing.cost < s.cost for s in others
    ):
        words.append("at the lowest cost")
    return words[:2]


def reasons(
    standing: Standing,
    bare: LabTuple,
    predicted: LabTuple,
    miss: float,
    among: Sequence[Standing],
) -> list[str]:
    """Return the reasons of a formula, the weightiest first."""
    question = standing.question
    as_lifted = standing.development.read_as_lifted(question.heads[0][1].centre, standing.minute)
    said = [
        f"On hair as described it dries to {dry_words(predicted, as_lifted)},"
        f" {miss:.1f} ΔE from the wish.",
        _in_colour(bare, predicted),
        _in_tens(standing.here.chance, question.tolerance),
    ]
    if standing.coverage is not None:
        said.append(_COVER[standing.coverage])
    gentler = gentler_as_close(standing, among)
    if gentler is not None:
        said.append(_gentler(gentler, gentler.here.expected - standing.here.expected))
    flush = _flush_minute(standing)
    if flush is not None:
        said.append(
            f"About minute {flush} it flushes mauve-pink on the head: that is the blue still"
            " forming, not the result."
        )
    early = early_words(standing.development, question.heads[0][1].centre)
    if early is not None:
        said.append(early)
    said.append(_KNOW[standing.line_up.product_class])
    if standing.peroxide_percent:
        said.append(_developer(standing))
    return said


def _developer(standing: Standing) -> str:
    percent = standing.peroxide_percent
    if not standing.line_up.every_strength:
        return f"Developer {percent:g} %: the lowest strength all parts allow."
    told = f"Developer {percent:g} %: the lowest that does it."
    stronger = stronger_than(standing)
    return told if stronger is None else f"{told} {stronger.words}"


def stronger_than(standing: Standing) -> Stronger | None:
    """Return the next strength the leaflets allow, where it lifts this hair further, or None."""
    head = standing.question.heads[0][1].centre
    row = CLASSES[standing.line_up.product_class]
    parts = standing.line_up.parts_of(standing.portions)
    allowed = [p for p in common_percents([p for p, _ in parts]) if p > standing.peroxide_percent]
    if head.lifted or head.white_share == 1.0 or not row.lift_factor or not allowed:
        return None
    clock_min = standing.minute * head.rate
    here, there = (
        levels_lifted(row, percent, clock_min, head.lifted)
        for percent in (standing.peroxide_percent, allowed[0])
    )
    more = there - here
    if more < 0.25:
        lifts = "hardly lifts further"
    elif more < 0.75:
        lifts = "lifts half a level more"
    else:
        lifts = f"lifts {half_level(more)} level{'s' if more >= 1.25 else ''} more"
    return Stronger(allowed[0], more, f"{allowed[0]:g} % {lifts}, and is harder on skin and hair.")


def _gentler(gentler: Standing, further_off: float) -> str:
    apart = f"{abs(further_off):.1f} ΔE {'further off' if further_off > 0 else 'closer'}"
    if abs(further_off) < 0.05:
        apart = "just as close"
    return (
        f"{gentler_words(gentler).capitalize()} is expected {apart}: prefer it where the"
        " colour need not last as long."
    )


def _in_tens(chance: float, tolerance: float) -> str:
    tens = round(10 * chance)
    share = "Fewer than 1" if tens < 1 else "More than 9" if tens > 9 else f"About {tens}"
    return f"{share} in 10 heads like this one land within {tolerance:g} ΔE."


def _in_colour(bare: LabTuple, dry: LabTuple) -> str:
    """Return what the dye takes and gives, by b* and a* of dry hair."""
    yellow, red, depth = bare[2] - dry[2], bare[1] - dry[1], bare[0] - dry[0]
    words = []
    if yellow >= _NOTICEABLE:
        words.append(f"takes yellow: b* from {bare[2]:.0f} to {dry[2]:.0f}")
    elif yellow <= -_NOTICEABLE:
        words.append(f"adds gold: b* from {bare[2]:.0f} to {dry[2]:.0f}")
    if red >= _NOTICEABLE:
        words.append(f"takes red: a* from {bare[1]:.0f} to {dry[1]:.0f}")
    elif red <= -_NOTICEABLE:
        words.append(f"adds red: a* from {bare[1]:.0f} to {dry[1]:.0f}")
    if depth >= _NOTICEABLE:
        words.append(f"deepens: L* from {bare[0]:.0f} to {dry[0]:.0f}")
    elif depth <= -_NOTICEABLE:
        words.append(f"lifts: L* from {bare[0]:.0f} to {dry[0]:.0f}")
    return f"It {', '.join(words)}." if words else "It changes the dry colour little."


def _flush_minute(standing: Standing) -> int | None:
    """Return the minute the wiped hair is pinkest, if it flushes and then settles."""
    bowl = standing.development.bowl
    if CLASSES[bowl.product_class].ready_made:
        return None
    head = standing.question.heads[0][1].centre
    start, full = (standing.development.wiped(head, t) for t in (0, bowl.full_min))
    early = {t: standing.development.wiped(head, t) for t in range(3, 9)}
    peak = max(early, key=lambda t: (round(early[t][1], 4), -t))
    return peak if is_flush(early[peak], start, full) else None
