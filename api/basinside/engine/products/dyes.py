"""The dye components: how each absorbs while young and once fixed, and how fast it forms.

Peaks are those of known oxidation dyes: J. Soc. Cosmet. Chem. 24 (1973), table V, p. 114,
neutral solution: indoaniline 554 nm, 2-methoxy 538, 2-hydroxy 484, 2-amino 511; indamine 672,
2-methoxy 653, 2-hydroxy-5-methyl 504, 2-amino 552. Widths, tails, gains and time constants are
assumptions that calibration replaces.

The vivid ready-made dyes stand for brilliant cationic and anthraquinone direct dyes. A hair science
textbook (chapter on colouring) calls these more intense and vivid than oxidation dyes. It says that
a red and a yellow one are added to permanent reds for vibrancy. Their peaks are
from memory, their narrow bands an assumption: what it takes to reach the chroma of such dyes.
"""

from dataclasses import dataclass

from ...contract.products import Dyes
from ..colour.spectrum import Spectrum, gaussian_band

_TAIL = 0.05
_VIVID_TAIL = 0.01
_YOUNG_GAIN = 1.15


@dataclass(frozen=True, slots=True)
class Dye:
    """One component. Times in minutes; absorption is K/S per unit amount, 36 bands.

    A `ready_made` dye has its colour before it is mixed. A product known by its words alone may
    be taken to hold the dyes `in_words`, and for vivid words the `vivid` ones too. Any other dye
    is held only where the product's `dyes` say so.
    """

    name: str
    colour_min: float
    fix_min: float
    fixed: Spectrum
    young: Spectrum
    ready_made: bool
    in_words: bool
    vivid: bool = False


def _dye(
    name: str,
    fixed_nm: tuple[float, float],
    young_nm: tuple[float, float],
    times_min: tuple[float, float],
    young_gain: float = _YOUNG_GAIN,
    *,
    ready_made: bool = False,
    in_words: bool = False,
) -> Dye:
    return Dye(
        name,
        *times_min,
        fixed=gaussian_band(*fixed_nm, tail=_TAIL),
        young=gaussian_band(*young_nm, tail=_TAIL, gain=young_gain),
        ready_made=ready_made,
        in_words=in_words,
    )


def _vivid(name: str, peak_nm: float, width_nm: float) -> Dye:
    """Return a ready-made dye of one narrow band with hardly a tail: a brilliant direct dye."""
    band = gaussian_band(peak_nm, width_nm, tail=_VIVID_TAIL)
    return Dye(name, 0.1, 0.1, band, band, ready_made=True, in_words=False, vivid=True)


# Blue's young form absorbs near 535 nm, so it looks violet-pink, and it fixes half as fast as the
# others. On very pale hair that is the pink flush, and its fixing is the turn to neutral.
DYES: tuple[Dye, ...] = (
    _dye("yellow", (440, 40), (440, 40), (2.0, 4.0), in_words=True),
    _dye("orange", (484, 45), (484, 45), (2.5, 4.0), in_words=True),
    _dye("red", (512, 45), (512, 45), (2.5, 4.0), in_words=True),
    _dye("violet", (552, 45), (540, 45), (2.5, 4.0), in_words=True),
    _dye("blue", (610, 50), (535, 48), (2.5, 8.0), in_words=True),
    _dye("blue_green", (665, 45), (610, 50), (3.5, 9.0), in_words=True),
    # ready made: nothing to form, so young and fixed are the same
    _dye(
        "blue_violet_direct",
        (585, 55),
        (585, 55),
        (0.1, 0.1),
        young_gain=1.0,
        ready_made=True,
        in_words=True,
    ),
    _vivid("orange_direct", 477, 38),
    _vivid("red_direct", 524, 36),
    _vivid("violet_direct", 570, 38),
    _vivid("blue_direct", 625, 38),
)
# What a shelf could offer: dyes that form on the hair and that words can name.
OXIDATION_DYES = tuple(dye for dye in DYES if dye.in_words and not dye.ready_made)

DyeAmounts = tuple[float, ...]  # K/S at the peak, one for each of DYES
NO_DYE: DyeAmounts = (0.0,) * len(DYES)


def amounts_of(dyes: Dyes) -> DyeAmounts:
    """Return the amounts in the order of `DYES`."""
    return tuple(getattr(dyes, dye.name) for dye in DYES)


def spectrum_of(weights: list[tuple[float, Spectrum]]) -> list[float]:
    """Return the weighted sum of absorption spectra; zeros when there are none."""
    used = [(weight, spectrum) for weight, spectrum in weights if weight]
    if len(used) % 2:
        used.append((0.0, used[0][1]))
    if not used:
        return [0.0] * len(DYES[0].fixed)
    # four, then two at a time: this is where development spends its time
    if len(used) > 2:
        (v, p), (w, q), (x, r), (y, s), *rest = used
        total = [v * a + w * b + x * c + y * d for a, b, c, d in zip(p, q, r, s, strict=True)]
    else:
        (v, p), (w, q), *rest = used
        total = [v * a + w * b for a, b in zip(p, q, strict=True)]
    for (v, p), (w, q) in zip(rest[::2], rest[1::2], strict=True):
        total = [t + v * a + w * b for t, a, b in zip(total, p, q, strict=True)]
    return total
