"""Photos: each kept once under its SHA-256 and never changed; an entry names its photos by their hashes."""

from collections.abc import Iterable
from hashlib import sha256
from io import BytesIO

from benchapp.files.picture_size import is_too_large, megapixels, picture_size
from benchapp.words import say
from benchapp.workbook.file.store import Store
from benchapp.workbook.model.problems import WorkbookProblem, as_sentences

MOST_BYTES = 8 << 20
"""bytes of one photo: 8 MiB (own choice)"""
MEGABYTE = 1 << 20


class UnfitPhoto(WorkbookProblem):
    """What was to be kept is no photo that a workbook keeps; `found` says why."""

    def __init__(self, found: str) -> None:
        self.found = found
        super().__init__(
            say("The photo is not kept: {found}. Choose a JPEG, PNG or WebP picture of at most 8 MiB.", found=found)
        )


def media_type_of(image: bytes) -> str:
    """The media type of a picture by its first bytes; empty for what is no JPEG, PNG or WebP.

    Source: the formats' own specifications (ITU-T T.81, ISO/IEC 15948, RFC 9649), IANA's registry of media types.
    """
    if image.startswith(b"\xff\xd8\xff"):
        return "image/jpeg"
    if image.startswith(b"\x89PNG\r\n\x1a\n"):
        return "image/png"
    return "image/webp" if image.startswith(b"RIFF") and image[8:12] == b"WEBP" else ""


def what_is_unfit(image: bytes, media_type: str) -> str:
    """Why a picture is none that is kept, in a few words; empty when it is."""
    if len(image) > MOST_BYTES:
        return f"it has {len(image) / MEGABYTE:.1f} MiB"
    found = media_type_of(image)
    if not found:
        return "it is no JPEG, PNG or WebP picture"
    if found != media_type:
        return f"it is no {media_type} but {found}"
    size = picture_size(BytesIO(image))
    return f"it has {megapixels(size)} megapixels" if size and is_too_large(size) else ""


def keep_photo(store: Store, image: bytes, media_type: str) -> str:
    """Keep a photo durably, once however often it comes; its SHA-256. Raises UnfitPhoto, WorkbookProblem."""
    if found := what_is_unfit(image, media_type):
        raise UnfitPhoto(found)
    store.refuse_looking()
    link = sha256(image).hexdigest()
    with as_sentences(store.name), store.kept_transaction() as connection:
        statement = "INSERT INTO photos (sha256, media_type, image) VALUES (?, ?, ?) ON CONFLICT (sha256) DO NOTHING"
        connection.execute(statement, (link, media_type, image))
    return link


def read_photo(store: Store, link: str) -> bytes | None:
    """The photo of that SHA-256; None where it is not in the workbook."""
    with store.looking() as connection:
        row = connection.execute("SELECT image FROM photos WHERE sha256 = ?", (link,)).fetchone()
    return None if row is None else bytes(row[0])


def photos_missing(store: Store, links: Iterable[str]) -> tuple[str, ...]:
    """Which of these hashes are those of no photo in the workbook, in their order."""
    asked = tuple(links)
    if not asked:
        return ()
    with store.looking() as connection:
        there = {
            link
            for link in asked
            if connection.execute("SELECT 1 FROM photos WHERE sha256 = ?", (link,)).fetchone() is not None
        }
    return tuple(link for link in asked if link not in there)
