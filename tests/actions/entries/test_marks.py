"""A unit is marked anew: what it is called, and what stays."""

import pytest

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.entries.faults import record_note
from benchapp.actions.entries.outcome import mark_anew
from benchapp.actions.workbench.problems import Refused
from benchapp.workbook.model.problems import NotInWorkbook, TakenName
from tests.actions.driving import do_what_is_due


def test_a_unit_marked_anew_keeps_its_record_and_goes_by_the_new_mark(bench, lot, path):
    do_what_is_due(bench, "TB-001")
    before = bench.unit("TB-001")
    done = mark_anew(bench, "TB-001", " TB-014 ", by="AB", why="the label was lost")
    assert (done.renamed, done.units) == ({"TB-001": "TB-014"}, {"TB-001", "TB-014"})
    unit = bench.unit("TB-014")
    assert (unit.uuid, unit.shelf_mark, unit.held) == (before.uuid, "TB-014", "")
    content = bench.entries("TB-014")[-1].content
    assert (content.shelf_mark, content.why) == ("TB-014", "the label was lost")
    with pytest.raises(NotInWorkbook):
        bench.unit("TB-001")
    record_note(bench, "TB-014", "a foot is missing", by="AB")
    bench.close()
    assert verify_workbook(path) == ()


def test_a_mark_that_another_unit_bears_or_that_is_none_is_refused(bench, lot):
    with pytest.raises(TakenName):
        mark_anew(bench, "TB-001", "TB-002", by="AB")
    with pytest.raises(Refused, match="no shelf mark"):
        mark_anew(bench, "TB-001", "  ", by="AB")
    with pytest.raises(Refused, match="initials"):
        mark_anew(bench, "TB-001", "TB-014", by=" ")
    assert bench.entries("TB-001") == ()


def test_a_mark_that_became_free_names_its_new_unit_and_no_other(bench, lot):
    do_what_is_due(bench, "TB-001")
    mark_anew(bench, "TB-001", "TB-014", by="AB")
    mark_anew(bench, "TB-002", "TB-001", by="AB")
    assert [entry.kind for entry in bench.entries("TB-001")] == ["shelf-mark"]
    record_note(bench, "TB-001", "a foot is missing", by="AB")
    assert bench.unit("TB-001").last_entry == 2
