"""What goes to a printer is the document that an export writes, and is recorded when the printer has taken it."""

import pytest

from benchapp.actions.entries.outcome import set_disposition
from benchapp.actions.papers.print_jobs import Paper, Wish, alignment_job, print_jobs, record_printed, sheets_for
from benchapp.actions.papers.printer_settings import PrinterSettings, keep_printer_settings, read_printer_settings
from benchapp.actions.papers.printing import export_record_sheet, export_tags
from tests.paper.making import pages_text

MARKS = ("TB-001", "TB-002", "TB-003")


def wish(**changes):
    return Wish(**({"paper": Paper.TAGS, "units": MARKS, "sheet": "a4-2-by-4"} | changes))


@pytest.mark.parametrize("sheet", ["a4-2-by-4", "a4-plain-2-by-4", "letter-2-by-3"])
def test_printed_tags_are_the_bytes_of_the_exported_ones(bench, lot, tmp_path, sheet):
    (job,) = print_jobs(bench, wish(sheet=sheet, start_at=3, copies=2))
    out = tmp_path / "tags.pdf"
    export_tags(bench, out=out, units=MARKS, sheet=sheet, start_at=3, copies=2, by="AB")
    assert job.pdf == out.read_bytes()
    paper = next(one for one in sheets_for(Paper.TAGS) if one.id == sheet)
    assert (job.width, job.height) == pytest.approx((paper.width, paper.height), abs=0.01)


def test_a_roll_is_cut_tag_by_tag(bench, lot, tmp_path):
    jobs = print_jobs(bench, wish(sheet="roll-62", copies=3))
    assert [[tag.unit for tag in job.tags] for job in jobs] == [[mark] for mark in MARKS]
    assert {job.copies for job in jobs} == {3}
    out = tmp_path / "tag.pdf"
    export_tags(bench, out=out, units=["TB-002"], sheet="roll-62")
    assert jobs[1].pdf == out.read_bytes()


def test_nothing_is_recorded_before_the_printer_has_taken_it(bench, lot):
    (job,) = print_jobs(bench, wish(copies=2))
    assert bench.workbook.tags_printed("TB-001") == ()
    changes = record_printed(bench, job, printer="Office", by="CD")
    assert changes.words == "Tags TB-001 to TB-003: printed on Office."
    (row,) = bench.workbook.tags_printed("TB-001")
    assert (row.by, row.disposition) == ("CD", "Not tested, do not connect")


def test_copies_stand_beside_each_other(bench, lot):
    (job,) = print_jobs(bench, wish(units=("TB-001",), copies=3))
    assert pages_text(job.pdf)[0].count("TB-001") == 3


def test_a_record_sheet_is_the_exported_one_and_records_no_tag(bench, lot, tmp_path, clock, monkeypatch):
    monkeypatch.setattr(type(clock), "__call__", lambda _self: "2026-05-04T10:00:00.000Z")  # each says when it was made
    (job,) = print_jobs(bench, wish(paper=Paper.RECORD, units=("TB-001",), sheet="Letter", copies=2))
    export_record_sheet(bench, "TB-001", out=tmp_path / "record.pdf", page="Letter")
    assert job.pdf == (tmp_path / "record.pdf").read_bytes()
    assert (job.copies, job.tags) == (2, ())
    assert (job.width, job.height) == pytest.approx((215.9, 279.4), abs=0.01)
    record_printed(bench, job, printer="Office", by="CD")
    assert bench.workbook.tags_printed("TB-001") == ()


def test_what_was_printed_is_what_the_record_said_when_it_went_to_the_printer(bench, lot):
    (job,) = print_jobs(bench, wish(units=("TB-001",)))
    set_disposition(bench, "TB-001", "hold", by="CD", note="waits")
    record_printed(bench, job, printer="Office", by="CD")
    (row,) = bench.workbook.tags_printed("TB-001")
    assert row.disposition == "Not tested, do not connect"


def test_a_test_print_is_for_the_sheet_and_no_tag():
    job = alignment_job("letter-2-by-3", (1.0, 0.0))
    assert (job.width, job.height) == pytest.approx((215.9, 279.4), abs=0.01)
    assert job.tags == ()


def test_the_usual_sheet_comes_first_and_every_label_is_on_its_paper():
    sheets = sheets_for(Paper.TAGS)
    assert sheets[0].id == "a4-2-by-4"
    for sheet in sheets:
        for left, top, width, height in sheet.labels:
            assert left >= 0
            assert top >= 0
            assert left + width <= sheet.width + 0.01
            assert top + height <= sheet.height + 0.01


def test_what_was_chosen_last_is_kept_for_the_printer():
    settings = (
        PrinterSettings().with_choice("office", "tags", "letter-2-by-3", (1.5, -2.0)).with_free("letter-2-by-3", 4)
    )
    keep_printer_settings(settings)
    kept = read_printer_settings()
    assert kept == settings
    assert (kept.offset("office"), kept.offset("other")) == ((1.5, -2.0), (0.0, 0.0))
