"""Finds records at the desk by their words."""

from ...contract.record_search import Found, Searched
from ..records.show import show
from ..records.wire import state_kept
from ..store.salon import Salon
from ..store.search_index import SEARCHED
from ..whole.erasing import hidden

_MOST_LETTERS = 200


def search(salon: Salon, typed: str, limit: int) -> Searched:
    """Return the records that hold every word typed, whole or begun: clients first, then newest."""
    with salon.reading() as reading:
        unseen = hidden(reading)
        rows = reading.found(typed, list(SEARCHED), limit + 1 + len(unseen))
        rows = [row for row in rows if row[0] not in unseen]
        # A note on a service names its client through the service.
        services = reading.kept({row[4] for row in rows if row[4] and not row[3]})
        whose = {id_: kept.client for id_, kept in services.items()}
        rows = [(*row[:3], row[3] or whose.get(row[4]), *row[4:]) for row in rows]
        clients = reading.kept({row[3] for row in rows if row[3]})
        names = {id_: show(state_kept(kept)).values.get("name") for id_, kept in clients.items()}
    return Searched(
        [
            Found(
                id=entity_id,
                kind=kind,
                words=words[:_MOST_LETTERS],
                client=client,
                client_name=str(names.get(client) or ""),
                service=service,
                at=at,
            )
            for entity_id, kind, words, client, service, at in rows[:limit]
        ],
        more=len(rows) > limit,
    )
