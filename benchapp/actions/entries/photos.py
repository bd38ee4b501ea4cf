"""Photos: kept in the workbook with the entry that names them, an answer to a photo step or one of the unit itself."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from hashlib import sha256

from benchapp.actions.entries.answers import record_answer
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.change_set import ChangeSet
from benchapp.actions.workbench.problems import Refused
from benchapp.actions.workbench.recording import Composed, record
from benchapp.sequences.planning.entries import EntryKind, is_of
from benchapp.sequences.planning.entry_contents import UnitPhotosContent, WithdrawalContent
from benchapp.sequences.planning.photo_names import refuse_unit_photos
from benchapp.words import say
from benchapp.workbook.record.photos import keep_photo, media_type_of, read_photo


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptPhoto:
    """A photo on a unit's record that stands: its entry's number, what it shows, the picture (empty: it is missing)."""

    number: int
    note: str
    image: bytes


def attach_photos(
    bench: Bench, unit: str, images: Sequence[bytes], *, by: str, note: str = "", uuid: str | None = None
) -> ChangeSet:
    """Keep JPEG, PNG or WebP pictures in the workbook and record them as photos of the unit, of no step of its route.

    Raises Refused before any is kept, UnfitPhoto for what is no such picture.
    """
    content = UnitPhotosContent(photos=tuple(sha256(image).hexdigest() for image in images), note=note.strip())
    if complaint := refuse_unit_photos(content.photos):
        raise Refused(complaint)
    _keep(bench, images)
    words = say("{count} photo(s) (is|are) on the record of {unit}.", count=len(images), unit=unit)
    said = Composed(kind=EntryKind.photos, content=content, words=words)
    return record(bench, unit, lambda _now: said, by=by, uuid=uuid)


def photos_of(bench: Bench, unit: str) -> tuple[KeptPhoto, ...]:
    """The photos of the unit that belong to no step and were not taken back, oldest first."""
    entries = bench.entries(unit)
    gone = {one.content.number for one in entries if is_of(one, WithdrawalContent)}
    return tuple(
        KeptPhoto(number=one.number, note=one.content.note, image=read_photo(bench.workbook.store, link) or b"")
        for one in entries
        if is_of(one, UnitPhotosContent) and one.number not in gone
        for link in one.content.photos
    )


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
    _keep(bench, images)
    return record_answer(bench, unit, address, given, by=by, uuid=uuid)


def _keep(bench: Bench, images: Sequence[bytes]) -> None:
    for image in images:
        bench.write(partial(keep_photo, bench.workbook.store, image, media_type_of(image)))
