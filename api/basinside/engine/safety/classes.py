"""Service classes: what the safety rules need to know of each, and which class a product is."""

from typing import NamedTuple

from ...contract.products import ProductClass
from ...contract.safety import LineCard, ServiceClass
from .conditions import NOT_ASKED


class ServiceRow(NamedTuple):
    """What a class is taken to be while its card does not say: `not_asked` must be asked."""

    developer: bool  # is mixed with developer
    sensitiser: str
    persulfate: str
    ammonia: str


# Sensitiser: yes for all that is mixed with developer, as the rules' sources have it. The rest
# is common practice, no published source.
SERVICE_CLASSES: dict[ServiceClass, ServiceRow] = {
    "oxidative_permanent": ServiceRow(True, "yes", "no", NOT_ASKED),
    "oxidative_toner": ServiceRow(True, "yes", "no", NOT_ASKED),
    "direct_dye": ServiceRow(False, NOT_ASKED, "no", "no"),
    "plant_dye": ServiceRow(False, NOT_ASKED, "no", "no"),
    "lightener_powder": ServiceRow(True, "yes", "yes", "yes"),
    "lightener_cream": ServiceRow(True, "yes", NOT_ASKED, NOT_ASKED),
    "colour_remover": ServiceRow(False, NOT_ASKED, NOT_ASKED, "no"),
    "oxidant_only": ServiceRow(True, "yes", "no", "no"),
    "no_chemical": ServiceRow(False, "no", "no", "no"),
}
LIGHTENERS: frozenset[str] = frozenset({"lightener_powder", "lightener_cream"})
OXIDATIVE: frozenset[str] = frozenset({"oxidative_permanent", "oxidative_toner"})

# The one table from a product's class to its service class.
SERVICE_CLASS_OF: dict[ProductClass, ServiceClass] = {
    "alkaline_demi": "oxidative_toner",
    "neutral_demi": "oxidative_toner",
    "acid_demi": "oxidative_toner",
    "permanent": "oxidative_permanent",
    "direct": "direct_dye",
}
WITHOUT_AMMONIA: frozenset[ProductClass] = frozenset({"neutral_demi", "acid_demi", "direct"})


def service_class(card: LineCard) -> ServiceClass:
    """Return the service class of a card. Raises ValueError for a card that names no class."""
    if card.class_ is not None:
        return card.class_
    if card.product_class is None:
        raise ValueError(f"The line {card.line!r} names no class.")
    return SERVICE_CLASS_OF[card.product_class]
