"""Tells what each product makes alone on the hair it is meant for, beside its own name."""

from ...contract.labels import LabelColour, LabelsReply, LabelsRequest, ToldLabel
from ...contract.mixes import Developer
from ...contract.products import Product
from ..colour.difference import delta_e_2000
from ..colour.lab import LabTuple
from ..colour.srgb import hex_of
from ..colour.words import direction_of, half_level
from ..hair.fibre import PALEST_LEVEL
from ..hair.head import Head
from ..meaning import shelf_of
from ..products.developer import usual_ratio
from ..products.tones import CLEAR
from ..refusal import Faults
from ..version import engine_version
from .bowl import fill
from .development import Development
from .label import CORRECTORS, LIFTED_FROM, RATED_PERCENT, label_of
from .strip import dry_words

_NAME_MET = 3.0  # CIEDE2000: the usual tolerance
_GRAMS = 60.0


def tell_labels(request: LabelsRequest) -> LabelsReply:
    """Return what each product makes alone.

    Raises `Faulty` with every place whose meaning is wrong.
    """
    faults = Faults()
    shelf_of(request.products, faults)
    faults.refuse_if_any()
    return LabelsReply([_told(product) for product in request.products], engine_version())


def _told(product: Product) -> ToldLabel:
    head, hair = _meant_for(product)
    development = Development(fill([(product, _GRAMS)], _developer(product)))
    if CLEAR in product.tone:
        makes = _made(development, head, product.window.max)
        words = f"It holds no dye. On {hair} it leaves {makes.words}."
        return ToldLabel(product.id, hair, makes, words)
    label = label_of(product.class_, product.level, product.tone, product.promised_on)
    makes = _made(development, head, min(round(label.minutes), product.window.max))
    promised = _colour(label.colour, 1.0 if head.lifted else 0.0)
    miss = delta_e_2000(label.colour, makes.lab)
    return ToldLabel(
        product=product.id,
        hair=hair,
        makes=makes,
        words=_words(product, hair, makes, promised, miss),
        promises=promised,
        delta_e=miss,
    )


def _made(development: Development, head: Head, minute: int) -> LabelColour:
    lab = development.if_rinsed(head, minute)
    return _colour(lab, development.read_as_lifted(head, minute))


def _meant_for(product: Product) -> tuple[Head, str]:
    """Return the hair a product is meant for, and its name."""
    level = min(PALEST_LEVEL, product.level)
    lifted, white = False, 0.5
    if product.promised_on == "white":
        white, name = 1.0, "white hair"
    elif product.promised_on == "lifted" or level >= LIFTED_FROM:
        lifted, white, name = True, 0.0, f"lightened hair of level {half_level(level)}"
    else:
        name = f"half-white natural hair of level {half_level(level)}"
    head = Head(
        level=level,
        warmth=1.0,
        porosity=0.5,
        damp=0.0,
        white_share=white,
        lifted=lifted,
        rate=1.0,
        uptake=1.0,
    )
    return head, name


def _developer(product: Product) -> Developer | None:
    """Return the developer labels are rated with, or the nearest the leaflet allows."""
    ratio = usual_ratio(product)
    if not ratio:
        return None
    nearest = min(product.developer_percent, key=lambda p: (abs(p - RATED_PERCENT), p))
    return Developer(nearest, ratio * _GRAMS)


def _colour(lab: LabTuple, as_lifted: float) -> LabelColour:
    return LabelColour(lab, hex_of(lab)[0], dry_words(lab, as_lifted))


def _words(
    product: Product, hair: str, makes: LabelColour, promised: LabelColour, miss: float
) -> str:
    made = f"Alone on {hair} it makes {makes.words}"
    if product.class_ != "direct" and any(word in CORRECTORS for word in product.tone):
        return f"Its name is a pigment that corrects, as it looks on white hair. {made}."
    if miss <= _NAME_MET:
        return f"{made}: its own name, within {_NAME_MET:g} ΔE."
    way = direction_of(makes.lab, promised.lab).replace("_", " ")
    return f"{made}, {miss:.1f} ΔE from its name and {way}. No tube comes true on all hair."
