"""The mix that is asked for, in grams: as given, or as proportions brought to an amount."""

from dataclasses import dataclass

from ...contract.mixes import Developer, Mix
from ...contract.weighing import MixRequest, SuggestedAmount
from ..meaning import Shelf, check_hair, check_mix, shelf_of
from ..refusal import Faults
from ..timing.bowl import Parts, usual_developer
from .amount import suggested_amount

_MOST_DEVELOPER_G = 20_000.0  # as the contract bounds it
_MOST_RATIO = 1000.0


@dataclass(frozen=True, slots=True)
class Bowlful:
    """What is wanted before it is rounded. `developer` is None where the parts take none."""

    parts: Parts
    developer: Developer | None
    minute: int | None
    suggested: SuggestedAmount | None
    shelf: Shelf
    at: str  # the mix's place in the request, a JSON Pointer


def bowlful_of(request: MixRequest, faults: Faults) -> Bowlful:
    """Return the bowl that is asked for, brought to its amount.

    Raises `Faulty` with every place whose meaning is wrong.
    """
    shelf = shelf_of(request.products, faults)
    if request.hair is not None:
        check_hair(request.hair, "/hair", shelf, faults)
    at, mix = _mix_asked(request, faults)
    if mix is not None:
        check_mix(mix, at, shelf, faults)
    faults.refuse_if_any()
    if mix is None:
        raise ValueError("a request without a mix or parts has been refused before")

    parts: Parts = [(shelf[part.product], part.grams) for part in mix.parts]
    developer = mix.developer or usual_developer(parts)
    if developer is not None and developer.grams == 0:
        developer = None
    colour_g = sum(grams for _, grams in parts)
    suggested = None
    if request.hair_amount is not None:
        ratio = developer.grams / colour_g if developer else 0.0
        if ratio > _MOST_RATIO:
            faults.add(
                f"{at}/developer",
                f"This is over {_MOST_RATIO:g} g of developer to a gram of colour. Check the grams"
                " of both.",
            )
            faults.refuse_if_any()
        suggested = suggested_amount(request.hair_amount, ratio)
    total_g = request.total_g
    if total_g is None and request.parts is not None and suggested is not None:
        total_g = suggested.total_g
    if total_g is not None:
        parts, developer = _brought_to(total_g, colour_g, parts, developer)
        if developer is not None and developer.grams > _MOST_DEVELOPER_G:
            faults.add(
                "/total_g",
                f"With {total_g:g} g of colour this mix takes {developer.grams:g} g of developer,"
                f" more than {_MOST_DEVELOPER_G:g} g. Check the developer's grams.",
            )
            faults.refuse_if_any()
    minute = mix.minutes if request.parts is None else request.minutes
    return Bowlful(parts, developer, minute, suggested, shelf, at)


def _mix_asked(request: MixRequest, faults: Faults) -> tuple[str, Mix | None]:
    if request.mix is not None:
        for name in ("parts", "developer", "minutes"):
            if getattr(request, name) is not None:
                faults.add(
                    f"/{name}", f"Give either a whole `mix` or `parts`: `{name}` goes with parts."
                )
        return "/mix", request.mix
    if request.parts is None:
        faults.add("/mix", "Say what is mixed: a `mix` in grams, or `parts` with `total_g`.")
        return "/mix", None
    if request.total_g is None and request.hair_amount is None:
        faults.add(
            "/total_g",
            "Say how many grams of colour the parts come to, or how much hair there is to cover"
            " (hair_amount).",
        )
    return "", Mix(request.parts, request.minutes or 0, request.developer)


def _brought_to(
    total_g: float, colour_g: float, parts: Parts, developer: Developer | None
) -> tuple[Parts, Developer | None]:
    scaled = [(product, grams / colour_g * total_g) for product, grams in parts]
    if developer is None:
        return scaled, None
    return scaled, Developer(developer.percent, developer.grams / colour_g * total_g)
