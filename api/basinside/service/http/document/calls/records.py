"""The calls on records, in words; `table.py` puts them among the others."""

from typing import Any

from .....contract.devices import CodeAsked, CodeOffered, Devices, KnownDevice, Paired, Pairing
from .....contract.importing import Imported
from .....contract.photos import MOST_MISSING, PhotoAsked, PhotoKept, PhotoSent, PhotosMissing
from .....contract.rescue import Offer, Offered, Rescue, Rescued
from .....contract.sync import (
    CURSOR_PATTERN,
    SHA256_PATTERN,
    UUID_PATTERN,
    Live,
    Page,
    Pulled,
    Push,
    Pushed,
)
from .. import record_examples as examples
from .call import Call, Query

_LIMIT = Query(
    "limit",
    {"type": "integer", "minimum": 1, "maximum": 500, "default": 500},
    "The most records in a page, which also ends at 1 MiB.",
)
_ERASE_SEQ = Query(
    "erase_seq",
    {"type": "integer", "minimum": 0, "maximum": 2**53, "default": 0},
    "The last erasure the device knows. Later ones come first in every answer.",
)


def _text(pattern: str | None = None) -> dict[str, Any]:
    return {"type": "string", **({"pattern": pattern} if pattern else {"maxLength": 200})}


RECORD_CALLS = (
    Call(
        "post",
        "/api/devices/pair",
        "pairDevice",
        "Records",
        "Pair a device",
        "Exchange a code for the token that every further call carries. `basinside pair` makes the"
        " code at the server's machine. A code works once, for ten minutes. A known device keeps"
        " its numbers, and its old token ends. Ten wrong codes close this to their address for a"
        " minute (429 `too_many_codes`). A page of another site gets 403 `foreign_page`, and its"
        " codes do not count.",
        Pairing,
        Paired,
        examples.PAIRINGS,
        shown=examples.PAIRED,
        refused=("403", "429", "503", "507"),
    ),
    Call(
        "post",
        "/api/devices/codes",
        "offerCode",
        "Records",
        "A code for another device, at the server's machine",
        "The same as `basinside pair`, for the page: a code with its link as a QR code. Only a"
        " paired browser gets one that calls over loopback, through no proxy, while the desk serves"
        " phones over its own TLS. Any other gets 403 `at_the_desk_only`.",
        CodeAsked,
        CodeOffered,
        examples.CODES_ASKED,
        paired=True,
        shown=examples.CODES_OFFERED,
        refused=("403", "507"),
    ),
    Call(
        "get",
        "/api/devices",
        "listDevices",
        "Records",
        "The devices of the salon",
        "Every device ever paired, the latest first. Each has the number of operations that waited"
        " on it when it last called, whether its token only reads, and when that ends.",
        None,
        Devices,
        examples.DEVICES,
        paired=True,
    ),
    Call(
        "delete",
        "/api/devices/{device_id}",
        "revokeDevice",
        "Records",
        "Remove a device",
        "The same as `basinside revoke`. The token ends at once, and so does the stream of changes."
        " The salon keeps everything the device sent, and the device what it had read. A device"
        " may remove itself from anywhere. Another one it removes only where the desk would give it"
        " a code: on the server's own machine (403 `at_the_desk_only`). A second time changes"
        " nothing.",
        None,
        KnownDevice,
        examples.REVOKED,
        paired=True,
        refused=("507",),
        named=Query("device_id", _text(UUID_PATTERN), "Which device.", needed=True),
    ),
    Call(
        "post",
        "/api/sync/push",
        "pushOperations",
        "Records",
        "Take a device's operations",
        "The desk takes each operation once, however often it is sent. It answers each with a"
        " receipt: accepted, duplicate, or refused for good with what to do. A refused one uses up"
        " its number. Nothing is applied from a body that cannot be read whole. Accepted operations"
        " are on the disk before the answer leaves. The body may be gzip (`Content-Encoding`). 409"
        " `seq_gap` names the `expected` number. `device_forked` says that two phones share a name."
        " `epoch_changed` says that the desk was put back from a backup. `schema_ahead` says that"
        " the desk needs its update.",
        Push,
        Pushed,
        examples.PUSHES,
        paired=True,
        shown=examples.PUSHED,
        refused=("409", "507"),
    ),
    Call(
        "get",
        "/api/sync/pull",
        "pullChanges",
        "Records",
        "Changes after a cursor",
        "Records as they are now, each once, in the order of their last change. Store the records"
        " and `next` in one transaction. A cursor of another history gets 409 `epoch_changed`. One"
        " that this desk did not give gets 400 `cursor_unknown`: take a snapshot.",
        None,
        Pulled,
        examples.PULLED,
        paired=True,
        query=(
            Query("cursor", _text(CURSOR_PATTERN), "Where the last answer ended; absent: from 0."),
            _LIMIT,
            _ERASE_SEQ,
        ),
        refused=("400", "409"),
    ),
    Call(
        "get",
        "/api/sync/snapshot",
        "takeSnapshot",
        "Records",
        "Everything, today's first",
        "One page of all records, in ranks. The shelf and the people come first, then the services"
        " around today, every client with their safety facts, and histories. Store each page with"
        " its `next`: an interrupted fetch goes on there. After the last, pull from `cursor`.",
        None,
        Page,
        examples.PAGES,
        paired=True,
        query=(
            Query("after", _text(), "The `next` of the page before; absent: the first page."),
            _LIMIT,
            _ERASE_SEQ,
        ),
        refused=("400", "409"),
    ),
    Call(
        "get",
        "/api/sync/live",
        "followChanges",
        "Records",
        "Changes as they come",
        "Server-sent events (`text/event-stream`), for as long as the client stays. `change` holds"
        " `{from, changes}` and has the cursor after it as its id. Apply it only if `from` is your"
        " own cursor, and else pull, so that a lost event leaves no hole. `poke`: more than fits,"
        " so pull. `erase`: the newest entries of the ledger. `epoch`: another history, so pull. A"
        " comment every 20 s shows that the connection lives.",
        None,
        Live,
        examples.LIVE,
        paired=True,
        query=(Query("cursor", _text(CURSOR_PATTERN), "The client's present cursor."),),
        refused=("400",),
        events="text/event-stream",
    ),
    Call(
        "post",
        "/api/sync/offer",
        "offerRecords",
        "Records",
        "Offer a restored desk its missing writes",
        "A device sends this after `epoch_changed`: the erasures it knows, and the writes it holds"
        " of each record. The desk carries out forgotten erasures at once. The answer names the"
        " missing writes, and the whole ledger.",
        Offer,
        Offered,
        examples.OFFERS,
        paired=True,
        shown=examples.OFFERED,
        refused=("409", "507"),
    ),
    Call(
        "post",
        "/api/sync/rescue",
        "rescueRecords",
        "Records",
        "Hand missing records back to a restored desk",
        "Records with missing writes, as the device had pulled them. The desk joins them to its"
        " own, in any order. Erased records stay erased. 409 `nothing_restored` if the desk was"
        " never put back from a copy.",
        Rescue,
        Rescued,
        examples.RESCUES,
        paired=True,
        shown=examples.RESCUED,
        refused=("409", "507"),
    ),
    Call(
        "post",
        "/api/sync/photos",
        "sendPhoto",
        "Records",
        "Send a photo that a record names",
        "Photos travel apart from records and after them. The SHA-256 of its bytes names a photo,"
        " so the same photo is stored once. A photo that is not whole gets 400. A photo that no"
        " record here names gets 409 `not_named`. Either way the desk stores nothing.",
        PhotoSent,
        PhotoKept,
        examples.PHOTOS,
        paired=True,
        shown=examples.PHOTO_KEPT,
        refused=("409", "507"),
    ),
    Call(
        "get",
        "/api/sync/photo",
        "fetchPhoto",
        "Records",
        "A photo",
        "The bytes of a photo, or null if no device has sent them yet.",
        None,
        PhotoAsked,
        examples.PHOTO,
        paired=True,
        query=(Query("sha256", _text(SHA256_PATTERN), "Which photo.", needed=True),),
        refused=("400",),
    ),
    Call(
        "get",
        "/api/sync/photos/missing",
        "listMissingPhotos",
        "Records",
        "The photos that nobody has sent",
        "Photos that records name and the desk does not have. A device that has one sends it.",
        None,
        PhotosMissing,
        examples.PHOTOS_MISSING,
        paired=True,
        query=(
            Query("after", _text(SHA256_PATTERN), "The `next` of the page before."),
            Query(
                "limit",
                {"type": "integer", "minimum": 1, "maximum": MOST_MISSING, "default": MOST_MISSING},
                "The most in a page.",
            ),
        ),
        refused=("400",),
    ),
    Call(
        "post",
        "/api/sync/import",
        "importFile",
        "Records",
        "Import a phone's file",
        "The file in which the app saves everything on a phone: gzip of lines of JSON, without a"
        " passphrase, at most 32 MiB. The desk takes everything new in it, in one transaction. A"
        " second import adds nothing, nor does one after the phone has sent its records. 400 names"
        " the line at which a file is cut or changed, and the desk takes nothing. `refused` lists"
        " each operation that could not be taken, with its line. One file at a time: 429 for"
        " another meanwhile.",
        None,
        Imported,
        {},
        paired=True,
        shown=examples.IMPORTED,
        refused=("409", "429", "507"),
        file="application/gzip",
    ),
)
