"""A workbook of every format that was ever released opens, says what it said, and is gone on with."""

import shutil
from pathlib import Path

import pytest

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.entries.faults import record_note
from benchapp.actions.entries.photos import photos_of
from benchapp.actions.workbench.bench import Bench
from benchapp.workbook.opened.opening import HEAD, revision_of
from tests.photos import tiny_photo

KEPT = Path(__file__).with_name("formats")
FORMATS = sorted(KEPT.glob("*.workbook"))


def test_todays_format_is_among_those_that_are_kept():
    assert FORMATS[-1].stem == HEAD == revision_of(FORMATS[-1], look_only=True)


@pytest.fixture(params=FORMATS, ids=lambda path: path.stem)
def kept(request, tmp_path):
    return shutil.copy(request.param, tmp_path / request.param.name)


def test_a_kept_workbook_verifies(kept):
    assert verify_workbook(kept) == ()


def test_a_kept_workbook_says_what_it_said(kept):
    with Bench.open(kept) as bench:
        assert [(lot.name, lot.units) for lot in bench.lots()] == [("Tarnbeck attic", 3), ("Tarnbeck hall", 3)]
        sold = bench.unit("TB-001")
        assert (sold.disposition, sold.grade, sold.price, sold.last_entry) == ("for sale", "B", "£12", 8)
        readings = [entry.content.typed for entry in bench.entries("TB-001") if entry.address == "coils.coil"]
        assert readings == ["6.24 ohm"]
        assert len(bench.workbook.runs("TB-002")) == 2
        assert [tag.by for tag in bench.workbook.tags_printed("TB-001")] == ["AB"]
        assert [(one.note, one.image) for one in photos_of(bench, "TB-005")] == [("as it came", tiny_photo())]
        assert bench.workshop.dead_tests_last_days == 20


def test_a_kept_workbook_is_gone_on_with(kept):
    with Bench.open(kept) as bench:
        record_note(bench, "TB-004", "opened by a later program", by="CD")
        assert bench.entries("TB-004")[-1].content.words == "opened by a later program"
    assert verify_workbook(kept) == ()
