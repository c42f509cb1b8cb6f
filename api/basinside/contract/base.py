"""What every shape of the contract shares, and the bounded numbers they are made of.

One struct serves as wire format, domain value and OpenAPI schema at once, so a
bound is written down once. Shapes are frozen and refuse fields they do not know:
a misspelt field must be said, not silently ignored.
"""

from typing import Annotated

import msgspec
from msgspec import Meta


class Shape(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=False):
    """A value of the contract: immutable, compared by content, closed to unknown fields."""


Level = Annotated[
    float,
    Meta(
        ge=1,
        le=10.5,
        description="Depth: 1 black to 10 palest blonde, 10.5 paler still. Real numbers allowed.",
        examples=[10],
    ),
]
Share = Annotated[float, Meta(ge=0, le=1, description="A share of the whole, 0 to 1.")]
Minute = Annotated[int, Meta(ge=0, le=120, description="Whole minutes since the clock started.")]
PeroxidePercent = Annotated[
    float,
    Meta(
        ge=0,
        le=12,
        description=(
            "Hydrogen peroxide in the developer, percent, never volumes (20 vol is 6 %)."
            " At most 12 %: Regulation (EC) No 1223/2009, Annex III, entry 12."
        ),
        examples=[1.9],
    ),
]
Grams = Annotated[float, Meta(gt=0, le=5000, description="Grams.", examples=[40])]
DeltaE = Annotated[float, Meta(ge=0, description="CIEDE2000 colour difference (ISO/CIE 11664-6).")]
Name = Annotated[str, Meta(min_length=1, max_length=120)]
Line = Annotated[
    Name, Meta(description="The product line, as the shelf names it.", examples=["Still"])
]
ToneWord = Annotated[str, Meta(min_length=1, max_length=40, examples=["pearl"])]

Lab = Annotated[
    tuple[
        Annotated[float, Meta(ge=0, le=100, description="L*, lightness.")],
        Annotated[float, Meta(ge=-128, le=127, description="a*, green to red.")],
        Annotated[float, Meta(ge=-128, le=127, description="b*, blue to yellow.")],
    ],
    Meta(description="CIELAB [L*, a*, b*], D65 and the 10 degree observer.", examples=[[72, 2, 9]]),
]
ReadingSd = Annotated[
    float,
    Meta(
        gt=0,
        le=20,
        description="How far off a measured colour may be: one standard deviation on each CIELAB"
        " axis. When absent, what its source is usually worth.",
        examples=[0.5],
    ),
]
