"""A colour with its likely range, ready to be said and shown."""

from collections.abc import Sequence

from msgspec import UNSET

from ...contract.colours import Colour, Edge, Range
from .difference import delta_e_2000, residual_from
from .lab import LabTuple
from .outcome import distances, likely_distance, moments, widest_direction
from .srgb import hex_of

_EDGE_STEPS = 12
_EDGE_CLOSE = 0.001  # of the distance


def _edge(lab: LabTuple) -> Edge:
    return Edge(lab, hex_of(lab)[0])


def likely_colour(
    lab: LabTuple, possible: Sequence[LabTuple], words: str, doubt: float = 0.0
) -> Colour:
    """Return a colour whose range holds 80 % of what the possible heads stand for.

    `doubt` is how far off the model may be on each axis, one deviation, CIEDE2000.

    The edges lie along the direction in which outcomes differ most, that far in CIEDE2000
    either way; the lighter edge first.
    """
    residual = residual_from(lab)
    within = likely_distance(distances([residual(other) for other in possible], doubt))
    direction = widest_direction(moments(possible)[1])
    if direction == (0.0, 0.0, 0.0):
        direction = (within, 0.0, 0.0)
    if direction[0] < 0 or (direction[0] == 0 and direction[2] < 0):
        direction = (-direction[0], -direction[1], -direction[2])
    shown, paled = hex_of(lab)
    return Colour(
        lab=lab,
        hex=shown,
        words=words,
        range=Range(
            within_delta_e=within,
            edges=(
                _edge(_at_distance(lab, direction, within)),
                _edge(_at_distance(lab, tuple(-d for d in direction), within)),  # type: ignore[arg-type]
            ),
        ),
        paled_on_screen=paled or UNSET,
    )


def _at_distance(lab: LabTuple, direction: LabTuple, distance: float) -> LabTuple:
    """Return the colour from `lab` along `direction` at this CIEDE2000, to one part in a thousand.

    Each step scales by what the last one fell short: CIEDE2000 grows almost in proportion
    along a straight line. Where lightness ends at black or white, the rest of the direction
    goes on; a direction with no rest ends there.
    """
    at = lab
    scale = 1.0
    for _ in range(_EDGE_STEPS):
        at = (
            min(100.0, max(0.0, lab[0] + scale * direction[0])),
            lab[1] + scale * direction[1],
            lab[2] + scale * direction[2],
        )
        reached = delta_e_2000(lab, at)
        if reached <= 0.0:
            return lab
        if abs(reached - distance) <= _EDGE_CLOSE * distance:
            break
        scale *= distance / reached
    return at
