"""The development strip: three looks at every minute, each with its likely range and words."""

from ...contract.predictions import StripMinute
from ..colour.lab import LabTuple
from ..colour.likely import likely_colour
from ..colour.words import half_level, hue_of
from ..hair.deep_tones import tone_in_words
from ..hair.head import Head, Heads
from ..hair.levels import bare_depth, toned_depth, undertone
from ..products.classes import CLASSES
from .development import Development, Looks
from .doubt import wet_doubt

_FLUSH_RISE = 1.0


def dry_words(lab: LabTuple, lifted: float) -> str:
    """Return depth and tone of a dry colour in words, read as the hair it is on is read."""
    level = toned_depth(lab, lifted)
    return f"level {half_level(level)}, {tone_in_words(lab, level)}"


def bare_words(head: Head) -> str:
    """Return the words of hair nothing has been put on: level and its own undertone."""
    level = head.level + head.gained_levels
    return f"level {half_level(level)}, {undertone(level) if head.lifted else 'natural'}"


def words_if_rinsed(development: Development, head: Head, lab: LabTuple, minute: int) -> str:
    """Return the words of a dry look: hair that nothing has been on yet goes by its own level."""
    if minute == 0 and head.dye_ks is None and head.white_share == 0:
        return bare_words(head)
    return dry_words(lab, development.read_as_lifted(head, minute))


def is_flush(lab: LabTuple, start: LabTuple, full: LabTuple) -> bool:
    """Return whether a wet look is the passing pink of dye still forming.

    Hue under 48° or over 330°, and a* above minute 0's and above full time's by 1.
    """
    hue = hue_of(lab)
    return (hue < 48 or hue > 330) and lab[1] >= max(start[1], full[1]) + _FLUSH_RISE


def wet_words(lab: LabTuple, flushed: bool) -> str:
    """Return what wet hair looks like: the depth it seems, and its tone or that it flushes."""
    level = bare_depth(lab[0])
    if not flushed:
        return f"looks {half_level(level)}, {tone_in_words(lab, level)}"
    hue = hue_of(lab)
    return f"looks {half_level(level)}, flushed {'mauve-pink' if hue > 330 or hue < 15 else 'pink'}"


class Strip:
    """The strip of one development on one uncertain head."""

    def __init__(self, development: Development, heads: Heads) -> None:
        self._development = development
        self._heads = heads
        bowl = development.bowl
        self._may_flush = not CLASSES[bowl.product_class].ready_made
        self._start = development.looks(heads.centre, 0)
        self._full = development.looks(heads.centre, bowl.full_min)

    def at(self, minute: int) -> StripMinute:
        """Return one minute of the strip."""
        looks = self._development.looks(self._heads.centre, minute)
        possible = [self._development.looks(head, minute) for head in self._heads.possible]
        centre = self._heads.centre
        return StripMinute(
            minute=minute,
            on_head=likely_colour(
                looks.on_head,
                [p.on_head for p in possible],
                wet_words(looks.on_head, self._flushed(looks, "on_head")),
                wet_doubt(self._start.on_head, looks.on_head, self._heads.seen),
            ),
            wiped=likely_colour(
                looks.wiped,
                [p.wiped for p in possible],
                wet_words(looks.wiped, self._flushed(looks, "wiped")),
                wet_doubt(self._start.wiped, looks.wiped, self._heads.seen),
            ),
            if_rinsed=likely_colour(
                looks.if_rinsed,
                [p.if_rinsed for p in possible],
                words_if_rinsed(self._development, centre, looks.if_rinsed, minute),
                self._development.dry_doubt(self._heads, minute),
            ),
        )

    def _flushed(self, looks: Looks, look: str) -> bool:
        if not self._may_flush:
            return False
        lab, start, full = (getattr(at, look) for at in (looks, self._start, self._full))
        return is_flush(lab, start, full)
