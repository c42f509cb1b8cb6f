"""Records in a salon's folder as an older desk took them: it looked at fewer types."""

import hashlib

import msgspec

from basinside.service.records.fold import fold_all
from basinside.service.records.operation import Operation
from basinside.service.records.wire import kept_of
from basinside.service.store.rows import Entry


def laid_in(salon, *operations):
    """Log operations that each make a record, and store those records, whatever they hold."""
    with salon.writing() as writing:
        for op in operations:
            body = msgspec.json.encode(op)
            read = msgspec.json.decode(body, type=Operation)
            entry = Entry(
                op_id=op["op_id"],
                device_id=read.hlc[-36:],
                device_seq=None,
                entity_id=op["entity_id"],
                eff=op["hlc"],
                clock_off=False,
                received_at=op["hlc"][:24],
                sha256=hashlib.sha256(body).digest(),
                body=body,
            )
            writing.keep([kept_of(fold_all([read]), writing.add(entry))])
