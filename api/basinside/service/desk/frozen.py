"""Reads how visits stood when each zone began. Nothing that came later changes these blocks."""

from collections.abc import Iterable
from typing import Any

import msgspec

from ..records.show import show
from ..records.wire import state_kept
from ..store.reader import Reader

_OF_SERVICES = "kind = 'start' AND gone = 0 AND service IN (SELECT value FROM json_each(?))"
_MOST = 20_000


def starts_of(reading: Reader, services: Iterable[str]) -> dict[str, list[dict[str, Any]]]:
    """Return the frozen blocks of services by the service's id, the first start first.

    Each block has the fields of a `start` record and its `id`. A service that never began, or that
    an earlier version of the page began, has none.
    """
    found: dict[str, list[dict[str, Any]]] = {}
    wanted = msgspec.json.encode(list(services)).decode()
    for kept in reading.where(_OF_SERVICES, [wanted], "at, entity_id", _MOST):
        values = show(state_kept(kept)).values
        found.setdefault(str(kept.service), []).append({"id": kept.entity_id, **values})
    return found
