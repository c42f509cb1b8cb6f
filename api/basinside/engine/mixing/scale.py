"""What the scale can show: whole steps, and amounts in the units people say them in."""

from collections.abc import Sequence
from math import ceil, floor, log10

from ...contract.weighing import Unit

# The avoirdupois ounce, exact by the international yard and pound agreement of 1959.
OUNCE_G = 28.349523125
_NEARLY = 1e-9  # of a step: so that 0.3 / 0.1 is three steps


def nearest_steps(grams: float, step_g: float, most_g: float) -> int:
    """Return the nearest whole number of steps, half up, that comes to no more than `most_g`."""
    return min(floor(grams / step_g + 0.5 + _NEARLY), floor(most_g / step_g + _NEARLY))


def steps_within(steps: float) -> int:
    """Return the whole steps in a number of steps, none more."""
    return floor(steps + _NEARLY)


def steps_around(steps: float) -> int:
    """Return the whole steps that hold a number of steps."""
    return ceil(steps - _NEARLY)


def grams_of(steps: int, step_g: float) -> float:
    """Return steps as grams, without the tail that binary fractions leave."""
    return round(steps * step_g, 6)


class Speech:
    """How amounts are said: in one unit, and to the digit the scale shows."""

    def __init__(self, unit: Unit, step_g: float, wanted_colour_g: Sequence[float]) -> None:
        self._unit = unit
        self._decimals = max(0, -floor(log10(step_g) + _NEARLY))
        if round(step_g, self._decimals) != step_g:
            self._decimals += 1
        self._one_part_g = min(wanted_colour_g)

    def amount(self, grams: float, wanted_g: float) -> str:
        """Return an amount in words: "24 g", "0.85 oz", "1.5 parts".

        A part is the smallest amount of colour wanted, before rounding to the scale's step.
        Millilitres are no unit here: a scale shows none, and each product has a density of its own.
        """
        if self._unit == "parts":
            parts = round(wanted_g / self._one_part_g, 2)
            return "1 part" if parts == 1 else f"{_plain(parts, 2)} parts"
        return self.reading(grams)

    def reading(self, grams: float) -> str:
        """Return a scale reading in words; in grams where amounts are said in parts."""
        if self._unit == "oz":
            return f"{_plain(grams / OUNCE_G, 2 if self._decimals < 2 else 3)} oz"
        unit = "g" if self._unit == "parts" else self._unit
        return f"{_plain(grams, self._decimals)} {unit}"


def _plain(number: float, decimals: int) -> str:
    text = f"{number:.{decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
