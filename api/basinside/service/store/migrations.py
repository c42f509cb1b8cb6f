"""The steps from one layout of the salon's database to the next, each applied once, in order.

Never edit a released step: some salon's database may be at any of them. The log keeps every
operation as it was sent, for ever. So nothing built from it can be lost: records and search can be
built from it again.
"""

from zlib import crc32

from sqlite_utils import Database, Migrations

from .photos import name_photos
from .search_index import SEARCH_TABLES, index_anew

migrations = Migrations("salon")


def steps_unknown(db: Database) -> list[str]:
    """Return the steps that a database has taken and this version does not know, in order."""
    taken = [step.name for step in migrations.applied(db)]
    mine = {step.name for step in migrations.pending(Database(memory=True))}
    return [name for name in taken if name not in mine]


@migrations(name="0001_log_and_records")
def log_and_records(db: Database) -> None:
    """The log of operations, the records folded from it, devices, erasures."""
    for statement in (
        """
        CREATE TABLE salon (
            only_one INTEGER PRIMARY KEY CHECK (only_one = 1),
            salon_id TEXT NOT NULL,
            safe_seq INTEGER NOT NULL DEFAULT 0,
            indexed_seq INTEGER NOT NULL DEFAULT 0
        ) STRICT
        """,
        # One row for each time that the history turned out to be another than devices knew.
        """
        CREATE TABLE epoch (
            n INTEGER PRIMARY KEY,
            from_seq INTEGER NOT NULL,
            started_at TEXT NOT NULL,
            why TEXT NOT NULL
        ) STRICT
        """,
        # `chain` is the running hash over the op_ids so far. A cursor carries a piece of it, which
        # shows whether its holder has read this very history. A null body was erased. Its number
        # stays, so that a repeat is still known.
        """
        CREATE TABLE log (
            seq INTEGER PRIMARY KEY,
            op_id TEXT NOT NULL UNIQUE,
            device_id TEXT NOT NULL,
            device_seq INTEGER,
            entity_id TEXT NOT NULL,
            eff TEXT NOT NULL,
            clock_off INTEGER NOT NULL,
            received_at TEXT NOT NULL,
            sha256 BLOB NOT NULL,
            chain BLOB NOT NULL,
            body BLOB,
            UNIQUE (device_id, device_seq)
        ) STRICT
        """,
        "CREATE INDEX log_of_entity ON log (entity_id, seq)",
        # A refusal uses up its number too. Otherwise one bad operation would jam the phone for
        # ever.
        """
        CREATE TABLE refused (
            op_id TEXT NOT NULL,
            sha256 BLOB NOT NULL,
            device_id TEXT NOT NULL,
            device_seq INTEGER NOT NULL,
            entity_id TEXT NOT NULL,
            received_at TEXT NOT NULL,
            receipt BLOB NOT NULL,
            PRIMARY KEY (op_id, sha256)
        ) STRICT, WITHOUT ROWID
        """,
        # Writes that a device handed back as it had pulled them, after a restore.
        """
        CREATE TABLE rescued (
            op_id TEXT PRIMARY KEY,
            seq INTEGER NOT NULL REFERENCES log (seq)
        ) STRICT, WITHOUT ROWID
        """,
        """
        CREATE TABLE record (
            number INTEGER PRIMARY KEY,
            entity_id TEXT NOT NULL UNIQUE,
            kind TEXT NOT NULL,
            seq INTEGER NOT NULL UNIQUE,
            client TEXT,
            service TEXT,
            at TEXT NOT NULL,
            gone INTEGER NOT NULL,
            asks INTEGER NOT NULL,
            change BLOB NOT NULL
        ) STRICT
        """,
        "CREATE INDEX record_of_kind ON record (kind, at, entity_id)",
        "CREATE INDEX record_of_client ON record (client, kind, at) WHERE client IS NOT NULL",
        "CREATE INDEX record_of_service ON record (service) WHERE service IS NOT NULL",
        "CREATE INDEX record_that_asks ON record (seq) WHERE asks = 1",
        """
        CREATE TABLE device (
            device_id TEXT PRIMARY KEY,
            name TEXT NOT NULL,
            token_sha256 BLOB UNIQUE,
            paired_at TEXT NOT NULL,
            revoked_at TEXT,
            acked_through INTEGER NOT NULL DEFAULT 0,
            last_eff TEXT NOT NULL DEFAULT '',
            last_seen_at TEXT,
            queued INTEGER NOT NULL DEFAULT 0
        ) STRICT, WITHOUT ROWID
        """,
        """
        CREATE TABLE pairing (
            code_sha256 BLOB PRIMARY KEY,
            made_at TEXT NOT NULL,
            until TEXT NOT NULL,
            used_by TEXT
        ) STRICT, WITHOUT ROWID
        """,
        # Ids only as hashes: the ledger must not say who was erased.
        """
        CREATE TABLE erasure (
            n INTEGER PRIMARY KEY,
            id_sha256 TEXT NOT NULL UNIQUE,
            at TEXT NOT NULL,
            sig TEXT NOT NULL
        ) STRICT
        """,
        """
        CREATE TABLE erasing (
            client_id TEXT PRIMARY KEY,
            asked_at TEXT NOT NULL,
            due_at TEXT NOT NULL
        ) STRICT, WITHOUT ROWID
        """,
        """
        CREATE VIRTUAL TABLE search USING fts5 (
            words, kind UNINDEXED, client UNINDEXED,
            tokenize = "unicode61 remove_diacritics 2", prefix = '2 3'
        )
        """,
    ):
        db.execute(statement)


@migrations(name="0002_search_and_order_of_kinds")
def search_and_order_of_kinds(db: Database) -> None:
    """Order each kind by itself; 0003 builds the search of all kinds again."""
    for statement in (
        "CREATE INDEX record_of_kind_in_order ON record (kind, seq)",
        "CREATE INDEX record_of_client_in_order ON record (client, kind, seq)"
        " WHERE client IS NOT NULL",
    ):
        db.execute(statement)


@migrations(name="0003_search_of_each_kind")
def search_of_each_kind(db: Database) -> None:
    """Give each kind a search, filled from the records."""
    for statement in ("DROP TABLE search", *SEARCH_TABLES):
        db.execute(statement)
    index_anew(db.conn)


@migrations(name="0004_services_looked_at_again")
def services_looked_at_again(db: Database) -> None:
    """Store the safety rules' findings on each started service, and how far they have looked.

    A service that started before this step is not judged.
    """
    for statement in (
        "ALTER TABLE salon ADD COLUMN reviewed_seq INTEGER NOT NULL DEFAULT 0",
        "UPDATE salon SET reviewed_seq = (SELECT COALESCE(MAX(seq), 0) FROM log)",
        # `last_start` is the stamp of its last zone's start. `held_at` is null if the rules let all
        # of its zones start. A closing is a record with the id of its matter.
        """
        CREATE TABLE started (
            service TEXT PRIMARY KEY,
            client TEXT NOT NULL,
            last_start TEXT NOT NULL,
            held_at TEXT,
            matter TEXT,
            found BLOB
        ) STRICT, WITHOUT ROWID
        """,
        "CREATE INDEX started_in_order ON started (last_start)",
        "CREATE INDEX started_of_client ON started (client, last_start)",
        "CREATE INDEX started_held ON started (held_at, service) WHERE held_at IS NOT NULL",
    ):
        db.execute(statement)


@migrations(name="0005_rows_set_aside")
def rows_set_aside(db: Database) -> None:
    """Add a checksum to each record's row, and a place for rows that do not match theirs."""
    db.conn.create_function("crc32", 1, crc32, deterministic=True)
    for statement in (
        "ALTER TABLE record ADD COLUMN crc INTEGER NOT NULL DEFAULT 0",
        "UPDATE record SET crc = crc32(change)",
        # `seq` is a record's number, or an operation's. `row` holds the row's bytes as found.
        """
        CREATE TABLE aside (
            matter TEXT PRIMARY KEY,
            found_at TEXT NOT NULL,
            what TEXT NOT NULL CHECK (what IN ('record', 'operation')),
            entity_id TEXT NOT NULL,
            seq INTEGER NOT NULL,
            row BLOB NOT NULL
        ) STRICT, WITHOUT ROWID
        """,
    ):
        db.execute(statement)


@migrations(name="0006_photos")
def photos(db: Database) -> None:
    """Store photos by their SHA-256, and which records ever named them: they go with those."""
    for statement in (
        """
        CREATE TABLE photo (
            sha256 TEXT PRIMARY KEY,
            type TEXT NOT NULL,
            bytes BLOB NOT NULL
        ) STRICT
        """,
        """
        CREATE TABLE photo_named (
            sha256 TEXT NOT NULL,
            entity_id TEXT NOT NULL,
            PRIMARY KEY (sha256, entity_id)
        ) STRICT, WITHOUT ROWID
        """,
    ):
        db.execute(statement)
    name_photos(db.conn, db.conn.execute("SELECT entity_id, kind, change FROM record"))


@migrations(name="0007_rights_of_a_token")
def rights_of_a_token(db: Database) -> None:
    """Store whether a token may only read, and when it ends; a code stores what it will give."""
    for statement in (
        "ALTER TABLE device ADD COLUMN reads_only INTEGER NOT NULL DEFAULT 0",
        "ALTER TABLE device ADD COLUMN until TEXT",
        "ALTER TABLE pairing ADD COLUMN reads_only INTEGER NOT NULL DEFAULT 0",
        "ALTER TABLE pairing ADD COLUMN days INTEGER",
    ):
        db.execute(statement)
