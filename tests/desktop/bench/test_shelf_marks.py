"""A unit is marked anew on its outcome page, and one that is on hold by itself says so on every page."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton

from benchapp.actions.entries.faults import record_note
from benchapp.actions.exchange.exporting import export_day_file
from benchapp.actions.exchange.importing import import_day_file
from benchapp.actions.workbench.bench import Bench
from benchapp.workbook.model.values import BenchIdentity
from tests.desktop.windows import prove_meters, take_in, window_on

YARD = BenchIdentity(uuid="33333333-0000-4000-8000-000000000003", name="Yard")


def test_a_unit_is_marked_anew_by_keys_and_the_bench_goes_on_with_it(technician):
    technician.take_unit("TB-001")
    technician.strike("F6", "Ctrl+T")
    assert technician.at_keyboard().objectName() == "outcome-mark"
    assert technician.complaint == "Type the mark that the unit bears from now on, then Enter."
    technician.type("TB-101")
    technician.strike("Enter")
    technician.settle()
    assert technician.window.bench.mark == "TB-101"
    assert (technician.page.name, technician.reads("unit")) == ("outcome", "TB-101")
    assert technician.window.context.bench.unit("TB-101").last_entry == 1


def test_the_mouse_does_the_same_and_a_taken_mark_is_refused(technician):
    technician.take_unit("TB-001")
    technician.strike("F6")
    technician.page.mark.setText("TB-002")
    click(technician, "outcome-mark-anew")
    assert technician.complaint.startswith("There is a unit called 'TB-002' already.")
    technician.page.mark.setText("TB-101")
    click(technician, "outcome-mark-anew")
    assert technician.window.bench.mark == "TB-101"


@pytest.fixture
def held(look, bench, clock, tmp_path):
    """A technician before TB-001, of which a copied file and this one both went on."""
    take_in(bench)
    prove_meters(bench)
    copied = tmp_path / "copied.workbook"
    bench.workbook.copy_to(copied)
    record_note(bench, "TB-001", "the grille is dented", by="AB")
    with Bench.open(copied, clock=clock, at_bench=YARD) as yard:
        record_note(yard, "TB-001", "a foot is missing", by="GH")
        export_day_file(yard, out=tmp_path / "yard.dayfile")
    import_day_file(bench, tmp_path / "yard.dayfile", by="AB")
    with window_on(look, bench) as before_it:
        before_it.take_unit("TB-001")
        yield before_it


def test_a_unit_on_hold_says_so_on_every_page_and_takes_no_answer(held):
    words = "TB-001 is on hold: There are two records of it from entry 1 on. Do not use it."
    assert held.complaint == words
    held.strike("F6")
    assert held.complaint == words
    held.strike("4")
    assert held.complaint.startswith("TB-001 is on hold: There are two records of it from entry 1 on.")
    assert held.window.context.bench.entries("TB-001") == ()


def test_the_record_page_lists_both_sides_from_the_fork_on(held):
    held.strike("Ctrl+L")
    held.settle()
    rows = [row.words for row in held.page.list.rows()]
    sides = rows[rows.index("Two records: side 1 of 2") :]
    assert sides[2] == "Two records: side 2 of 2"
    assert sorted(row.split("   ")[-1] for row in sides[1::2]) == ["a foot is missing", "the grille is dented"]
    assert all(row.startswith("entry 1   2026") for row in sides[1::2])


def click(technician, name):
    found = technician.window.findChild(QAbstractButton, name)
    QTest.mouseClick(found, Qt.MouseButton.LeftButton)
    technician.settle()
