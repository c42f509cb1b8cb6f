"""Pictures of strands, a card and grey strips, worked out from spectra, with all that spoils them.

A scene is drawn from its seed. The camera sensitivities, the lights and the 24 reflectances of the
card are measured or published data that colour-science carries; hair is the engine's. What a camera
does afterwards, and how good marks and papers are, is assumed, and no published source says it.
"""

import importlib
import io
import random
import warnings
from dataclasses import dataclass
from functools import cache

import numpy as np
from PIL import Image

from basinside.engine.colour.lab import lab_of
from basinside.engine.colour.spectrum import WAVELENGTHS_NM
from basinside.engine.hair.appearance import dry_reflectance
from basinside.engine.hair.fibre import fibre_ks
from basinside.engine.products.dyes import OXIDATION_DYES

NM = np.array(WAVELENGTHS_NM)
WIDTH, HEIGHT = 800, 600
# CIE illuminants of 2,700 to 7,500 K: five LEDs, three fluorescent tubes (FL2 of the old kind, FL11
# and FL12 of three bands), an incandescent lamp and two phases of daylight.
LIGHTS = (
    "LED-B1",
    "A",
    "FL12",
    "LED-B2",
    "FL11",
    "FL2",
    "LED-B3",
    "D50",
    "LED-B4",
    "LED-B5",
    "D75",
)
CAMERAS = (0, 1)
STEPS = (0.032, 0.085, 0.18, 0.34, 0.57, 0.86)
UNEVEN = 0.30
JPEG_QUALITY = 80


@cache
def library():
    """Return colour-science. It announces what it does without, which is no fault."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return importlib.import_module("colour")


@cache
def sensitivities(camera):
    """Return a measured camera's red, green and blue sensitivities on the 36 bands."""
    named = library().MSDS_CAMERA_SENSITIVITIES
    measured = named[list(named)[camera]]
    return np.stack(
        [np.interp(NM, measured.wavelengths, row, 0, 0) for row in measured.values.T], axis=1
    )


@cache
def light(name):
    """Return the power of a published illuminant on the 36 bands."""
    sd = library().SDS_ILLUMINANTS[name]
    return np.interp(NM, sd.wavelengths, sd.values)


@cache
def card():
    """Return the reflectances of the 24 patches of the chart of ISO 17321-1."""
    chart = library().SDS_COLOURCHECKERS["ISO 17321-1"]
    return [np.interp(NM, sd.wavelengths, sd.values) for sd in chart.values()]


@cache
def hair(count=160):
    """Return reflectances of natural, lifted and toned hair, by the engine, darkest first."""
    rng = random.Random(2026)
    all_hair = []
    for at in range(count):
        lifted = at % 2 == 1
        level = rng.uniform(6, 10.5) if lifted else rng.uniform(2, 10)
        ks = np.array(fibre_ks(level, rng.lognormvariate(0, 0.25), 1.0 if lifted else 0.0))
        if rng.random() < 0.7:
            for dye in rng.sample(OXIDATION_DYES, 2):
                ks = ks + rng.uniform(0, 0.5) * np.array(dye.fixed)
        all_hair.append(np.array(dry_reflectance(list(ks))))
    return sorted(all_hair, key=lambda reflectance: lab_of(list(reflectance))[0])


@cache
def camera_matrix(camera):
    """Return the matrix from balanced raw values to linear sRGB that such a camera would hold.

    Fitted by least squares on the card under D65, with white kept white.
    """
    d65 = light("D65")
    raw = np.array([patch * d65 @ sensitivities(camera) for patch in card()])
    raw /= d65 @ sensitivities(camera)
    lab = np.array([lab_of(list(patch)) for patch in card()])
    to_rgb = np.linalg.inv(np.array(library().RGB_COLOURSPACES["sRGB"].matrix_RGB_to_XYZ))
    white = np.array([0.3127 / 0.329, 1, 0.3583 / 0.329])
    rgb = np.array(library().Lab_to_XYZ(lab, (1 / 3, 1 / 3))) * white @ to_rgb.T
    matrix = np.linalg.lstsq(raw, rgb, rcond=None)[0].T
    return matrix / matrix.sum(1, keepdims=True)


@dataclass(frozen=True)
class Place:
    """What lies in one box of the picture."""

    reflectance: np.ndarray
    box: tuple[int, int, int, int]
    is_hair: bool = False


@dataclass(frozen=True)
class Scene:
    """A picture as a phone would give it, the marks on it, and the true colours of its strands."""

    jpeg: bytes
    marks: dict
    truth: dict


def boxes(left, top, width, height, step_x, step_y, columns, rows):
    """Return a table of boxes (x, y, width, height), row by row."""
    return [
        (left + step_x * column, top + step_y * row, width, height)
        for row in range(rows)
        for column in range(columns)
    ]


LEFT = boxes(20, 20, 56, 90, 0, 94, 1, 6)
RIGHT = boxes(724, 20, 56, 90, 0, 94, 1, 6)
CARD = boxes(190, 330, 62, 56, 70, 64, 6, 4)
READ = boxes(96, 30, 46, 120, 51, 0, 12, 1)
KNOWN = boxes(96, 180, 46, 120, 51, 0, 12, 1)


def stratified(rng, count, of):
    """Return indices into a sorted list: one from each of `count` equal parts of it."""
    drawn = [rng.randrange(at * of // count, (at + 1) * of // count) for at in range(count)]
    return rng.sample(drawn, count)


def scene(seed, camera, light_name, known=12, **spoilt):
    """Return the scene of a seed. `spoilt` changes what is drawn, for scenes to be refused."""
    rng = np.random.default_rng((seed, camera, LIGHTS.index(light_name)))
    picks = random.Random(f"{seed} {camera} {light_name}")
    heads = hair()
    known_at = stratified(picks, known, len(heads)) if known else []
    read_at = stratified(picks, 12, len(heads))
    # neutral papers are not quite flat, and what is told of them is right to 1 %
    papers = [step * (1 + rng.normal(0, 0.01) * (NM - 555) / 175) for step in STEPS]
    strips = [
        [Place(paper, box) for paper, box in zip(papers, LEFT, strict=True)],
        [Place(paper, box) for paper, box in zip(papers, reversed(RIGHT), strict=True)],
    ]
    patches = [Place(patch, box) for patch, box in zip(card(), CARD, strict=True)]
    strands = [Place(heads[at], box, True) for at, box in zip(known_at, KNOWN, strict=False)]
    to_read = [Place(heads[at], box, True) for at, box in zip(read_at, READ, strict=True)]
    places = [*strips[0], *strips[1], *patches, *strands, *to_read]
    pixels = photographed(rng, places, camera, light(light_name), **spoilt)
    told = 1 + rng.normal(0, 0.01, len(STEPS))
    marks = {
        "strips": [
            {
                "id": side,
                "steps": [
                    {"reflectance": float(step * off), "region": region(place)}
                    for step, off, place in zip(STEPS, told, strip, strict=True)
                ],
            }
            for side, strip in zip(("left", "right"), strips, strict=True)
        ],
        "card": [{"lab": measured(rng, place, 0.2), "region": region(place)} for place in patches],
        "known": [
            {"id": f"known {at}", "lab": measured(rng, place, 0.3), "region": region(place)}
            for at, place in enumerate(strands)
        ],
        "to_read": [
            {"id": f"strand {at}", "region": region(place)} for at, place in enumerate(to_read)
        ],
    }
    truth = {f"strand {at}": lab_of(list(p.reflectance)) for at, p in enumerate(to_read)}
    return Scene(pixels, marks, truth)


def measured(rng, place, sd):
    """Return the Lab an instrument would give, with its own error on each axis."""
    return [float(axis + rng.normal(0, sd)) for axis in lab_of(list(place.reflectance))]


def region(place):
    """Return the box of a place as the page takes it, marked by hand: a pixel or two off."""
    x, y, width, height = place.box
    return {"x": x + 1, "y": y - 1, "width": width, "height": height}


def photographed(
    rng,
    places,
    camera,
    power,
    *,
    exposure=None,
    glare=True,
    second_light=None,
    blur=0.7,
    grain=0.004,
    uneven=UNEVEN,
):
    """Return the JPEG of places in a light: balance, curve, veil, gloss, grain and all."""
    seen = sensitivities(camera)
    white = power @ seen
    # the cast a picture is left with
    balance = np.exp(rng.normal(0, 0.08, 3))
    matrix = camera_matrix(camera)

    def rgb_of(reflectance, source):
        return balance * (matrix @ (((reflectance * source) @ seen) / white))

    x, y = np.meshgrid(np.arange(WIDTH) / WIDTH - 0.5, (np.arange(HEIGHT) - HEIGHT / 2) / WIDTH)
    lit = falloff(rng, x, y, uneven)[..., None]
    table = np.full(len(NM), 0.25)
    image = np.broadcast_to(rgb_of(table, power), (HEIGHT, WIDTH, 3)).copy()
    other = np.zeros((HEIGHT, WIDTH, 3))
    for place in places:
        left, top, width, height = place.box
        inside = (slice(top, top + height), slice(left, left + width))
        shade = fibres(rng, height, width) if place.is_hair else np.ones((height, width, 1))
        image[inside] = rgb_of(place.reflectance, power) * shade
        if second_light is not None:
            as_strong = second_light * (white[1] / (second_light @ seen)[1])
            other[inside] = rgb_of(place.reflectance, as_strong) * shade
    image *= lit
    if second_light is not None:
        # it comes from the right and is as strong there as the first is at the left
        share = np.clip(x + 0.5, 0, 1)[..., None]
        image = image * (1 - share) + other * share * lit
    if glare:
        # gloss: light of the lamp's own colour on a part of each paper and strand
        for place in places:
            left, top, width, height = place.box
            band = int(height * rng.uniform(0, 0.3))
            start = top + int(rng.uniform(0, height - band))
            image[start : start + band, left : left + width] += rgb_of(
                np.ones(len(NM)), power
            ) * rng.uniform(0.03, 0.5)
        image += rng.uniform(0.002, 0.015) * image.mean((0, 1))
    image *= exposure or rng.uniform(0.75, 0.95)
    soft = np.stack([softened(image[..., channel], blur) for channel in range(3)], axis=2)
    soft = soft + rng.normal(0, 1, soft.shape) * grain * np.sqrt(np.clip(soft, 0, 1) + 0.02)
    shown = curve(rng)(np.clip(soft, 0, 1))
    kept = io.BytesIO()
    Image.fromarray(np.uint8(np.round(255 * shown))).save(kept, "JPEG", quality=JPEG_QUALITY)
    return kept.getvalue()


def softened(channel, radius):
    """Return one channel as a lens would soften it: a Gaussian of so many pixels."""
    reach = int(np.ceil(3 * radius))
    weights = np.exp(-0.5 * (np.arange(-reach, reach + 1) / radius) ** 2)
    for axis in (0, 1):
        wide = np.pad(channel, [(reach, reach) if axis == at else (0, 0) for at in (0, 1)], "edge")
        size = channel.shape[axis]
        channel = sum(
            weight * wide.take(range(at, at + size), axis)
            for at, weight in enumerate(weights / weights.sum())
        )
    return channel


def falloff(rng, x, y, uneven):
    """Return the light over the picture: a lamp to one side, `uneven` less at the far corner."""
    angle, height = rng.uniform(0, 2 * np.pi), rng.uniform(1.5, 4)
    away = height**2 + (x - np.cos(angle)) ** 2 + (y - np.sin(angle)) ** 2
    lit = away**-1.5
    lit = lit / lit.max()
    return lit ** (np.log(1 - uneven) / np.log(lit.min()))


def fibres(rng, height, width):
    """Return the shading of fibres that run down a strand: some in the shadow of others."""
    across = np.exp(rng.normal(0, 0.10, width))
    grain = np.exp(rng.normal(0, 0.04, (height, width)))
    return (across[None, :] * grain / np.exp(0.006))[..., None]


def curve(rng):
    """Return a tone curve no reader is told: sRGB's own, bent by contrast, gamma and shoulder."""
    contrast, gamma, shoulder = (
        rng.uniform(-0.1, 0.35),
        rng.uniform(0.88, 1.15),
        rng.uniform(0, 0.3),
    )

    def shown(linear):
        code = np.where(linear > 0.0031308, 1.055 * linear ** (1 / 2.4) - 0.055, 12.92 * linear)
        code = code**gamma
        code = code + contrast * code * (1 - code) * (2 * code - 1)
        return np.clip(code * (1 + shoulder) / (1 + shoulder * code), 0, 1)

    return shown


def rgba(jpeg):
    """Return the pixels of a picture as the page's canvas gives them."""
    return np.asarray(Image.open(io.BytesIO(jpeg)).convert("RGBA")).tobytes()
