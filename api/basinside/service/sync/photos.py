"""Takes photos in and gives them out, apart from the records that name them.

Records come first: the desk stores only a photo that a record names. So a photo goes with its
client when they are erased, and cannot come back afterwards.
"""

import hashlib

from ...contract.photos import PhotoAsked, PhotoFile, PhotoKept, PhotoSent, PhotosMissing
from ..store.rows import Photo
from ..store.salon import Salon
from .refused import Refused, misshapen


def take_photo(salon: Salon, sent: PhotoSent) -> PhotoKept:
    """Store a photo. Raises `Refused`: 400 if it is not whole, 409 `not_named`."""
    if hashlib.sha256(sent.bytes).hexdigest() != sent.sha256:
        said = "These bytes do not match that SHA-256. Send the whole photo."
        raise misshapen(said, "/bytes")
    with salon.writing() as writing:
        if not writing.is_named(sent.sha256):
            said = "No record here names that photo. Send the record first; the photo waits."
            raise Refused(409, "not_named", said)
        is_new = writing.keep_photo(Photo(sent.sha256, sent.type, sent.bytes))
    return PhotoKept(1, sent.sha256, known=not is_new)


def give_photo(salon: Salon, sha256: str) -> PhotoAsked:
    """Return a photo, or a reply that says it is not here."""
    with salon.reading() as reading:
        photo = reading.photo(sha256)
    found = photo and PhotoFile(photo.type, photo.bytes)  # type: ignore[arg-type]
    return PhotoAsked(1, sha256, found)


def photos_missing(salon: Salon, after: str, limit: int) -> PhotosMissing:
    """Return one page of the photos that records name and nobody has sent."""
    with salon.reading() as reading:
        missing = reading.photos_missing(after, limit + 1)
    page = missing[:limit]
    return PhotosMissing(1, page, page[-1] if len(missing) > limit else None)
