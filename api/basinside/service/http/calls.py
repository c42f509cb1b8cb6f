"""The one table of calls: what is served where, in words. The document is written from it."""

from typing import Any, Literal, NamedTuple

import msgspec

from ...contract.formulations import FormulationReply, FormulationRequest
from ...contract.health import Health
from ...contract.predictions import PredictionReply, PredictionRequest
from ...contract.products import Shelf
from . import examples


class Call(NamedTuple):
    """One call. `examples` are worked requests, or for a GET worked replies, by their title."""

    method: Literal["get", "post"]
    path: str
    operation: str
    group: str
    summary: str
    description: str
    asked: type[msgspec.Struct] | None
    replied: type[msgspec.Struct]
    examples: dict[str, Any]


GROUPS = {
    "Calculations": "Pure: all they need is in the request, nothing stored is read, and the same"
    " request always gets the same answer, on the server and on the phone.",
    "Shelf": "The products at hand.",
    "Server": "Whether it is ready, and what answers.",
}

CALLS = (
    Call(
        "post",
        "/api/formulations",
        "formulate",
        "Calculations",
        "What to mix",
        "What should be mixed from these products for this hair and this wish? Ranked formulas,"
        " each with its dry colour, how sure that is, the minutes to rinse in and the reasons;"
        " and when the products cannot do it, by how much and what would help.",
        FormulationRequest,
        FormulationReply,
        examples.FORMULATIONS,
    ),
    Call(
        "post",
        "/api/predictions",
        "predict",
        "Calculations",
        "What will be seen, minute by minute",
        "What will this mix look like on this hair while it develops? At each minute three looks:"
        " on the head (product on, wet), wiped (clean, wet) and dry, had it been rinsed then."
        " A `mix` of a formula goes in unchanged and gives the same colour.",
        PredictionRequest,
        PredictionReply,
        examples.PREDICTIONS,
    ),
    Call(
        "get",
        "/api/products",
        "listProducts",
        "Shelf",
        "The products on the shelf",
        "The salon's products, ready to be put into a calculation. `demo` is true while the"
        " shelf is the invented one. Read-only.",
        None,
        Shelf,
        examples.PRODUCTS,
    ),
    Call(
        "get",
        "/api/health",
        "health",
        "Server",
        "Whether the server is ready",
        "Answers once the server takes requests. `engine_version` names the engine's files:"
        " answers of different versions may differ.",
        None,
        Health,
        examples.HEALTH,
    ),
)
