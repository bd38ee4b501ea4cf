"""What an entry is once it is recorded."""

import sqlite3

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from benchapp.workbook.problems import NotInWorkbook, Overtaken
from benchapp.workbook.sealing import canonical
from benchapp.workbook.workbook import Workbook


def test_a_recorded_entry_is_read_back_as_it_was_given(workbook, make_draft):
    draft = make_draft()
    kept = workbook.append(draft)
    assert workbook.entries("TB-001") == (kept,)
    assert kept.content == draft.content
    assert (kept.number, kept.at, kept.by, kept.address) == (1, draft.at, "AB", "live-voltage.low")


def test_an_entry_is_there_for_another_process_as_soon_as_it_is_recorded(workbook, make_draft, path):
    workbook.append(make_draft())
    other = Workbook.open(path)
    assert len(other.entries("TB-001")) == 1
    other.close()


def test_recording_twice_with_one_uuid_records_once_and_returns_the_same(workbook, make_draft):
    first = workbook.append(make_draft(uuid="one"))
    again = workbook.append(make_draft(uuid="one"))
    assert again == first
    assert len(workbook.entries("TB-001")) == 1


def test_a_retry_after_later_entries_still_records_nothing_twice(workbook, make_draft):
    first = workbook.append(make_draft(1, uuid="one"))
    workbook.append(make_draft(2))
    assert workbook.append(make_draft(1, uuid="one")).sha256 == first.sha256
    assert len(workbook.entries("TB-001")) == 2


@pytest.mark.parametrize("number", [1, 4], ids=["number taken", "number skipped"])
def test_an_entry_out_of_turn_is_refused_and_nothing_is_written(workbook, make_draft, number):
    workbook.append(make_draft(1))
    with pytest.raises(Overtaken, match=f"Entry {number} of TB-001 was recorded from another window"):
        workbook.append(make_draft(number))
    assert len(workbook.entries("TB-001")) == 1


def test_an_entry_that_rests_on_other_settings_than_the_workbook_has_is_refused(workbook, make_draft, path):
    draft = make_draft(1)
    other = Workbook.open(path)
    other.keep_workshop('{"insulation_tester": false}')
    other.close()
    with pytest.raises(Overtaken):
        workbook.append(draft)
    assert workbook.entries("TB-001") == ()
    workbook.append(make_draft(1))


def test_a_retry_of_what_is_on_disk_asks_for_no_settings(workbook, make_draft):
    draft = make_draft(1)
    kept = workbook.append(draft)
    workbook.keep_workshop('{"insulation_tester": false}')
    assert workbook.append(draft) == kept


def test_a_uuid_of_another_entry_is_refused(workbook, make_draft):
    workbook.append(make_draft(1, uuid="one"))
    with pytest.raises(sqlite3.IntegrityError):
        workbook.append(make_draft(2, uuid="one"))
    assert len(workbook.entries("TB-001")) == 1


def test_an_unknown_unit_is_named_with_the_nearest_known(workbook, make_draft):
    from dataclasses import replace

    with pytest.raises(NotInWorkbook, match="There is no unit called 'TB-009' in this workbook"):
        workbook.append(replace(make_draft(), unit="TB-009"))
    with pytest.raises(NotInWorkbook, match="Did you mean TB-001"):
        workbook.unit("TB-0O1")


def test_a_draft_judged_under_an_earlier_run_is_refused(workbook, make_draft):
    from benchapp.workbook.intake import Pins

    draft = make_draft()
    pins = Pins(route="tb-mu1-check", equipment="tb-mu1", workshop="{}", texts={"a.yaml": "new"})
    workbook.add_run("TB-001", pins=pins, at="2026-05-05T08:00:00Z", by="AB")
    with pytest.raises(Overtaken):
        workbook.append(draft)
    workbook.append(make_draft())
    assert workbook.entries("TB-001")[0].run == workbook.runs("TB-001")[1].uuid


def test_what_the_judgement_rests_on_stands_in_columns(workbook, make_draft, path):
    workbook.append(make_draft())
    row = sqlite3.connect(path).execute(
        "SELECT value, lower, upper, standard_uncertainty, rule, judgement, rules_version FROM entries"
    )
    assert row.fetchone() == (9.12, 8.1, 9.9, 0.031, "guarded", "pass", "1")


def test_the_unit_and_its_stages_stand_as_the_entry_left_them(workbook, make_draft, stage):
    workbook.append(make_draft(1, stages=(stage("in progress"),)))
    workbook.append(make_draft(2, stages=(stage("done", done=3),), disposition="hold", due="", grade="B", price="4.50"))
    unit = workbook.unit("TB-001")
    assert (unit.disposition, unit.grade, unit.price, unit.last_entry) == ("hold", "B", "4.50", 2)
    assert workbook.stages("Tarnbeck shelf 3") == (stage("done", done=3),)


def test_a_number_that_json_has_not_is_refused_before_anything_is_written(workbook, make_draft):
    with pytest.raises(ValueError, match="JSON"):
        workbook.append(make_draft(content={"value": float("nan")}))
    assert workbook.entries("TB-001") == ()


@pytest.mark.parametrize("verb", ["UPDATE entries SET by = 'XY'", "DELETE FROM entries"], ids=["update", "delete"])
@pytest.mark.parametrize("table", ["entries", "runs", "run_revisions", "revisions", "anchors"])
def test_the_file_itself_refuses_to_change_what_was_recorded(workbook, make_draft, path, table, verb):
    workbook.append(make_draft())
    workbook.add_anchor(at="2026-05-04T18:00:00Z", reason="bench closing")
    column = {"run_revisions": "name", "revisions": "text", "anchors": "reason"}.get(table, "by")
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


json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | st.text(),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(), inner, max_size=3),
    max_leaves=8,
)


@settings(deadline=None, max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(note=json_values)
def test_any_content_comes_back_as_it_was_recorded(workbook, make_draft, note):
    number = workbook.unit("TB-002").last_entry + 1
    content = {"note": note}
    try:
        canonical(content).encode()
    except UnicodeEncodeError:  # half of a surrogate pair is no text
        return
    workbook.append(make_draft(number, unit="TB-002", content=content))
    assert canonical(workbook.entries("TB-002", after=number - 1)[0].content) == canonical(content)
