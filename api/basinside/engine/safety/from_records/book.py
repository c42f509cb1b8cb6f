"""The records behind a safety review: those of one client, and the salon's own."""

from collections.abc import Iterable, Mapping
from typing import Any, TypeVar

from msgspec import UNSET

from ....contract.service_reviews import (
    ClientOnRecord,
    OnRecord,
    RecordsOfService,
    ServiceOnRecord,
    ZoneOnRecord,
)
from ..instants import Impossible, read_moment

_Record = TypeVar("_Record", bound=OnRecord)


class Book:
    """The records by kind, each kind in the order its records were made."""

    def __init__(self, records: RecordsOfService) -> None:
        self.clients = _in_order(records.client)
        self.services = _in_order(records.service)
        self.zones = _in_order(records.zone)
        self.tests = _in_order(records.alert_test)
        self.history = _in_order(records.history_entry)
        self.lines = _in_order(records.line)
        self.decisions = _in_order(records.decision)
        self._services = {service.id: service for service in self.services}
        self._settings = {setting.key: setting.value for setting in records.setting if setting.key}

    def service(self, record_id: object) -> ServiceOnRecord | None:
        """Return one service, or None where it was not sent."""
        return self._services.get(record_id) if isinstance(record_id, str) else None

    def client_of(self, service: ServiceOnRecord) -> ClientOnRecord | None:
        """Return a service's client, or None where it was not sent."""
        return next((client for client in self.clients if client.id == service.client), None)

    def zones_before(self, service: ServiceOnRecord) -> list[ZoneOnRecord]:
        """Return the zones of the same client's other services that went on."""
        return [
            zone
            for zone in self.zones
            if zone.first_section_at
            and zone.service != service.id
            and self._client_of_zone(zone) == service.client
        ]

    def setting(self, key: str) -> Any:
        """Return the value of a setting of the salon, or None."""
        value = self._settings.get(key)
        return None if value is UNSET else value

    def _client_of_zone(self, zone: ZoneOnRecord) -> object:
        of = self.service(zone.service)
        return of.client if of else UNSET


def _in_order(records: Iterable[_Record]) -> list[_Record]:
    return sorted(records, key=lambda record: (record.created_at, record.id))


def answer_in(said: Any) -> Any:
    """Return the value of an answer as a setting keeps it, or None where there is none."""
    return said.get("value") if isinstance(said, Mapping) else None


def seconds_of(moment: object) -> float | None:
    """Return a moment's seconds since 1970, or None for what is none."""
    if not isinstance(moment, str):
        return None
    try:
        return read_moment(moment).seconds
    except Impossible:
        return None


def said(values: Mapping[str, Any]) -> dict[str, Any]:
    """Return the values that say something: drop None and empty text."""
    return {
        name: value
        for name, value in values.items()
        if value is not None and value is not UNSET and value != ""
    }
