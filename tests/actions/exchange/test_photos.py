"""A day file carries the photos that its entries name."""

import json
from hashlib import sha256

import pytest

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.entries.photos import attach_photos, photos_of, record_photos
from benchapp.actions.exchange.exporting import export_day_file
from benchapp.actions.exchange.importing import import_day_file
from benchapp.workbook.exchange.day_file import DayFileProblem
from benchapp.workbook.record.photos import keep_photo, read_photo
from tests.actions.exchange.benches import HUB, YARD, at, make
from tests.actions.exchange.test_hostile_files import canonical, parts, resealed
from tests.actions.pictures import FRONT, photo_bench
from tests.photos import tiny_photo

TWO = (tiny_photo(1), tiny_photo(2))
HASHES = tuple(sha256(image).hexdigest() for image in TWO)


@pytest.fixture
def file(tmp_path):
    """A day file of a yard where one unit was photographed; a photo that no entry names stays at home."""
    with photo_bench(tmp_path, "yard.workbook", at_bench=YARD) as yard:
        keep_photo(yard.workbook.store, tiny_photo(3), "image/png")
        record_photos(yard, "TB-001", FRONT, TWO, by="AB")
        export_day_file(yard, out=tmp_path / "yard.dayfile", by="AB")
    return tmp_path / "yard.dayfile"


@pytest.fixture
def hub(tmp_path):
    return make(tmp_path / "hub.workbook", marks=("TB-101",), lot="The hub's own")


def test_an_import_keeps_the_photos_and_verify_finds_them(file, hub):
    with at(hub, HUB) as bench:
        import_day_file(bench, file, by="AB")
        assert [read_photo(bench.workbook.store, link) for link in HASHES] == list(TWO)
        assert read_photo(bench.workbook.store, sha256(tiny_photo(3)).hexdigest()) is None
    assert verify_workbook(hub) == ()


@pytest.mark.parametrize(
    ("change", "why"),
    [
        (lambda _said: None, "a photo that its units name is missing in it"),
        (lambda said: said | {"media_type": "image/jpeg"}, "no image/jpeg but image/png"),
    ],
    ids=["left out", "called a JPEG"],
)
def test_a_file_without_its_photos_is_refused_whole(file, hub, change, why):
    lines = []
    for line in parts(file.read_bytes()):
        said = change(json.loads(line)) if line.startswith('{"image"') else line
        lines.append(canonical(said) if isinstance(said, dict) else said)
    file.write_bytes(resealed([line for line in lines if line]))
    with at(hub, HUB) as bench, pytest.raises(DayFileProblem, match=why):
        import_day_file(bench, file, by="AB")
    assert verify_workbook(hub) == ()


def test_photos_of_a_unit_that_belong_to_no_step_travel_too(tmp_path, hub):
    with photo_bench(tmp_path, "yard.workbook", at_bench=YARD) as yard:
        attach_photos(yard, "TB-001", TWO, by="AB", note="as it came")
        export_day_file(yard, out=tmp_path / "yard.dayfile", by="AB")
    with at(hub, HUB) as bench:
        import_day_file(bench, tmp_path / "yard.dayfile", by="AB")
        assert [(one.note, one.image) for one in photos_of(bench, "TB-001")] == [("as it came", one) for one in TWO]
    assert verify_workbook(hub) == ()
