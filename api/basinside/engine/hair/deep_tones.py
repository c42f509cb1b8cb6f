"""What a tone becomes on darker hair, and the words for a colour seen there.

A tone word names one hue and chroma on pale hair. On dark hair the same word is warmer, as
natural hair there is, and softer: near-black hardly shows a tone at all. The way there makes
the wish's colour; the way back makes the word of a colour.
"""

from math import atan2, cos, degrees, hypot, radians, sin

from ..colour.lab import LabTuple
from ..colour.words import SOFT_CHROMA, hue_of, tone_word
from .levels import darkness, room, undyed

Tone = tuple[float, float]  # a*, b*

# Common practice and assumptions, no published source.
PALE_NATURAL = (80.0, 15.0)  # hue and chroma of the word "natural" on pale hair
_MOST_TURNED = -15.0
_MOST_CHROMA = 1.6  # of natural hair's own
_LEAST_ROOM = 0.25
_NATURAL_BELOW = 8.75  # the highest level whose spoken half is under 9
_NATURAL_CHROMA, _NATURAL_HUE_ALIKE = (0.85, 1.15), 10.0
_MATT_BELOW = 7.75
_DEEP_BELOW = 8.25
_RED_HUE = 45.0
_DEEP_WORDS = {"yellow": "gold", "orange": "copper", "pink": "rose"}


def polar_tone(hue: float, chroma: float) -> Tone:
    """Return a*, b* of a hue in degrees and a chroma."""
    return chroma * cos(radians(hue)), chroma * sin(radians(hue))


def natural_tone(level: float) -> Tone:
    """Return a*, b* of "natural": what natural hair is up to level 7, neutral blonde from 9."""
    _, a, b = undyed(level, 0.0)
    return _placed(level, polar_tone(*PALE_NATURAL), (a, b))


def deepened(level: float, hue: float, chroma: float) -> Tone:
    """Return a*, b* that a tone of this hue and chroma on pale hair has at a level."""
    _, a, b = undyed(level, 0.0)
    deep_chroma = min(chroma * room(level), _MOST_CHROMA * hypot(a, b))
    deep = polar_tone(hue + _turn(level), deep_chroma)
    return _placed(level, polar_tone(hue, chroma), deep)


def _placed(level: float, pale: Tone, deep: Tone) -> Tone:
    dark = darkness(level)
    return pale[0] + dark * (deep[0] - pale[0]), pale[1] + dark * (deep[1] - pale[1])


def _turn(level: float) -> float:
    """Return the degrees by which natural hair of a level is redder than pale natural hair."""
    return max(_MOST_TURNED, hue_of(undyed(level, 0.0)) - PALE_NATURAL[0])


def as_on_pale_hair(lab: LabTuple, level: float) -> LabTuple:
    """Return a colour seen at a level as its tone would be on pale hair."""
    dark = darkness(level)
    if not dark:
        return lab
    stretch = 1.0 - dark * (1.0 - max(_LEAST_ROOM, room(level)))
    a, b = polar_tone(hue_of(lab) - dark * _turn(level), hypot(lab[1], lab[2]) / stretch)
    return lab[0], a, b


def tone_in_words(lab: LabTuple, level: float) -> str:
    """Return the tone word of a colour that reads at `level`.

    Under 9 a colour is "natural" when it is near what natural hair of that level is; soft green
    on dark hair is matt ash.
    """
    if level < _NATURAL_BELOW and _alike(lab, natural_tone(level)):
        return "natural"
    if level < _DEEP_BELOW and _alike(lab, undyed(level, 0.0)[1:]):
        return "natural"
    seen = as_on_pale_hair(lab, level)
    hue, chroma = hue_of(seen), hypot(seen[1], seen[2])
    word = tone_word(seen, level)
    if level < _MATT_BELOW and word == "green" and chroma < SOFT_CHROMA:
        return "matt ash"
    if level < _DEEP_BELOW:
        if word == "copper" and hue < _RED_HUE:
            return "red"
        return _DEEP_WORDS.get(word, word)
    return word


def _alike(lab: LabTuple, natural: Tone) -> bool:
    """Return whether a colour is near a natural tone in chroma and hue."""
    chroma, usual = hypot(lab[1], lab[2]), hypot(*natural)
    least, most = _NATURAL_CHROMA
    turned = degrees(atan2(lab[2], lab[1]) - atan2(natural[1], natural[0]))
    apart = abs((turned + 180.0) % 360.0 - 180.0)
    return least * usual <= chroma <= most * usual and apart <= _NATURAL_HUE_ALIKE
