"""Photos as an entry names them: by the SHA-256 of each, in lower-case hexadecimal digits."""

import re
from collections.abc import Sequence

from benchapp.words import say

MOST_PHOTOS = 20
"""photos that one entry names (own choice)"""
_HASH = re.compile(r"[0-9a-f]{64}")


def refuse_photos(photos: Sequence[str]) -> str:
    """Why these are no photos that can be recorded together, as a sentence; empty when they can."""
    if len(photos) > MOST_PHOTOS:
        return say(
            "{count} photos are too many: choose at most {most_photos}.", count=len(photos), most_photos=MOST_PHOTOS
        )
    named = next((photo for photo in photos if not _HASH.fullmatch(photo)), None)
    if named is not None:
        return say(
            "“{named}” is a name and no photo: choose the photo itself, so that the workbook keeps it.",
            named=named[:40],
        )
    if len(set(photos)) < len(photos):
        return "The same photo is there twice: take one of the two away."
    return ""


def refuse_unit_photos(photos: Sequence[str]) -> str:
    """The same of photos that belong to no step: there is at least one."""
    return refuse_photos(photos) if photos else say("No photo is chosen. Choose one, then record it.")
