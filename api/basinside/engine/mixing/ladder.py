"""The ladder: each thing that is poured, in whole steps of the scale, and what it shows then."""

from collections.abc import Sequence
from dataclasses import dataclass

from msgspec import UNSET

from ...contract.mixes import Developer
from ...contract.weighing import MadeDeveloper, Pour, Rung, StockedDeveloper
from ..refusal import Faults
from ..timing.bowl import Parts
from .bowlful import Bowlful
from .scale import Speech, grams_of, nearest_steps, steps_around, steps_within
from .stock import Blend, called, volumes

_MOST_PART_G, _MOST_DEVELOPER_G = 5000.0, 20_000.0  # as the contract bounds them


@dataclass(frozen=True, slots=True)
class _Poured:
    developer: StockedDeveloper
    steps: int
    wanted_g: float


@dataclass(frozen=True, slots=True)
class Weighing:
    """A bowl in whole steps: colour first, then developer, the stronger before the weaker."""

    parts: Parts
    poured: Sequence[_Poured]
    step_g: float

    @property
    def developer(self) -> Developer | None:
        """Return the developer that the pours come to, by mass."""
        steps = sum(pour.steps for pour in self.poured)
        if steps == 0:
            return None
        percent = sum(p.developer.percent * p.steps for p in self.poured) / steps
        strongest = max(p.developer.percent for p in self.poured)
        return Developer(min(percent, strongest), grams_of(steps, self.step_g))


def weighed(bowlful: Bowlful, blend: Blend | None, step_g: float, faults: Faults) -> Weighing:
    """Return the bowl rounded to the scale, each pour by less than a step.

    Of two developers the stronger is rounded down and the weaker up, so that what is made is
    never stronger than wanted. Raises `Faulty` for what the scale cannot show.
    """
    parts = []
    for i, (product, grams) in enumerate(bowlful.parts):
        steps = nearest_steps(grams, step_g, _MOST_PART_G)
        if steps == 0:
            faults.add(
                f"{bowlful.at}/parts/{i}",
                f"A scale that shows steps of {step_g:g} g cannot weigh {grams:.3g} g of"
                f" {product.name}. Mix more, or use a finer scale.",
            )
        parts.append((product, grams_of(steps, step_g)))
    poured: list[_Poured] = []
    if bowlful.developer is not None and blend is not None:
        grams = bowlful.developer.grams
        poured = _poured(blend, grams, step_g)
        if nearest_steps(grams, step_g, _MOST_DEVELOPER_G) == 0:
            faults.add(
                f"{bowlful.at}/developer",
                f"A scale that shows steps of {step_g:g} g cannot weigh {grams:.3g} g of"
                " developer. Mix more, or use a finer scale.",
            )
    faults.refuse_if_any()
    return Weighing(parts, poured, step_g)


def _poured(blend: Blend, grams: float, step_g: float) -> list[_Poured]:
    if blend.weak is None:
        return [_Poured(blend.strong, nearest_steps(grams, step_g, _MOST_DEVELOPER_G), grams)]
    strong_g, weak_g = grams * blend.strong_share, grams * (1 - blend.strong_share)
    strong = steps_within(strong_g / step_g)
    weak = min(steps_around(weak_g / step_g), steps_within(_MOST_DEVELOPER_G / step_g) - strong)
    both = [_Poured(blend.strong, strong, strong_g), _Poured(blend.weak, weak, weak_g)]
    return [pour for pour in both if pour.steps]


def rungs(bowlful: Bowlful, weighing: Weighing, speech: Speech) -> list[Rung]:
    """Return the ladder; readings are those of a scale tared with the empty bowl on it."""
    step_g = weighing.step_g
    ladder: list[Rung] = []
    reading_steps = 0
    for (product, grams), (_, wanted_g) in zip(weighing.parts, bowlful.parts, strict=True):
        reading_steps += round(grams / step_g)
        reading_g = grams_of(reading_steps, step_g)
        ladder.append(
            Rung(
                pour="colour",
                name=f"{product.line} {product.name}",
                grams=grams,
                reading_g=reading_g,
                wanted_g=wanted_g,
                words=speech.amount(grams, wanted_g),
                reading_words=speech.reading(reading_g),
                product=product.id,
            )
        )
    for pour in weighing.poured:
        reading_steps += pour.steps
        reading_g = grams_of(reading_steps, step_g)
        grams = grams_of(pour.steps, step_g)
        percent = pour.developer.percent
        ladder.append(
            Rung(
                pour="developer" if percent else "diluent",
                name=called(pour.developer),
                grams=grams,
                reading_g=reading_g,
                wanted_g=pour.wanted_g,
                words=speech.amount(grams, pour.wanted_g),
                reading_words=speech.reading(reading_g),
                percent=percent,
            )
        )
    return ladder


def made_developer(
    weighing: Weighing, wanted: Developer | None, speech: Speech
) -> MadeDeveloper | None:
    """Return the developer as weighed, in its strengths and in words; None where there is none."""
    made = weighing.developer
    if made is None or wanted is None:
        return None
    total_g = made.grams + sum(grams for _, grams in weighing.parts)
    pours = [
        Pour(
            percent=pour.developer.percent,
            grams=grams_of(pour.steps, weighing.step_g),
            name=UNSET if pour.developer.name is None else pour.developer.name,
        )
        for pour in weighing.poured
    ]
    return MadeDeveloper(
        percent=made.percent,
        wanted_percent=wanted.percent,
        volumes=volumes(made.percent),
        grams=made.grams,
        in_bowl_percent=made.percent * made.grams / total_g,
        from_stock=pours,
        words=_words(weighing, made, wanted, speech),
    )


def _words(weighing: Weighing, made: Developer, wanted: Developer, speech: Speech) -> str:
    strength = f"{round(made.percent, 2):g} %, {round(volumes(made.percent), 1):g} vol"
    whole = f"{speech.amount(made.grams, wanted.grams)} of developer, {strength}"
    if len(weighing.poured) == 1:
        return f"{whole}."
    pours = " and ".join(
        f"{speech.amount(grams_of(p.steps, weighing.step_g), p.wanted_g)} of {called(p.developer)}"
        for p in weighing.poured
    )
    return f"{whole}: {pours}. Thin developer only where the leaflet allows it."
