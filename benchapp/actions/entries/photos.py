"""Photos: kept in the workbook with the answer that names them."""

from collections.abc import Sequence
from functools import partial
from hashlib import sha256

from benchapp.actions.entries.answers import record_answer
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.change_set import ChangeSet
from benchapp.actions.workbench.problems import Refused
from benchapp.workbook.record.photos import keep_photo, media_type_of


def record_photos(
    bench: Bench, unit: str, address: str, images: Sequence[bytes], *, by: str, uuid: str | None = None
) -> ChangeSet:
    """Keep JPEG, PNG or WebP pictures in the workbook and record them as the answer to a photo step.

    Raises Refused with the engine's sentence before any is kept, UnfitPhoto for what is no such picture.
    """
    from benchapp.sequences.kinds.photo import PhotoAnswer

    given = PhotoAnswer(photos=tuple(sha256(image).hexdigest() for image in images))
    if complaint := bench.evaluate(unit, address, given).complaint:
        raise Refused(complaint)
    for image in images:
        bench.write(partial(keep_photo, bench.workbook.store, image, media_type_of(image)))
    return record_answer(bench, unit, address, given, by=by, uuid=uuid)
