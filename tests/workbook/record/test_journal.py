"""What an entry is once it is recorded."""

import sqlite3
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from benchapp.judgement.statements.statements import RULES_VERSION
from benchapp.sequences.planning.entries import EntryKind
from benchapp.workbook.model.problems import NotInWorkbook, Overtaken
from benchapp.workbook.model.values import BenchIdentity, UnitSummary
from benchapp.workbook.opened.workbook import Workbook
from benchapp.workbook.record.intake import Pins
from tests.people import OPENING
from tests.workbook.conftest import READING


def test_a_recorded_entry_is_read_back_as_it_was_given(workbook, record):
    kept = record()
    assert workbook.entries("TB-001") == (kept,)
    assert kept.content == READING
    assert (kept.number, kept.at, kept.by, kept.address) == (1, "2026-05-04T09:01:00Z", "AB", "live-voltage.low")
    assert (kept.chain, kept.bench, kept.rules) == (workbook.unit("TB-001").uuid, workbook.bench.uuid, RULES_VERSION)


def test_an_entry_is_there_for_another_process_as_soon_as_it_is_recorded(workbook, record, path):
    record()
    other = Workbook.open(path)
    assert len(other.entries("TB-001")) == 1
    other.close()


def test_recording_twice_with_one_uuid_records_once_and_returns_the_same(workbook, record):
    first = record(uuid="one")
    again = record(uuid="one")
    assert again == first
    assert len(workbook.entries("TB-001")) == 1


def test_a_retry_after_later_entries_still_records_nothing_twice(workbook, record):
    first = record(1, uuid="one")
    record(2)
    assert record(1, uuid="one").sha256 == first.sha256
    assert len(workbook.entries("TB-001")) == 2


@pytest.mark.parametrize("number", [1, 4], ids=["number taken", "number skipped"])
def test_an_entry_out_of_turn_is_refused_and_nothing_is_written(workbook, record, number):
    record(1)
    with pytest.raises(Overtaken, match=f"Entry {number} of TB-001 was recorded from another window"):
        record(number)
    assert len(workbook.entries("TB-001")) == 1


def test_an_entry_that_rests_on_other_settings_than_the_workbook_has_is_refused(workbook, record, path):
    cites = workbook.grounds().cites
    other = Workbook.open(path)
    other.keep_workshop('{"insulation_tester": false}', at="2026-05-04T09:00:00Z", by="CD")
    other.close()
    with pytest.raises(Overtaken):
        record(1, cites=cites)
    assert workbook.entries("TB-001") == ()
    record(1)


def test_an_entry_that_rests_on_another_day_than_the_bench_has_is_refused(workbook, record):
    cites = workbook.grounds().cites
    workbook.add_opening(OPENING, at="2026-05-04T08:30:00Z", by="AB")
    with pytest.raises(Overtaken):
        record(1, cites=cites)
    record(1)
    cites = workbook.grounds().cites
    workbook.add_closing(workbook.grounds().day, at="2026-05-04T18:00:00Z", by="AB")
    with pytest.raises(Overtaken):
        record(2, cites=cites)


def test_a_retry_of_what_is_on_disk_asks_for_no_settings(workbook, record):
    kept, cites = record(1, uuid="one"), workbook.grounds().cites
    workbook.keep_workshop('{"insulation_tester": false}', at="2026-05-04T09:00:00Z", by="CD")
    assert record(1, uuid="one", cites=cites) == kept


def test_what_is_recorded_cites_the_settings_and_the_days_of_its_own_bench_alone(workbook, record, path):
    workbook.add_opening(OPENING, at="2026-05-04T08:30:00Z", by="AB")
    beside = Workbook.open(path, bench=BenchIdentity(uuid="another", name="Bench 2"))
    assert beside.grounds().day is None
    assert [one.chain for one in beside.grounds().cites] == [one.chain for one in workbook.grounds().cites[:1]]
    beside.add_opening(replace(OPENING, rcd_button_tested=True), at="2026-05-04T08:40:00Z", by="CD")
    assert (beside.grounds().day.by, workbook.grounds().day.by) == ("CD", "AB")
    beside.close()
    assert [one.chain for one in record().cites] == [workbook.grounds().cites[0].chain, workbook.bench.uuid]


def test_a_uuid_of_another_entry_is_refused(workbook, record):
    record(1, uuid="one")
    with pytest.raises(sqlite3.IntegrityError):
        record(2, uuid="one")
    assert len(workbook.entries("TB-001")) == 1


def test_an_unknown_unit_is_named_with_the_nearest_known(workbook, record):
    entry = record()
    with pytest.raises(NotInWorkbook, match="There is no unit called 'TB-009' in this workbook"):
        workbook.append("TB-009", entry, UnitSummary(disposition="quarantine", due=""))
    with pytest.raises(NotInWorkbook, match="Did you mean TB-001"):
        workbook.unit("TB-0O1")


def test_an_entry_judged_under_an_earlier_run_is_refused(workbook, record):
    earlier = workbook.current_run("TB-001").uuid
    pins = Pins(route="tb-mu1-check", equipment="tb-mu1", texts={"a.yaml": "new"})
    shown = UnitSummary(disposition="quarantine", due="")
    workbook.add_run("TB-001", pins=pins, shown=shown, at="2026-05-05T08:00:00Z", by="AB")
    with pytest.raises(Overtaken):
        record(2, run=earlier)
    record(2)
    begun, entry = workbook.entries("TB-001")
    assert (begun.kind, begun.run, entry.run) == (EntryKind.run, *[workbook.runs("TB-001")[1].uuid] * 2)


def test_what_the_judgement_rests_on_stands_in_columns(workbook, record, path):
    record()
    row = sqlite3.connect(path).execute(
        "SELECT value, lower, upper, standard_uncertainty, rule, judgement, rules FROM entries WHERE kind = 'answer'"
    )
    assert row.fetchone() == (9.12, 8.1, 9.9, 0.031, "guarded", "pass", RULES_VERSION)


def test_the_unit_and_its_stages_stand_as_the_entry_left_them(workbook, record, stage):
    record(1, stages=(stage("in progress"),))
    record(2, stages=(stage("done", done=3),), disposition="hold", due="", grade="B", price="4.50")
    unit = workbook.unit("TB-001")
    assert (unit.disposition, unit.grade, unit.price, unit.last_entry) == ("hold", "B", "4.50", 2)
    assert workbook.stages("Tarnbeck shelf 3") == (stage("done", done=3),)


def test_a_number_that_json_has_not_is_refused_before_anything_is_written(workbook, record):
    with pytest.raises(ValueError, match="JSON"):
        record(content=replace(READING, value=float("nan")))
    assert workbook.entries("TB-001") == ()


@pytest.mark.parametrize("verb", ["UPDATE entries SET by = 'XY'", "DELETE FROM entries"], ids=["update", "delete"])
@pytest.mark.parametrize("table", ["entries", "revisions", "photos"])
def test_the_file_itself_refuses_to_change_what_was_recorded(workbook, record, path, table, verb):
    record()
    with workbook.store.kept_transaction() as kept:
        kept.execute("INSERT INTO photos (sha256, media_type, image) VALUES ('0', 'image/png', x'00')")
    column = {"revisions": "text", "photos": "media_type"}.get(table, "by")
    statement = verb.replace("entries", table).replace("by =", f"{column} =")
    with pytest.raises(sqlite3.IntegrityError, match=f"{table} are only ever added"):
        sqlite3.connect(path).execute(statement)


def test_foreign_keys_hold_on_every_connection(workbook):
    with workbook.store.reading() as connection:
        assert connection.exec_driver_sql("PRAGMA foreign_keys").scalar() == 1
    with workbook.store.kept_transaction() as kept:
        assert kept.execute("PRAGMA foreign_keys").fetchone() == (1,)
        assert kept.execute("PRAGMA synchronous").fetchone() == (2,)
        assert kept.execute("PRAGMA journal_mode").fetchone() == ("wal",)


@settings(deadline=None, max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(note=st.text(), value=st.floats(allow_nan=False, allow_infinity=False))
def test_any_text_and_number_come_back_as_they_were_recorded(workbook, record, note, value):
    number = workbook.unit("TB-002").last_entry + 1
    content = replace(READING, note=note, value=value)
    try:
        note.encode()
    except UnicodeEncodeError:  # half of a surrogate pair is no text
        return
    record(number, unit="TB-002", content=content)
    assert workbook.entries("TB-002", after=number - 1)[0].content == content
