"""Makes ids that follow from their subject."""

import uuid
from collections.abc import Iterable


def matter_id(why: str, about: Iterable[str]) -> str:
    """Return the id of a matter: another subject gives another id."""
    return str(uuid.uuid5(uuid.NAMESPACE_OID, " ".join([why, *about])))
