"""Which swatches to paint next, so that the fit learns most."""

from ...contract.swatches import SwatchPlanReply, SwatchPlanRequest
from ..meaning import shelf_of
from ..refusal import Faults
from ..version import engine_version
from .calibrate import dyed, fit_of
from .checks import check_count, check_swatches
from .plan import planned

_MOST_WEIGHED = 400


def plan_swatches(request: SwatchPlanRequest) -> SwatchPlanReply:
    """Return the swatches that teach most of the products sent, the best first.

    Raises `Faulty` with every place whose meaning is wrong.
    """
    faults = Faults()
    shelf = shelf_of(request.products, faults)
    check_swatches(request.swatches, shelf, faults)
    check_count(request.products, "/products", faults)
    wanted = dyed(request.products)
    if not wanted:
        faults.add(
            "/products", "None of these products holds dye, so there is nothing to learn of them."
        )
    faults.refuse_if_any()
    fit, _ = fit_of(request.products, request.swatches, shelf, also=wanted)
    swatches, expected = planned(
        request.products, wanted, request.levels, request.count, fit, _MOST_WEIGHED
    )
    return SwatchPlanReply(swatches, expected, engine_version())
