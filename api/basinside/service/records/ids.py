"""Ids that follow from what they are about."""

import uuid
from collections.abc import Iterable


def matter_id(why: str, about: Iterable[str]) -> str:
    """Return the id of what asks: another as soon as it is about something else."""
    return str(uuid.uuid5(uuid.NAMESPACE_OID, " ".join([why, *about])))
