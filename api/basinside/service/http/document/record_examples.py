"""Worked examples of the calls on records. Every client, device and person here is invented."""

from typing import Any

_DEVICE = "0199c0de-0000-7000-8000-00000000000a"
_CLIENT = "0199c0de-0000-7000-8000-000000000001"
_CREATE = "0199c0de-0000-7000-8000-0000000000c1"
_PHONE = "0199c0de-0000-7000-8000-0000000000c2"
_STAMP = f"2026-11-25T10:15:03.120Z-0000-{_DEVICE}"
_LATER = f"2026-11-25T10:15:09.000Z-0000-{_DEVICE}"
_NOW = "2026-11-25T10:15:10.000Z"
_HEAD = "e1.2.1f0c3a9e.5a1b8e02c7d94f36"

PAIRINGS: dict[str, Any] = {
    "A phone with the code from the desk": {
        "v": 1,
        "code": "K7QF-29XM",
        "device_id": _DEVICE,
        "name": "Ana's phone",
    }
}
_PHONE_PAIRED: dict[str, Any] = {
    "v": 1,
    "token": "an-invented-token-that-opens-nothing",
    "salon_id": "5f0f4f7e-0000-4000-8000-000000000001",
    "epoch": "e1",
    "acked_through": 0,
    "last_queued": 0,
    "last_seen_at": None,
    "server_time": _NOW,
    "reads_only": False,
    "until": None,
}
PAIRED: dict[str, Any] = {
    "A phone with the code from the desk": _PHONE_PAIRED,
    "A program that only reads, for 90 days": _PHONE_PAIRED
    | {
        "token": "another-invented-token",
        "reads_only": True,
        "until": "2027-02-23T10:15:10.000Z",
    },
}
CODES_ASKED: dict[str, Any] = {"From the desk's own browser": {"v": 1}}
CODES_OFFERED: dict[str, Any] = {
    "From the desk's own browser": {
        "code": "K7QF-29XM",
        "link": "https://192.168.7.5:8000/#/pair/K7QF-29XM",
        "picture": "data:image/svg+xml,%3Csvg%3E%3C/svg%3E",
        "until": "2026-11-25T10:25:10.000Z",
    }
}
DEVICES: dict[str, Any] = {
    "One phone": {
        "devices": [
            {
                "device_id": _DEVICE,
                "name": "Ana's phone",
                "paired_at": _NOW,
                "revoked_at": None,
                "last_seen_at": _NOW,
                "queued": 0,
                "acked_through": 2,
                "reads_only": False,
                "until": None,
            }
        ]
    }
}
REVOKED: dict[str, Any] = {
    "A phone that was lost": {
        **DEVICES["One phone"]["devices"][0],
        "revoked_at": _NOW,
    }
}
PUSHES: dict[str, Any] = {
    "A new client, and her telephone": {
        "v": 1,
        "device_id": _DEVICE,
        "epoch": "e1",
        "app": "0.1.0",
        "sent_at": "2026-11-25T10:15:10Z",
        "queued": 2,
        "erase_seq": 0,
        "ops": [
            {
                "op_id": _CREATE,
                "device_seq": 1,
                "hlc": _STAMP,
                "schema": 2,
                "kind": "client.create",
                "entity_id": _CLIENT,
                "by": _DEVICE,
                "fields": {"name": "Ona Petrel"},
            },
            {
                "op_id": _PHONE,
                "device_seq": 2,
                "hlc": _LATER,
                "schema": 2,
                "kind": "client.set",
                "entity_id": _CLIENT,
                "by": _DEVICE,
                "fields": {"phone": "020 7946 0991"},
                "base": {"phone": []},
            },
        ],
    }
}
PUSHED: dict[str, Any] = {
    "A new client, and her telephone": {
        "v": 1,
        "epoch": "e1",
        "acked_through": 2,
        "accepted": [{"op_id": _CREATE, "seq": 1}, {"op_id": _PHONE, "seq": 2}],
        "duplicate": [],
        "refused": [],
        "clamped": [],
        "server_time": _NOW,
        "clock_offset_ms": 0,
        "safe_seq": 0,
        "head": _HEAD,
    }
}
_CHANGE = {
    "entity_id": _CLIENT,
    "kind": "client",
    "seq": 2,
    "gone": False,
    "fields": {
        "name": {"v": "Ona Petrel", "op": _CREATE, "eff": _STAMP, "by": _DEVICE},
        "phone": {"v": "020 7946 0991", "op": _PHONE, "eff": _LATER, "by": _DEVICE},
    },
    "created": [{"op": _CREATE, "eff": _STAMP, "by": _DEVICE}],
}
PULLED: dict[str, Any] = {
    "One client": {
        "v": 1,
        "epoch": "e1",
        "erased": [],
        "hidden": [],
        "changes": [_CHANGE],
        "next": _HEAD,
        "more": False,
        "head_seq": 2,
        "acked_through": 2,
        "server_time": _NOW,
    }
}
PAGES: dict[str, Any] = {
    "One client": {
        "v": 1,
        "epoch": "e1",
        "erased": [],
        "changes": [_CHANGE],
        "rank": 2,
        "cursor": _HEAD,
        "next": f"{_HEAD}~3~",
        "left": 0,
        "acked_through": 2,
        "server_time": _NOW,
    }
}
LIVE: dict[str, Any] = {
    "The value of a change": {"from": "e1.0.00000000", "changes": [_CHANGE]},
}
OFFERS: dict[str, Any] = {
    "One client, with what stands on her": {
        "v": 1,
        "device_id": _DEVICE,
        "epoch": "e2",
        "have": [{"entity_id": _CLIENT, "ops": [_CREATE, _PHONE]}],
        "erased": [],
    }
}
OFFERED: dict[str, Any] = {
    "One client, with what stands on her": {
        "v": 1,
        "epoch": "e2",
        "missing": [_PHONE],
        "erased": [],
    }
}
RESCUES: dict[str, Any] = {
    "The client whose telephone was lost": {
        "v": 1,
        "device_id": _DEVICE,
        "epoch": "e2",
        "changes": [_CHANGE],
    }
}
RESCUED: dict[str, Any] = {
    "The client whose telephone was lost": {"v": 1, "epoch": "e2", "taken": 1, "erased": 0}
}
# The SHA-256 of "abc", an example of FIPS 180-4; three bytes take the place of a photo.
_PHOTO = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
PHOTOS: dict[str, Any] = {
    "Three bytes that stand for a photo": {
        "v": 1,
        "device_id": _DEVICE,
        "sha256": _PHOTO,
        "type": "image/jpeg",
        "bytes": "YWJj",
    }
}
PHOTO_KEPT: dict[str, Any] = {
    "Three bytes that stand for a photo": {"v": 1, "sha256": _PHOTO, "known": False}
}
PHOTO: dict[str, Any] = {
    "One that is here": {
        "v": 1,
        "sha256": _PHOTO,
        "photo": {"type": "image/jpeg", "bytes": "YWJj"},
    },
    "One that nobody has sent": {"v": 1, "sha256": _PHOTO, "photo": None},
}
PHOTOS_MISSING: dict[str, Any] = {"One": {"v": 1, "missing": [_PHOTO], "next": None}}
IMPORTED: dict[str, Any] = {
    "A file of which two entries were new": {
        "v": 1,
        "accepted": 2,
        "known": 310,
        "records": 0,
        "photos": 1,
        "waiting": 0,
        "refused": [],
    }
}
