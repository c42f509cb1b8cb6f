"""Development: what a bowl does to a head of hair, minute by minute.

Three looks at every minute: on the head (product on, wet), wiped (clean, wet), and dry if
rinsed now.
"""

from dataclasses import dataclass, replace
from math import exp, hypot

from ...contract.hair import Hair
from ...contract.products import Product
from ..colour.lab import LabTuple, lab_of
from ..colour.spectrum import Spectrum
from ..hair.appearance import (
    USUAL_BUNCHED,
    WET_AT_BASIN,
    Strands,
    dry_dyed_lab,
    layer_terms,
    mixed,
    through_layer,
    wet_reflectance,
    with_dye,
)
from ..hair.head import Head, Heads
from ..products.classes import CLASSES, levels_lifted
from ..products.dyes import DYES, spectrum_of
from .bowl import Bowl, bowl_of
from .doubt import by_depth, dry_doubt, left_by_swatches, of_the_ladder
from .kinetics import Fractions, in_hair, on_top, rinsed_row, strand_uptakes
from .learnt import unsure_by

_BARE_CREAM_KS = 0.004  # assumption: the product itself is nearly white
_LAYER_GAIN = 0.5  # assumption


@dataclass(frozen=True, slots=True)
class Looks:
    """The three looks of one head at one minute, CIELAB."""

    on_head: LabTuple
    wiped: LabTuple
    if_rinsed: LabTuple


class Development:
    """One bowl developing. Keeps what different heads share: kinetics and the product on top."""

    def __init__(self, bowl: Bowl, bunched: float = USUAL_BUNCHED) -> None:
        self.bowl = bowl
        self.bunched = bunched
        self._row = CLASSES[bowl.product_class]
        self._used = [i for i, amount in enumerate(bowl.amounts) if amount]
        self._on_hair: dict[tuple[float, float], Spectrum] = {}
        self._rinsed: dict[tuple[float, float], Spectrum] = {}
        self._met: dict[int, tuple[Head, tuple[float, ...], Strands | None]] = {}
        self._on_top: dict[float, list[tuple[float, float]]] = {}

    def looks(self, head: Head, minute: float) -> Looks:
        """Return the three looks of a head after `minute` minutes."""
        wet = self._wet(head, minute)
        return Looks(
            on_head=lab_of(through_layer(wet, self._layer(minute))),
            wiped=lab_of(wet),
            if_rinsed=self.if_rinsed(head, minute),
        )

    def wiped(self, head: Head, minute: float) -> LabTuple:
        """Return only the wet look of a head wiped clean after `minute` minutes."""
        return lab_of(self._wet(head, minute))

    def _wet(self, head: Head, minute: float) -> Spectrum:
        strands = head.strands(self._lift(head, minute * head.rate))
        on_hair = self._on_hair_ks(head.porosity, self.dye_clock_min(head, minute))
        dyed = with_dye(strands, on_hair, self._uptakes(head))
        return mixed(
            [(share, wet_reflectance(ks, WET_AT_BASIN, self.bunched)) for share, ks in dyed]
        )

    def if_rinsed(self, head: Head, minute: float) -> LabTuple:
        """Return only the dry look of a head rinsed after `minute` minutes."""
        known = self._met.get(id(head))
        _, uptakes, strands = known or self._meet(head)
        if strands is None:
            strands = head.strands(self._lift(head, minute * head.rate))
        left = self.rinsed_ks(head.porosity, self.dye_clock_min(head, minute))
        return dry_dyed_lab(strands, left, uptakes)

    def _meet(self, head: Head) -> tuple[Head, tuple[float, ...], Strands | None]:
        """Keep what no minute changes: a head's uptakes, and its strands where nothing lifts.

        By identity, since comparing heads takes longer; keeping the head keeps that its own.
        """
        lifts = self._lift(head, 1.0) > 0
        met = head, self._uptakes(head), None if lifts else head.strands()
        self._met[id(head)] = met
        return met

    def dry_doubt(self, heads: Heads, minute: float) -> float:
        """Return how far off the model may be about the dry look, CIEDE2000 on each axis."""
        head = heads.centre
        clock_min, uptakes = self.dye_clock_min(head, minute), self._uptakes(head)
        taken = uptakes[0] * self._dye_left(head.porosity, clock_min)
        dye = self.rinsed_ks(head.porosity, clock_min)
        # no simulated head lifts otherwise than the model says: a lift cut short is no surer one
        lift = self._lift(head, max(minute, self.bowl.full_min) * head.rate)
        depth = by_depth(head.strands(lift), head.white_share, dye, uptakes)
        ladder = of_the_ladder(head.level + head.gained_levels + lift, head.white_share)
        if (learnt := self.bowl.learnt) is None:
            return dry_doubt(taken, heads.seen, depth, ladder)
        depth *= left_by_swatches(learnt.share)
        strands = head.strands(self._lift(head, minute * head.rate))
        of, amounts = self.bowl.product_class, self.bowl.amounts
        unsure = unsure_by(learnt, of, amounts, strands, uptakes, (head.porosity, clock_min))
        return hypot(dry_doubt(taken, heads.seen, depth, ladder), unsure)

    def dye_clock_min(self, head: Head, minute: float) -> float:
        """Return the minutes on the dye's clock: the head's own, at the speed of the line."""
        return minute * head.rate * self.bowl.rate

    def _dye_left(self, porosity: float, clock_min: float) -> float:
        """Return the dye a unit of uptake leaves once rinsed, K/S at the peaks."""
        young, fixed = in_hair(self.bowl.product_class, porosity, clock_min)
        kept = self._row.young_kept
        return sum(
            amount * (f + kept * y)
            for amount, y, f in zip(self.bowl.amounts, young, fixed, strict=True)
        )

    def rinsed_strands(self, head: Head, minute: float) -> Strands:
        """Return (share, K/S) of the pigmented and, if any, the white strands once rinsed."""
        strands = head.strands(self._lift(head, minute * head.rate))
        left = self.rinsed_ks(head.porosity, self.dye_clock_min(head, minute))
        return with_dye(strands, left, self._uptakes(head))

    def read_as_lifted(self, head: Head, minute: float) -> float:
        """Return how far a head is to be read as lifted hair after `minute` minutes, 0–1.

        As far as lifting has laid its warmth bare; white strands wholly, since there is no
        pigment in them to be natural.
        """
        oxidised = head.oxidised(self._lift(head, minute * head.rate))
        return 1.0 - (1.0 - oxidised) * (1.0 - head.white_share)

    def worn(self, head: Head, minute: float) -> Head:
        """Return the head once this bowl was rinsed off it after `minute` minutes."""
        clock_min = self.dye_clock_min(head, minute)
        left = self.rinsed_ks(head.porosity, clock_min)
        total = self._dye_left(head.porosity, clock_min)
        uptake, *white = self._uptakes(head)
        worn = replace(
            head,
            dye_ks=_added(head.dye_ks, left, uptake),
            dye_total=head.dye_total + uptake * total,
            gained_levels=head.gained_levels + self._lift(head, minute * head.rate),
        )
        if not white:
            return worn
        return replace(
            worn,
            white_dye_ks=_added(head.white_dye_ks, left, white[0]),
            white_dye_total=head.white_dye_total + white[0] * total,
        )

    def rinsed_ks(self, porosity: float, clock_min: float) -> Spectrum:
        """Return the K/S a unit of uptake leaves once rinsed, 36 bands."""
        key = (porosity, clock_min)
        if key not in self._rinsed:
            self._rinsed[key] = self._left_by(key)
        return self._rinsed[key]

    def _left_by(self, key: tuple[float, float]) -> Spectrum:
        of_class, amounts = self.bowl.product_class, self.bowl.amounts
        porosity, clock_min = key
        return spectrum_of(
            [(amounts[i], rinsed_row(i, of_class, porosity, clock_min)) for i in self._used]
        )

    def _on_hair_ks(self, porosity: float, clock_min: float) -> Spectrum:
        key = (porosity, clock_min)
        if key not in self._on_hair:
            self._on_hair[key] = self._spectrum(key, 1.0)
        return self._on_hair[key]

    def _spectrum(self, key: tuple[float, float], young_share: float) -> Spectrum:
        return self._dyed(in_hair(self.bowl.product_class, *key), young_share)

    def _dyed(self, fractions: Fractions, young_share: float = 1.0) -> list[float]:
        """Return the K/S of the bowl's dye at these young and fixed fractions."""
        young, fixed = fractions
        amounts = self.bowl.amounts
        return spectrum_of(
            [(amounts[i] * fixed[i], DYES[i].fixed) for i in self._used]
            + [(amounts[i] * young[i] * young_share, DYES[i].young) for i in self._used]
        )

    def _layer(self, minute: float) -> list[tuple[float, float]]:
        if minute not in self._on_top:
            lying = self.bowl.lying
            gain = _LAYER_GAIN * lying.dose / lying.scattering_power
            ks = [_BARE_CREAM_KS + gain * d for d in self._dyed(on_top(minute * self.bowl.rate))]
            self._on_top[minute] = layer_terms(ks, lying.scattering_power)
        return self._on_top[minute]

    def _uptakes(self, head: Head) -> tuple[float, ...]:
        uptakes = strand_uptakes(self._row, head, self.bowl.peroxide_percent)
        if not head.uptake_steps:
            return uptakes
        # the label's doubt makes this bowl's uptake less sure than the head's own
        own = head.uptake_sd
        wider = hypot(own, head.label_doubt * self.bowl.by_label) - own
        return tuple(exp(head.uptake_steps * wider) * uptake for uptake in uptakes)

    def _lift(self, head: Head, clock_min: float) -> float:
        return levels_lifted(self._row, self.bowl.peroxide_percent, clock_min, head.lifted)


def _added(before: Spectrum | None, left: Spectrum, uptake: float) -> Spectrum:
    if before is None:
        return tuple(uptake * d for d in left)
    return tuple(b + uptake * d for b, d in zip(before, left, strict=True))


def after_what_is_on(head: Head, hair: Hair, shelf: dict[str, Product]) -> Head:
    """Return a head with every mix of `hair.already_on` developed and rinsed, oldest first."""
    for mix in hair.already_on:
        head = Development(bowl_of(mix, shelf)).worn(head, mix.minutes)
    return head
