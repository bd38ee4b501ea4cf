"""Stickers in the window: offered first at intake, chosen elsewhere, printed by keys, and never counted as tags."""

from PySide6.QtWidgets import QLineEdit, QWidget

from benchapp.actions.papers.print_jobs import Paper
from benchapp.actions.papers.printer_settings import read_printer_settings
from tests.desktop.printing.test_dialog import DONE, SimulatedPrinter, before, printed  # noqa: F401 (a fixture)
from tests.paper.making import pages_text

WARNING = "Shelf mark only: no test says this is safe"
MARKS = ("TB-101", "TB-102")


def taken_in(technician, qtbot, *stages):
    """The dialog as it opens when two units were taken in and printed by Alt+P."""
    system = SimulatedPrinter(*stages)
    technician.window.context.printing.system = system
    technician.strike("F2", "Ctrl+N")
    lot = technician.window.findChild(QWidget, "new-lot-dialog")
    technician.settle()
    lot.equipment.setCurrentIndex(lot.equipment.findData("tb-ls1"))
    for name, text in {"name": "Van", "count": "2", "first": MARKS[0]}.items():
        technician.tab_to(f"new-lot-{name}")
        technician.retype(text)
    technician.strike("Alt+P")
    dialog = technician.window.findChild(QWidget, "print-dialog")
    qtbot.waitUntil(lambda: dialog.preview.accessibleDescription() != "", timeout=20000)
    technician.settle()
    return dialog, system


def test_at_intake_stickers_are_printed_at_once_and_no_tag_is_recorded(technician, qtbot):
    dialog, system = taken_in(technician, qtbot, DONE)
    assert dialog.choices.wish().units == MARKS
    assert dialog.choices.paper.currentText() == "Stickers with the shelf mark"
    assert "A4, three across and eight down" in dialog.preview.accessibleDescription()
    technician.strike("Enter")
    qtbot.waitUntil(lambda: "Printed on Office: stickers of TB-101 … TB-102." in technician.said, timeout=20000)
    (parcel,) = system.taken
    (page,) = pages_text(parcel.pdf)
    assert page.count(WARNING) == 2
    assert all(mark in page for mark in MARKS)
    workbook = technician.window.context.bench.workbook
    assert [workbook.tags_printed(mark) for mark in MARKS] == [(), ()]
    assert read_printer_settings().free["a4-3-by-8"] == 3


def test_at_intake_whole_tags_are_one_key_away(technician, qtbot):
    dialog, system = taken_in(technician, qtbot, DONE)
    technician.tab_to("print-paper")
    technician.strike("Down")
    assert dialog.choices.chosen_paper() is Paper.TAGS
    assert dialog.choices.chosen_sheet().id == "a4-2-by-4"
    qtbot.waitUntil(lambda: "Tags TB-101" in dialog.preview.accessibleDescription(), timeout=20000)
    technician.strike("Esc")
    assert system.taken == []


def test_stickers_are_chosen_on_the_board_by_keys_and_a_test_print_is_there_for_their_sheet(
    technician,
    before,  # noqa: F811 (the fixture)
):
    at = before(DONE, keys=("F2",))
    assert at.dialog.choices.chosen_paper() is Paper.TAGS
    technician.tab_to("print-paper")
    technician.strike("Down")
    assert at.dialog.choices.chosen_paper() is Paper.STICKERS
    assert at.dialog.test.isVisible()
    assert at.dialog.choices.right.isVisible()
    at.until(lambda: "three across and eight down" in at.dialog.preview.accessibleDescription())
    technician.strike("Enter")
    at.until(lambda: "Printed on Office: stickers of TB-001 … TB-003." in technician.said)
    assert WARNING in pages_text(at.system.taken[0].pdf)[0]
    assert printed(technician) == [0, 0, 0]


def test_stickers_are_written_as_a_file_in_place_of_being_printed(technician, qtbot, tmp_path):
    _, system = taken_in(technician, qtbot, DONE)
    technician.strike("Alt+F")
    save = technician.window.findChild(QWidget, "save-dialog")
    assert save.findChild(QLineEdit).text().endswith("stickers TB-101.pdf")
    out = tmp_path / "stickers.pdf"
    technician.retype(str(out))
    technician.strike("Enter")
    qtbot.waitUntil(out.exists, timeout=20000)
    technician.settle()
    assert pages_text(out.read_bytes())[0].count(WARNING) == 2
    assert f"2 stickers are in {out}." in technician.said
    assert system.taken == []
