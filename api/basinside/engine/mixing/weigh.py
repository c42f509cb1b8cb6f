"""How a mix is weighed: the ladder of readings, the developer, the cost, the minutes it keeps."""

from msgspec import UNSET

from ...contract.hair import Hair
from ...contract.mixes import Developer, Mix, Part
from ...contract.weighing import MixReply, MixRequest, Rounding, UseWithin
from ..colour.difference import delta_e_2000
from ..colour.lab import LabTuple
from ..hair.head import head_of
from ..hair.reading import read_hair
from ..products.developer import common_percents
from ..refusal import Faults
from ..timing.bowl import Parts, fill
from ..timing.development import Development, after_what_is_on
from ..version import engine_version
from .bowlful import Bowlful, bowlful_of
from .ladder import Weighing, made_developer, rungs, weighed
from .scale import Speech
from .stock import Blend, NotInStock, blend_for, stocked

_INVISIBLE = 1.0  # ΔE00 that is about the least an eye sees: common practice
_PLAIN = 2.0


def weigh(request: MixRequest) -> MixReply:
    """Return the mix as a ladder of scale readings, with what belongs to it.

    Raises `Faulty` with every place whose meaning is wrong, a developer that cannot be made
    from what is in stock among them.
    """
    faults = Faults()
    bowlful = bowlful_of(request, faults)
    blend = _blend(request, bowlful, faults)
    weighing = weighed(bowlful, blend, request.step_g, faults)
    developer = weighing.developer
    speech = Speech(request.unit, request.step_g, [grams for _, grams in bowlful.parts])
    ladder = rungs(bowlful, weighing, speech)
    return MixReply(
        recipe=ladder,
        developer=made_developer(weighing, bowlful.developer, speech),
        cost=_cost(weighing),
        mix=_mix(weighing.parts, developer, bowlful.minute),
        total_g=ladder[-1].reading_g,
        use_within=_use_within(weighing.parts, developer),
        engine_version=engine_version(),
        rounding=_rounding(request.hair, bowlful, weighing) or UNSET,
        suggested=bowlful.suggested or UNSET,
    )


def _blend(request: MixRequest, bowlful: Bowlful, faults: Faults) -> Blend | None:
    if bowlful.developer is None:
        return None
    percent = bowlful.developer.percent
    if request.developers_in_stock is None:
        return Blend(stocked([percent])[0])
    products = [product for product, _ in bowlful.parts]
    try:
        return blend_for(
            percent,
            stocked(request.developers_in_stock),
            {product.line for product in products},
            common_percents(products),
        )
    except NotInStock as missing:
        faults.add("/developers_in_stock", str(missing), missing.instead_percent)
        faults.refuse_if_any()
        raise


def _mix(parts: Parts, developer: Developer | None, minute: int | None) -> Mix | None:
    if minute is None:
        return None
    return Mix([Part(product.id, grams) for product, grams in parts], minute, developer)


def _cost(weighing: Weighing) -> float | None:
    """Return the price of the colour, and of the developers whose price is known."""
    cost = 0.0
    for product, grams in weighing.parts:
        if product.price_per_100g is None:
            return None
        cost += product.price_per_100g * grams / 100
    for pour in weighing.poured:
        price = pour.developer.price_per_100g or 0.0
        cost += price * pour.steps * weighing.step_g / 100
    return round(cost, 4)


def _use_within(parts: Parts, developer: Developer | None) -> UseWithin:
    known = [p.use_within_min for p, _ in parts if p.use_within_min is not None]
    # gas builds up in a closed bottle: 2 H2O2 → 2 H2O + O2
    after = "Throw away what is left" + ("; never shut a mix in." if developer else ".")
    if len(known) == len(parts):
        words = f"Use it within {min(known)} minutes of mixing, by its leaflet. {after}"
        return UseWithin(words, min(known))
    words = "The leaflet says for how long the mix may be used."
    if known:
        words += f" One of its products gives {min(known)} minutes."
    return UseWithin(f"{words} {after}")


def _rounding(hair: Hair | None, bowlful: Bowlful, weighing: Weighing) -> Rounding | None:
    """Return how far the weighed mix lands from the wanted one, dry, on this hair."""
    if hair is None or bowlful.minute is None:
        return None
    minute = bowlful.minute
    read = read_hair(hair)
    head = after_what_is_on(head_of(read), read, bowlful.shelf)

    def dry(parts: Parts, developer: Developer | None) -> LabTuple:
        return Development(fill(parts, developer)).if_rinsed(head, minute)

    moved = delta_e_2000(
        dry(bowlful.parts, bowlful.developer), dry(weighing.parts, weighing.developer)
    )
    return Rounding(moved, minute, _rounding_words(moved))


def _rounding_words(delta_e: float) -> str:
    if round(delta_e, 2) == 0:
        return "Rounding to the scale leaves the colour where it was."
    shift = f"Rounding to the scale moves the colour by ΔE {delta_e:.2g}"
    if delta_e < _INVISIBLE:
        return f"{shift}, which no eye sees."
    if delta_e < _PLAIN:
        return f"{shift}, which a trained eye may see."
    return f"{shift}, which shows. Mix more, or use a finer scale."
