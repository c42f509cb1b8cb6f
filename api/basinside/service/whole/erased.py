"""Keeps erased records erased: it knows their ids only by their SHA-256."""

import hashlib
from collections.abc import Iterable

from ..records.operation import Operation
from ..store.reader import Reader


def id_sha256(record_id: str) -> str:
    """Return the ledger's name for a record: the SHA-256 of its id, in hex."""
    return hashlib.sha256(record_id.encode()).hexdigest()


def ids_named(op: Operation) -> set[str]:
    """Return the record an operation is about, and those it points at."""
    return {op.entity_id, *(v for v in op.fields.values() if isinstance(v, str) and len(v) == 36)}


def is_erased(reading: Reader, record_ids: Iterable[str]) -> bool:
    """Return whether one of the records was erased."""
    return bool(reading.erased(id_sha256(record_id) for record_id in record_ids))
