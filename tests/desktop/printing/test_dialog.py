"""The print dialog: what is chosen by keys and by mouse, and what it says when a printer does not do as asked."""

from types import SimpleNamespace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton

from benchapp.desktop.printing.dialog import PrintDialog
from benchapp.printers.problems import PrinterProblem
from benchapp.printers.values import PaperSize, Printer, Progress, Stage

A4 = PaperSize(key="A4", name="A4", width=210, height=297)
LETTER = PaperSize(key="Letter", name="US Letter", width=215.9, height=279.4)


class SimulatedPrinter:
    """A printer set to US Letter; it goes through the stages that a test gives it, the last one for good."""

    def __init__(self, *stages):
        self.stages, self.taken, self.taken_back = list(stages), [], 0

    def printers(self):
        return (Printer(name="office", title="Office", papers=(A4, LETTER), usual_paper="Letter"),)

    def send(self, parcel):
        if not self.stages:
            raise PrinterProblem("Office did not take it. Nothing was recorded as printed.")
        self.taken.append(parcel)
        return len(self.taken)

    def progress(self, _parcel, _ticket):
        return self.stages.pop(0) if len(self.stages) > 1 else self.stages[0]

    def take_back(self, _parcel, _ticket):
        self.taken_back += 1


DONE = Progress(stage=Stage.DONE)
EMPTY = Progress(stage=Stage.WAITING, words="Office is out of paper.")


@pytest.fixture
def before(technician, qtbot):
    """The dialog open on three tags, before a printer with these stages."""

    def opened(*stages, keys=("F11",)):
        system = SimulatedPrinter(*stages)
        technician.window.context.printing.system = system
        technician.strike(*keys, "Ctrl+P")
        dialog = technician.window.findChild(PrintDialog, "print-dialog")
        wait = lambda there: (qtbot.waitUntil(there, timeout=20000), technician.settle())  # noqa: E731
        wait(lambda: dialog.preview.accessibleDescription() != "")
        return SimpleNamespace(dialog=dialog, system=system, until=wait)

    yield opened
    technician.strike("Esc")


def printed(technician):
    workbook = technician.window.context.bench.workbook
    return [len(workbook.tags_printed(mark)) for mark in ("TB-001", "TB-002", "TB-003")]


def test_a_click_on_a_label_chooses_the_first_free_one(technician, before):
    at = before(DONE)
    QTest.mouseClick(at.dialog.preview, Qt.MouseButton.LeftButton, pos=at.dialog.preview._label(4).center().toPoint())
    technician.settle()
    assert at.dialog.choices.first.text() == "5"
    at.until(lambda: at.dialog.preview._used == 4)


def test_a_label_that_the_sheet_has_not_is_a_sentence(technician, before):
    at = before(DONE)
    technician.tab_to("print-first")
    technician.retype("0")
    assert "labels 1 to 8" in at.dialog.complaint.text()
    technician.strike("Enter")
    assert at.system.taken == []


def test_further_pages_are_turned_to(technician, before):
    at = before(DONE)
    technician.tab_to("print-copies")
    technician.retype("5")
    at.until(lambda: "Page 1 of 2" in at.dialog.preview.accessibleDescription())
    technician.strike("PgDown")
    at.until(lambda: "Page 2 of 2" in at.dialog.preview.accessibleDescription())
    technician.strike("PgUp")
    at.until(lambda: "Page 1 of 2" in at.dialog.preview.accessibleDescription())


def test_out_of_paper_it_waits_and_goes_on_by_itself(technician, before):
    at = before(EMPTY, EMPTY, DONE)
    technician.strike("Enter")
    at.until(lambda: at.dialog.state.text() == "Office is out of paper.")
    assert printed(technician) == [0, 0, 0]
    assert not at.dialog.findChild(QPushButton, "print-go").isEnabled()
    at.until(lambda: printed(technician) == [1, 1, 1])


def test_a_printer_that_does_not_take_it_is_a_sentence_and_nothing_is_recorded(technician, before):
    at = before()
    technician.strike("Enter")
    at.until(lambda: "did not take it" in at.dialog.complaint.text())
    assert at.dialog.isVisible()
    assert at.dialog.findChild(QPushButton, "print-go").isEnabled()
    assert printed(technician) == [0, 0, 0]


def test_a_job_that_was_given_up_is_a_sentence_and_nothing_is_recorded(technician, before):
    at = before(Progress(stage=Stage.FAILED, words="Office gave it up."))
    technician.strike("Enter")
    at.until(lambda: at.dialog.complaint.text() == "Office gave it up.")
    assert printed(technician) == [0, 0, 0]


def test_what_was_out_when_it_is_taken_back_is_recorded_all_the_same(technician, before):
    at = before(EMPTY, DONE)
    technician.strike("Enter")
    at.until(lambda: at.dialog.state.text() == "Office is out of paper.")
    technician.strike("Esc")
    at.until(lambda: printed(technician) == [1, 1, 1])
    assert at.system.taken_back == 1


def test_a_sheet_that_the_printer_is_not_set_to_is_asked_for_by_its_own_paper(technician, before):
    at = before(DONE)
    assert "it is set to US Letter" in at.dialog.note.text()
    technician.strike("Enter")
    at.until(lambda: bool(at.system.taken))
    assert at.system.taken[0].paper == A4


def test_closed_while_the_page_is_drawn_or_made_it_prints_nothing(technician):
    system = SimulatedPrinter(DONE)
    technician.window.context.printing.system = system
    for enter in (False, True):
        technician.strike("F11")
        technician.window.sale.print_tags()
        dialog = technician.window.findChild(PrintDialog, "print-dialog")
        dialog._find_printers()
        dialog._draw()
        if enter:
            dialog.go()
        dialog.reject()
        technician.settle()
    assert system.taken == []
    assert printed(technician) == [0, 0, 0]


def test_a_record_goes_on_the_paper_that_the_printer_is_set_to(technician, before):
    technician.take_unit("TB-001")
    at = before(DONE, keys=("Ctrl+L",))
    assert at.dialog.choices.wish().sheet == "Letter"


@pytest.mark.parametrize("percent", [100, 200])
def test_tab_reaches_every_control_and_the_page(technician, before, percent):
    technician.window.look.set_percent(percent)
    at = before(DONE)
    for name in ("printer", "sheet", "first", "copies", "right", "down", "test", "pdf", "preview", "go", "cancel"):
        technician.tab_to(f"print-{name}")
    assert at.dialog.findChild(QPushButton, "print-cancel").hasFocus()
