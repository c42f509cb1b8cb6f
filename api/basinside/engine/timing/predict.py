"""What will be seen while a mix develops, and what rinsing it would leave."""

from collections.abc import Callable
from dataclasses import replace

from ...contract.hair import Hair
from ...contract.predictions import PredictionReply, PredictionRequest, Window
from ...contract.products import Product
from ...contract.wishes import Wish
from ..colour.difference import residual_from
from ..colour.lab import LabTuple
from ..hair.head import Head, Heads, head_of
from ..hair.reading import read_hair
from ..hair.unsure import LABEL_DOUBT, possible_heads
from ..meaning import check_hair, check_mix, check_wish, shelf_of
from ..products.tones import wish_lab
from ..refusal import Faults
from ..version import engine_version
from .bowl import bowl_of
from .coverage import minutes_that_count
from .development import Development, after_what_is_on
from .strip import Strip
from .window import landing_on, makers_window, window_of

Wear = Callable[[Head, Hair, dict[str, Product]], Head]


def heads_of(
    hair: Hair,
    shelf: dict[str, Product],
    wear: Wear = after_what_is_on,
    new_bowl: bool = False,
) -> Heads:
    """Return the head described and the heads it may be, with what is already on them.

    `wear` puts it on. For a `new_bowl` nothing has been seen yet, whatever a judged head has
    learnt of the one before.
    """
    read = read_hair(hair)
    centre = head_of(read)
    possible = [wear(head, read, shelf) for head in possible_heads(centre, read.sure)]
    if new_bowl and read.sure.seen:
        possible = [replace(head, label_doubt=LABEL_DOUBT) for head in possible]
    return Heads(
        centre=wear(centre, read, shelf),
        possible=possible,
        seen=read.sure.seen and not new_bowl,
    )


def lab_of_wish(wish: Wish) -> LabTuple:
    """Return the colour of a wish that `check_wish` has passed."""
    if wish.lab is not None:
        return wish.lab
    if wish.level is None or wish.tone is None:
        raise ValueError("a wish without Lab needs level and tone: check_wish comes first")
    return wish_lab(wish.level, wish.tone)


def predict(request: PredictionRequest) -> PredictionReply:
    """Return the development strip and the window.

    Raises `Faulty` with every place whose meaning is wrong.
    """
    faults = Faults()
    shelf = shelf_of(request.products, faults)
    check_hair(request.hair, "/hair", shelf, faults)
    check_mix(request.mix, "/mix", shelf, faults)
    if request.wish is not None:
        check_wish(request.wish, "/wish", faults)
    _check_minutes(request, shelf, faults)
    faults.refuse_if_any()

    development = Development(bowl_of(request.mix, shelf), request.look.bunched)
    heads = heads_of(request.hair, shelf)
    strip = Strip(development, heads)
    minutes = request.minutes or range(development.bowl.full_min + 1)
    return PredictionReply(
        strip=[strip.at(minute) for minute in minutes],
        window=_window(development, heads, request.wish),
        engine_version=engine_version(),
    )


def _check_minutes(request: PredictionRequest, shelf: dict[str, Product], faults: Faults) -> None:
    known = [shelf[p.product] for p in request.mix.parts if p.product in shelf]
    if not known:
        return
    longest = min(product.window.max for product in known)
    for i, minute in enumerate(request.minutes or ()):
        if minute > longest:
            faults.add(
                f"/minutes/{i}",
                f"The leaflet ends at {longest} minutes; got {minute}. Past it there is"
                " nothing to show.",
            )


def _window(development: Development, heads: Heads, wish: Wish | None) -> Window:
    maker = development.bowl.maker
    if wish is None or maker is None:
        return makers_window(maker)
    span = minutes_that_count(development.bowl.product_class, heads.centre, maker)
    residual = residual_from(lab_of_wish(wish))
    return window_of(
        [
            landing_on(heads, development, minute, residual, wish.tolerance)
            for minute in range(span.min, span.max + 1)
        ]
    )
