"""A photo entry needs its photo: it is in the workbook before the entry is, and verify asks for it again."""

import sqlite3
from hashlib import sha256

import pytest

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.entries.answers import record_answer, withdraw_answer
from benchapp.actions.entries.photos import attach_photos, photos_of, record_photos
from benchapp.actions.entries.taking_back import foresee, last_of, take_back
from benchapp.actions.papers.record_content import record_content
from benchapp.actions.workbench.problems import Refused
from benchapp.sequences.kinds.photo import PhotoAnswer
from benchapp.workbook.model.problems import ForLookingOnly
from benchapp.workbook.record.photos import MOST_BYTES, UnfitPhoto, keep_photo, photos_missing, read_photo
from tests.actions.pictures import FRONT, photo_bench
from tests.forging import without_guards
from tests.photos import claiming, tiny_photo

JPEG = b"\xff\xd8\xff\xe0 made up"
WEBP = b"RIFF\x10\0\0\0WEBPVP8 made up"
TWO = (tiny_photo(1), tiny_photo(2))
HASHES = tuple(sha256(image).hexdigest() for image in TWO)


@pytest.fixture
def bench(tmp_path):
    opened = photo_bench(tmp_path)
    yield opened
    opened.close()


def photos_in(bench):
    with sqlite3.connect(bench.path) as connection:
        return connection.execute("SELECT count(*) FROM photos").fetchone()[0]


@pytest.mark.parametrize(
    ("image", "media_type"), [(JPEG, "image/jpeg"), (tiny_photo(), "image/png"), (WEBP, "image/webp")]
)
def test_a_photo_is_kept_once_by_its_hash_and_read_back(bench, image, media_type):
    link = keep_photo(bench.workbook.store, image, media_type)
    assert link == keep_photo(bench.workbook.store, image, media_type) == sha256(image).hexdigest()
    assert photos_in(bench) == 1
    assert read_photo(bench.workbook.store, link) == image
    assert read_photo(bench.workbook.store, "0" * 64) is None
    assert photos_missing(bench.workbook.store, ("0" * 64, link, "f" * 64)) == ("0" * 64, "f" * 64)


@pytest.mark.parametrize(
    ("image", "media_type", "why"),
    [
        (b"%PDF-1.7", "image/png", "no JPEG, PNG or WebP"),
        (b"", "", "no JPEG, PNG or WebP"),
        (b"RIFF....WAVE", "image/webp", "no JPEG, PNG or WebP"),
        (JPEG, "image/png", "no image/png but image/jpeg"),
        (JPEG + bytes(MOST_BYTES), "image/jpeg", "it has 8.0 MiB"),
        (claiming(16_320, 12_240), "image/png", "it has 199.8 megapixels"),
    ],
)
def test_what_is_no_photo_is_refused_with_a_sentence_and_not_kept(bench, image, media_type, why):
    with pytest.raises(UnfitPhoto, match=why):
        keep_photo(bench.workbook.store, image, media_type)
    assert photos_in(bench) == 0


def test_no_photo_is_kept_in_a_workbook_that_is_only_looked_at(bench):
    looking = bench.look_at(bench.path)
    with looking, pytest.raises(ForLookingOnly):
        keep_photo(looking.workbook.store, JPEG, "image/jpeg")


def test_photos_are_recorded_with_their_pictures(bench):
    said = record_photos(bench, "TB-001", FRONT, TWO, by="AB")
    (entry,) = bench.entries("TB-001")
    assert entry.content.photos == HASHES
    assert [read_photo(bench.workbook.store, link) for link in HASHES] == list(TWO)
    assert said.entries == (entry.uuid,)
    bench.close()
    assert verify_workbook(bench.path) == ()


def test_what_the_step_refuses_keeps_no_photo(bench):
    with pytest.raises(Refused, match="1 more to take"):
        record_photos(bench, "TB-001", FRONT, TWO[:1], by="AB")
    with pytest.raises(Refused, match="same photo is there twice"):
        record_photos(bench, "TB-001", FRONT, TWO[:1] * 2, by="AB")
    assert photos_in(bench) == 0
    assert bench.entries("TB-001") == ()


def test_a_photo_that_is_not_in_the_workbook_is_not_recorded(bench):
    keep_photo(bench.workbook.store, TWO[0], "image/png")
    with pytest.raises(Refused, match=f"The photo {HASHES[1][:8]} is not in this workbook"):
        record_answer(bench, "TB-001", FRONT, PhotoAnswer(photos=HASHES), by="AB")
    assert bench.entries("TB-001") == ()


def test_verify_says_which_entry_lacks_its_photo(bench):
    record_photos(bench, "TB-001", FRONT, TWO, by="AB")
    bench.close()
    taken = f"DELETE FROM photos WHERE sha256 = '{HASHES[0]}'"
    without_guards(bench.path, lambda connection: connection.execute(taken))
    (_, found) = verify_workbook(bench.path)  # the first: a row of photos is gone
    assert (found.unit, found.entry) == ("TB-001", 1)
    assert f"the photo {HASHES[0][:8]} that it names is not in this workbook" in found.words


def test_a_photo_that_no_entry_names_is_no_difference(bench):
    for image, media_type in ((JPEG, "image/jpeg"), (JPEG, "image/jpeg"), (WEBP, "image/webp")):
        keep_photo(bench.workbook.store, image, media_type)
    bench.close()
    assert verify_workbook(bench.path) == ()


def test_the_record_sheet_shows_them_with_entry_and_step_and_says_which_was_withdrawn(bench):
    record_photos(bench, "TB-001", FRONT, TWO, by="AB")
    withdraw_answer(bench, "TB-001", by="AB")
    photos = record_content(bench, "TB-001").photos
    assert [photo.image for photo in photos] == list(TWO)
    assert {photo.words for photo in photos} == {"1: Front, withdrawn"}


def test_photos_of_a_unit_belong_to_no_step_and_are_verified(bench):
    before = bench.state("TB-001")
    said = attach_photos(bench, "TB-001", TWO, by="AB", note=" as it came ")
    (entry,) = bench.entries("TB-001")
    assert (str(entry.kind), entry.address) == ("photos", "")
    assert (entry.content.photos, entry.content.note) == (HASHES, "as it came")
    assert str(said.words) == "2 photos are on the record of TB-001."
    assert [(one.number, one.image) for one in photos_of(bench, "TB-001")] == [(1, image) for image in TWO]
    after = bench.state("TB-001")
    assert (after.due, after.stages, after.steps) == (before.due, before.stages, before.steps)
    bench.close()
    assert verify_workbook(bench.path) == ()


@pytest.mark.parametrize(("images", "why"), [((), "No photo is chosen"), (TWO[:1] * 2, "same photo is there twice")])
def test_photos_of_a_unit_that_are_refused_are_not_kept(bench, images, why):
    with pytest.raises(Refused, match=why):
        attach_photos(bench, "TB-001", images, by="AB")
    assert photos_in(bench) == 0
    assert bench.entries("TB-001") == ()


def test_a_photo_that_is_of_another_unit_is_taken_back_and_stays_on_paper_as_such(bench):
    attach_photos(bench, "TB-001", TWO, by="AB", note="as it came")
    assert last_of(bench, by="AB").words == "2 photos of TB-001"
    assert foresee(bench, "TB-001", 1, by="AB").again == ()
    said = take_back(bench, "TB-001", 1, by="AB")
    assert str(said.words) == "Taken back: 2 photos of TB-001, still in the record."
    assert photos_of(bench, "TB-001") == ()
    photos = record_content(bench, "TB-001").photos
    assert {(photo.words, photo.of_unit) for photo in photos} == {("1: as it came, withdrawn", "1")}
    with pytest.raises(Refused):
        take_back(bench, "TB-001", 1, by="AB")
    bench.close()
    assert verify_workbook(bench.path) == ()


def test_verify_says_which_photos_of_a_unit_are_missing(bench):
    attach_photos(bench, "TB-001", TWO, by="AB")
    bench.close()
    taken = f"DELETE FROM photos WHERE sha256 = '{HASHES[1]}'"
    without_guards(bench.path, lambda connection: connection.execute(taken))
    (found,) = verify_workbook(bench.path)
    assert (found.unit, found.entry) == ("TB-001", 1)
    assert f"the photo {HASHES[1][:8]} that it names is not in this workbook" in found.words
