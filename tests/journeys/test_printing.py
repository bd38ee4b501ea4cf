"""A technician prints tags in the window: on a printer of the toolkit that writes PDF, and on a queue of CUPS."""

import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import QPushButton

from benchapp.actions.papers.printer_settings import read_printer_settings
from benchapp.desktop.printing.dialog import PrintDialog
from benchapp.desktop.printing.systems import PaintedPrinters
from benchapp.printers.values import PaperSize, Printer
from tests.desktop.windows import prove_meters, take_in, window_on
from tests.printers.measuring import bands, paper_sizes, pictures_in, upright_lines
from tests.printers.private_cups import IS_THERE, MISSING, PrivateCups

A4 = PaperSize(key="A4", name="A4", width=210, height=297)
LETTER = PaperSize(key="Letter", name="US Letter", width=215.9, height=279.4)
ROOT = Path(__file__).resolve().parents[2]


class PdfPrinter:
    """A printer that puts each job into a file of its own."""

    def __init__(self, folder, *papers):
        self.folder, self.papers = folder, papers

    def printers(self):
        return (Printer(name="pdf", title="the PDF printer", papers=self.papers, usual_paper=self.papers[0].key),)

    def device(self, _printer):
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        printer.setOutputFileName(str(self.folder / f"job-{len(self.jobs()) + 1}.pdf"))
        return printer

    def jobs(self):
        return sorted(self.folder.glob("job-*.pdf"))


@pytest.fixture
def printing(look, bench, tmp_path, qtbot):
    """A window on three units, with a printer that takes A4 alone."""
    take_in(bench)
    prove_meters(bench)
    with window_on(look, bench) as technician:
        printer = PdfPrinter(tmp_path, A4)
        technician.window.context.printing.system = PaintedPrinters(printer.device, printer.printers)
        technician.printer = printer
        technician.until = lambda there: (qtbot.waitUntil(there, timeout=20000), technician.settle())
        yield technician


def open_dialog(technician, *keys):
    technician.strike(*keys, "Ctrl+P")
    dialog = technician.window.findChild(PrintDialog, "print-dialog")
    technician.until(lambda: dialog.preview.accessibleDescription() != "")
    return dialog


def finish(technician, dialog):
    """Print, and wait until the dialog has closed."""
    gone = []
    dialog.finished.connect(gone.append)
    technician.strike("Enter")
    technician.until(lambda: bool(gone))


def printed_of(technician):
    workbook = technician.window.context.bench.workbook
    return {mark: len(workbook.tags_printed(mark)) for mark in ("TB-001", "TB-002", "TB-003")}


def test_tags_come_out_at_true_size_from_the_first_free_label_on(printing):
    dialog = open_dialog(printing, "F11")
    printing.tab_to("print-first")
    printing.retype("3")
    printing.strike("Tab")
    printing.retype("2")
    assert printed_of(printing) == dict.fromkeys(("TB-001", "TB-002", "TB-003"), 0)
    finish(printing, dialog)

    (job,) = printing.printer.jobs()
    assert paper_sizes(job) == [pytest.approx((210, 297), abs=0.2)]  # Qt rounds a paper to whole points
    # labels 99.1 x 67.7 mm, from 4.65 and 13.1 mm on, 2.5 mm apart; 3 mm within each stands the band
    wanted = [4.65 + 3, 4.65 + 99.1 + 2.5 + 3] * 3
    found = bands(job)
    assert [box.left for box in found] == pytest.approx(wanted, abs=0.15)
    assert [box.width for box in found] == pytest.approx([99.1 - 6] * 6, abs=0.15)
    assert [b.top - a.top for a, b in zip(found, found[2:], strict=False)] == pytest.approx([67.7] * 4, abs=0.15)
    assert 13.1 + 67.7 < found[0].top < 13.1 + 2 * 67.7
    assert pictures_in(job) == 0, "lines and letters"
    assert printed_of(printing) == dict.fromkeys(("TB-001", "TB-002", "TB-003"), 1)
    assert "the PDF printer" in printing.said


def test_the_next_print_begins_at_the_label_that_is_free(printing):
    finish(printing, open_dialog(printing, "F11"))
    dialog = open_dialog(printing, "F2")
    assert dialog.choices.first.text() == "4"
    printing.strike("Esc")


def test_a_sheet_that_the_printer_does_not_take_is_refused_and_one_that_fits_offered(printing):
    dialog = open_dialog(printing, "F11")
    printing.tab_to("print-sheet")
    for _ in range(5):
        if dialog.choices.chosen_sheet().id == "letter-2-by-3":
            break
        printing.strike("Down")
    printing.settle()
    assert "cannot take “US Letter" in dialog.complaint.text()
    assert not dialog.findChild(QPushButton, "print-go").isEnabled()
    printing.strike("Enter")
    assert printing.printer.jobs() == []
    printing.strike("Alt+S")
    assert dialog.choices.chosen_sheet().id == "a4-2-by-4"
    assert dialog.complaint.text() == ""
    printing.strike("Esc")
    assert printing.printer.jobs() == []


def test_a_test_print_is_measured_and_its_offset_kept_for_the_printer(printing):
    dialog = open_dialog(printing, "F11")
    printing.strike("Alt+T")
    printing.until(lambda: "Measure" in dialog.note.text())
    assert left_line(printing.printer.jobs()[0]) == pytest.approx(20, abs=0.15)

    printing.retype("1.5")  # the keyboard stands in the field that the ruler has an answer for
    printing.strike("Tab")
    printing.retype("-2")
    printing.strike("Alt+T")
    printing.until(lambda: len(printing.printer.jobs()) == 2 and "Measure" in dialog.note.text())
    assert left_line(printing.printer.jobs()[1]) == pytest.approx(21.5, abs=0.15)
    assert printed_of(printing) == dict.fromkeys(("TB-001", "TB-002", "TB-003"), 0), "a test print is no tag"

    finish(printing, dialog)
    assert bands(printing.printer.jobs()[2])[0].left == pytest.approx(4.65 + 3 + 1.5, abs=0.15)
    assert read_printer_settings().offset("pdf") == (1.5, -2.0)
    dialog = open_dialog(printing, "F11")
    assert (dialog.choices.right.text(), dialog.choices.down.text()) == ("1.5", "-2")
    printing.strike("Esc")


def left_line(job):
    """Where the long upright line of a test print stands."""
    (line,) = upright_lines(job)
    return line.left + line.width / 2


def test_ctrl_p_prints_in_every_place(printing):
    """The board, the sale table, the bench, and on it the record, which prints the record first."""
    assert open_dialog(printing, "F2").choices.wish().units == ("TB-001", "TB-002", "TB-003")
    printing.strike("Esc")
    assert open_dialog(printing, "F11").choices.wish().paper == "tags"
    printing.strike("Esc")
    printing.take_unit("TB-002")
    dialog = open_dialog(printing)
    assert (dialog.choices.wish().units, dialog.choices.wish().paper) == (("TB-002",), "tags")
    finish(printing, dialog)
    dialog = open_dialog(printing, "Ctrl+L")
    assert dialog.choices.wish().paper == "record sheet"
    finish(printing, dialog)
    assert paper_sizes(printing.printer.jobs()[1])[0] == pytest.approx((210, 297), abs=0.2)
    assert printed_of(printing)["TB-002"] == 1, "a record sheet is no tag"


def test_a_computer_without_a_printer_says_so_and_offers_a_file(printing, tmp_path):
    printing.printer.printers = tuple
    printing.window.context.printing.system = PaintedPrinters(printing.printer.device, tuple)
    dialog = open_dialog(printing, "F11")
    assert "no printer" in dialog.complaint.text()
    printing.strike("Enter")
    assert dialog.isVisible()
    printing.strike("Alt+F")
    printing.retype(str(tmp_path / "tags.pdf"))
    printing.strike("Enter")
    assert len(bands(tmp_path / "tags.pdf")) == 3


@pytest.mark.skipif(not IS_THERE, reason=MISSING)
def test_the_same_on_queues_of_cups():
    """In a process of its own: the library of CUPS asks only once which server it is to use."""
    with PrivateCups() as cups:
        folder = {"CUPS_FOLDER": str(cups.folder)}
        cups.add_printer("office")
        cups.add_printer("roll", paper=False)
        words = [sys.executable, "-m", "pytest", "-q", "-n0", "-p", "no:cacheprovider", "-p", "no:randomly"]
        done = subprocess.run(
            [*words, "tests/journeys/cups_day.py"],
            cwd=ROOT,
            env={**cups.environment, **folder},
            capture_output=True,
            text=True,
            check=False,
            timeout=300,
        )
    assert done.returncode == 0, done.stdout[-6000:]
    assert " passed" in done.stdout
