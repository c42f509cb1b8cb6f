"""How soon the change comes: very porous hair is half way when other hair has a third."""

from ..colour.difference import delta_e_2000
from ..hair.head import Head
from .development import Development

EARLY_MIN = 5
_HALF = 0.45  # of the change; hair of usual porosity has about a third by minute 5
_LITTLE = 3.0  # CIEDE2000: a change smaller than this is not worth a warning


def change_by(development: Development, head: Head, minute: float) -> float:
    """Return the share of full time's change in dry colour that is there after some minutes.

    By CIEDE2000 from the hair as it is when the mix goes on; 0 where nothing changes.
    """
    start, now, full = (
        development.if_rinsed(head, at) for at in (0, minute, development.bowl.full_min)
    )
    whole = delta_e_2000(start, full)
    return delta_e_2000(start, now) / whole if whole else 0.0


def early_words(development: Development, head: Head) -> str | None:
    """Return a sentence for a head that takes its colour early, or None."""
    if development.bowl.full_min <= EARLY_MIN:
        return None
    start = development.if_rinsed(head, 0)
    now = development.if_rinsed(head, EARLY_MIN)
    if change_by(development, head, EARLY_MIN) < _HALF or delta_e_2000(start, now) < _LITTLE:
        return None
    return f"It takes early: about half of the change is there by minute {EARLY_MIN}. Look then."
