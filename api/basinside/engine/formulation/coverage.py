"""White hair under a mix as it is weighed up: covered, blended or seen."""

from ...contract.formulations import Coverage
from ..colour.difference import delta_e_2000
from ..colour.lab import LabTuple
from ..hair.appearance import dry_lab
from ..hair.head import Head
from ..timing.bowl import Parts
from ..timing.coverage import coverage, natural_share, strands_apart
from ..timing.development import Development

ALIKE_WITHIN = 3.0  # CIEDE2000: white strands nobody tells from the rest
_HARDLY_WHITE = 0.05  # share of white hair under which nobody speaks of cover
_BEST_FIRST: tuple[Coverage, ...] = ("covered", "blended", "seen")


def has_white(head: Head) -> bool:
    """Return whether there is enough white hair to speak of cover."""
    return head.white_share >= _HARDLY_WHITE


def white_stands_off(head: Head) -> float:
    """Return the CIEDE2000 of white strands from pigmented ones as they are; 0 without white."""
    if not has_white(head):
        return 0.0
    (_, pigmented), (_, white) = head.strands()
    return delta_e_2000(dry_lab(pigmented), dry_lab(white))


def coverage_of(
    development: Development, parts: Parts, head: Head, minute: int, wish: LabTuple
) -> Coverage | None:
    """Return how a mix leaves the white hair; None without white hair.

    `parts` are the products in the bowl with their grams. Where all hair is white, its distance
    from the wish takes the place of that from pigmented hair.
    """
    if not has_white(head):
        return None
    apart = strands_apart(development, head, minute)
    if apart is None:
        apart = delta_e_2000(wish, development.if_rinsed(head, minute))
    return coverage(apart, development.bowl.product_class, natural_share(parts))


def worse_than_covered(coverage: Coverage | None) -> int:
    """Return 0 for covered or no white hair, 1 for blended, 2 for seen."""
    return 0 if coverage is None else _BEST_FIRST.index(coverage)
