"""Problem details (RFC 9457): how a refusal is said."""

from typing import Annotated

from msgspec import UNSET, Meta, UnsetType

from .base import PeroxidePercent, Shape


class Fault(Shape):
    """One place in the request and what to do about it."""

    pointer: Annotated[str, Meta(description="JSON Pointer (RFC 6901) into the request body.")]
    message: Annotated[str, Meta(description="What was expected, what came, what to do.")]
    instead_percent: (
        Annotated[
            list[PeroxidePercent],
            Meta(
                description="Strengths of developer that are in stock and that the leaflets allow,"
                " where the one wanted cannot be made."
            ),
        ]
        | UnsetType
    ) = UNSET


class Problem(Shape):
    """The body of every refusal, as application/problem+json."""

    type: str
    title: str
    status: int
    detail: str
    errors: list[Fault]
