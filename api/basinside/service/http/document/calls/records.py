"""The calls on records, in words; `table.py` puts them among the others."""

from typing import Any

from .....contract.devices import CodeAsked, CodeOffered, Devices, Paired, Pairing
from .....contract.importing import Imported
from .....contract.photos import MOST_MISSING, PhotoAsked, PhotoKept, PhotoSent, PhotosMissing
from .....contract.rescue import Offer, Offered, Rescue, Rescued
from .....contract.sync import CURSOR_PATTERN, SHA256_PATTERN, Live, Page, Pulled, Push, Pushed
from .. import record_examples as examples
from .call import Call, Query

_LIMIT = Query(
    "limit",
    {"type": "integer", "minimum": 1, "maximum": 500, "default": 500},
    "At most so many records; a page also ends at 1 MiB.",
)
_ERASE_SEQ = Query(
    "erase_seq",
    {"type": "integer", "minimum": 0, "maximum": 2**53, "default": 0},
    "The last erasure the device knows; those after it come first in every answer.",
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
        "Exchange a code, made at the server's machine by `basinside pair`, for the token that"
        " every further call carries. A code works once, for ten minutes. A device that was known"
        " keeps its numbers; its old token ends.",
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
        "What `basinside pair` shows, for the page: a code with its link as a QR code. It is given"
        " to a paired browser that calls over loopback, through no proxy, while the desk serves"
        " phones over its own TLS; to anybody else 403 `at_the_desk_only`.",
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
        "Every device that was ever paired, the latest first, with what it last said waits on it.",
        None,
        Devices,
        examples.DEVICES,
        paired=True,
    ),
    Call(
        "post",
        "/api/sync/push",
        "pushOperations",
        "Records",
        "Take in what was written on a device",
        "Each operation is taken in once, however often it is sent, and answered with a receipt:"
        " accepted, duplicate, or refused for good with what can be done. A refused one uses up"
        " its number. Nothing is applied from a body that cannot be read whole; what is accepted"
        " is on the disk before the answer leaves. The body may be gzip (`Content-Encoding`). 409"
        " `seq_gap` names the number that is `expected`; `device_forked` says that two phones"
        " share a name; `epoch_changed` that the desk was put back from a backup; `schema_ahead`"
        " that the desk needs its update.",
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
        "What changed after a cursor",
        "Records as they now stand, each once, in the order of their last change. Keep the records"
        " and `next` in one transaction. A cursor of another history is answered 409"
        " `epoch_changed`.",
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
        "One page of everything there is, in ranks: the shelf and the people, the services around"
        " today, every client with what is known for their safety, then histories. Keep each page"
        " with its `next`: a fetch that was cut goes on there. After the last, pull from `cursor`.",
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
        " `{from, changes}` and has the cursor after it as its id: apply it only where `from` is"
        " one's own cursor, and else pull, so that a lost event leaves no hole. `poke`: there is"
        " more than fits, go and pull. `erase`: the newest entries of the ledger. `epoch`: another"
        " history; pull, and be told. A comment every 20 s shows that the line is up.",
        None,
        Live,
        examples.LIVE,
        paired=True,
        query=(Query("cursor", _text(CURSOR_PATTERN), "Where the client stands."),),
        refused=("400",),
    ),
    Call(
        "post",
        "/api/sync/offer",
        "offerRecords",
        "Records",
        "What a restored desk lacks",
        "Asked by a device after `epoch_changed`: the erasures it knows, and which writes it holds"
        " of which records. Erasures that the desk had forgotten are carried out at once. The"
        " answer names the writes that are missing, and the whole ledger.",
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
        "Hand back what a restored desk lacks",
        "Records with missing writes, as the device had pulled them. They are joined to those"
        " here, in whatever order they come; what was erased stays erased. 409"
        " `nothing_restored` where the desk was never put back from a copy.",
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
        "Photos travel apart from records, after them, by the SHA-256 of their bytes: the same"
        " photo is kept once. One that is not whole is 400, one that no record here names (not"
        " yet, or not any more) 409 `not_named`; either way nothing was kept.",
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
        "The bytes of a photo, or a null where no device has sent them yet.",
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
                "At most so many.",
            ),
        ),
        refused=("400",),
    ),
    Call(
        "post",
        "/api/sync/import",
        "importFile",
        "Records",
        "Bring a phone's file in",
        "The file that the app saves of all a phone holds (gzip of lines of JSON, without a"
        " passphrase), at most 32 MiB. What is new in it is taken in, in one transaction; brought"
        " in again, or after the phone has sent it, it adds nothing. 400 names the line where a"
        " file is cut or was changed, and nothing was taken; operations that cannot be taken alone"
        " are listed in `refused`, each with its line.",
        None,
        Imported,
        {},
        paired=True,
        shown=examples.IMPORTED,
        refused=("409", "507"),
        file="application/gzip",
    ),
)
