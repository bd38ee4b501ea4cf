"""Day files in the window: written and brought in, by keys and by mouse."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QDialog

from benchapp.actions.entries.faults import record_note
from benchapp.actions.exchange.exporting import export_day_file
from benchapp.actions.workbench.bench import Bench
from benchapp.workbook.model.values import BenchIdentity
from tests.desktop.windows import take_in
from tests.people import staffed

YARD = BenchIdentity(uuid="33333333-0000-4000-8000-000000000003", name="Yard")


@pytest.fixture
def from_the_yard(bench, clock, tmp_path, technician):
    """A day file with a note on TB-001 that a copy of the workbook took elsewhere."""
    copied = tmp_path / "copied.workbook"
    bench.workbook.copy_to(copied)
    with Bench.open(copied, clock=clock, at_bench=YARD) as yard:
        record_note(yard, "TB-001", "a foot is missing", by="GH")
        export_day_file(yard, out=tmp_path / "yard.dayfile", units=["TB-001"])
    return tmp_path / "yard.dayfile"


def click(technician, name):
    found = technician.window.findChild(QAbstractButton, name)
    QTest.mouseClick(found, Qt.MouseButton.LeftButton)
    technician.settle()


def dialog(technician, name):
    return technician.window.findChild(QDialog, name)


def test_a_day_file_is_brought_in_by_keys(technician, from_the_yard):
    technician.strike("Ctrl+S", "Ctrl+I")
    assert technician.at_keyboard().objectName() == "bring-in-path"
    technician.strike("Enter")
    assert technician.reads("bring-in-complaint") == "Type where the day file is, or look for it."
    technician.type(str(from_the_yard))
    technician.strike("Enter")
    technician.settle()
    assert "of yard.dayfile are added." in technician.said
    assert technician.window.context.bench.entries("TB-001")[-1].content.words == "a foot is missing"


def test_a_day_file_that_does_not_hold_is_told_and_the_dialog_stays(technician, from_the_yard):
    from_the_yard.write_bytes(from_the_yard.read_bytes()[:-20])
    technician.strike("Ctrl+S")
    click(technician, "backups-day-file-in")
    technician.type(str(from_the_yard))
    technician.strike("Enter")
    technician.settle()
    assert technician.reads("bring-in-complaint").startswith("yard.dayfile is no sound day file (")
    assert dialog(technician, "bring-in-dialog").isVisible()
    technician.strike("Esc")


def test_a_day_file_is_written_by_keys_and_by_mouse_and_never_over_a_file(technician, path, bench):
    technician.strike("Ctrl+S", "Ctrl+Shift+I")
    technician.strike("Enter")
    technician.settle()
    (written,) = path.parent.glob("*.dayfile")
    before = written.read_bytes()
    assert technician.said == f"3 units are in {written}."
    click(technician, "backups-day-file-out")
    technician.strike("Enter")
    technician.settle()
    assert "never takes the place of one" in technician.reads("save-complaint")
    assert written.read_bytes() == before
    technician.strike("Esc")


def test_the_unit_at_hand_stays_so_when_another_comes_to_bear_its_mark(technician, clock, tmp_path, bench):
    with Bench.create(tmp_path / "yard.workbook", clock=clock, at_bench=YARD, workshop=staffed()) as yard:
        take_in(yard, count=1)
        export_day_file(yard, out=tmp_path / "yard.dayfile")
    own = bench.unit("TB-001").uuid
    technician.take_unit("TB-001")
    technician.strike("Ctrl+S", "Ctrl+I")
    technician.type(str(tmp_path / "yard.dayfile"))
    technician.strike("Enter")
    technician.settle()
    technician.strike("F4")
    assert technician.window.bench.mark == f"TB-001 ({own[:4]})"
    assert technician.page.name == "outcome"
    assert "2 units bear the shelf mark TB-001. Do not use it." in technician.complaint
    technician.strike("Ctrl+T")
    technician.type("TB-101")
    technician.strike("Enter")
    technician.settle()
    assert (technician.window.bench.mark, technician.complaint) == ("TB-101", "")
    assert bench.unit("TB-101").uuid == own
    technician.strike("F2")
    assert len({lot.name for lot in bench.lots()}) == 2
