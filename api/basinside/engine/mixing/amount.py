"""How much colour this much hair needs.

The chart is common practice with no published source: sixty grams of colour with as much
developer covers hair of middling density to the shoulder. What was left over the last time
tells more than any chart, and goes before it.
"""

from math import ceil

from ...contract.weighing import HairAmount, HairDensity, HairLength, LeftOver, SuggestedAmount

CHART_SOURCE = "common practice, no published source"
_BEFORE_SOURCE = "what was mixed for this hair before, and what was left of it"

# Grams with developer, whole head, medium density.
_MIXED_G: dict[HairLength, float] = {
    "cropped": 40,
    "short": 60,
    "chin": 90,
    "shoulder": 120,
    "long": 180,
    "very_long": 240,
}
_DENSITY: dict[HairDensity, float] = {"fine": 0.8, "medium": 1.0, "thick": 1.35}
_LEFT: dict[LeftOver, float] = {"none": 0.0, "a_little": 0.1, "half": 0.5}
_SPARE = 1.1  # a tenth over what was used: a bowl that runs out is worse than one wiped out
_LEFT_WORDS: dict[LeftOver, str] = {
    "none": "left nothing over",
    "a_little": "left a little over",
    "half": "left half of it",
}


def suggested_amount(hair: HairAmount, ratio: float) -> SuggestedAmount:
    """Return the colour to weigh, whole grams, at `ratio` grams of developer per gram of colour.

    If an earlier mix is known, the amount is what it used and a tenth more. Otherwise it is the
    chart's, corrected in the same way by what was left.
    """
    chart_g = _MIXED_G[hair.length] * _DENSITY[hair.density] * hair.share / (1 + ratio)
    if hair.before is None:
        return _suggested(chart_g, ratio, CHART_SOURCE, _hair_words(hair))
    left_over, before_g = hair.before.left_over, hair.before.total_g
    factor = _SPARE * (1 - _LEFT[left_over])
    if before_g is None:
        words = f"{_hair_words(hair)}; last time the usual amount {_LEFT_WORDS[left_over]}"
        return _suggested(chart_g * factor, ratio, CHART_SOURCE, words)
    words = f"last time {before_g:g} g {_LEFT_WORDS[left_over]}"
    return _suggested(before_g * factor, ratio, _BEFORE_SOURCE, words)


def _suggested(colour_g: float, ratio: float, source: str, why: str) -> SuggestedAmount:
    total_g = float(max(1, ceil(round(colour_g, 6))))
    mixed_g = round(total_g * (1 + ratio), 1)
    return SuggestedAmount(
        total_g=total_g,
        mixed_g=mixed_g,
        source=source,
        words=f"About {total_g:g} g of colour, {mixed_g:g} g mixed: {why} ({source}).",
    )


def _hair_words(hair: HairAmount) -> str:
    length = hair.length.replace("_", " ")
    reach = f"{length} hair" if length in ("cropped", "short", "long", "very long") else ""
    words = f"{reach or f'hair to the {length}'} of {hair.density} density"
    return words if hair.share == 1 else f"{hair.share:.0%} of {words}"
