"""The journey to a CUPS queue; `test_printing.py` runs it in a process of its own, on a server of its own.

The queue `office` takes A4 and US Letter, and is set to US Letter; `roll` cuts a 62 mm roll and is out of paper.
"""

import os
import subprocess
from pathlib import Path

import pytest

from benchapp.desktop.printing.dialog import PrintDialog
from benchapp.desktop.printing.systems import CupsPrinters
from tests.desktop.windows import prove_meters, take_in, window_on
from tests.printers.measuring import bands, paper_sizes, pictures_in

FOLDER = Path(os.environ["CUPS_FOLDER"])
OFFICE, ROLL = FOLDER / "tray-office", FOLDER / "tray-roll"
MARKS = ("TB-001", "TB-002", "TB-003")


@pytest.fixture
def before_it(look, bench, qtbot):
    """A technician before a window on three units."""
    take_in(bench)
    prove_meters(bench)
    for job in (*OFFICE.glob("job-*.pdf"), *ROLL.glob("job-*.pdf")):
        job.unlink()
    with window_on(look, bench) as technician:
        assert isinstance(technician.window.context.printing.system, CupsPrinters)
        technician.until = lambda there: (qtbot.waitUntil(there, timeout=20000), technician.settle())
        yield technician


def open_dialog(technician, printer):
    technician.strike("F11", "Ctrl+P")
    dialog = technician.window.findChild(PrintDialog, "print-dialog")
    technician.until(lambda: dialog.preview.accessibleDescription() != "")
    technician.tab_to("print-printer")
    for key in ("Home", "Down"):
        if dialog.choices.chosen_printer().name != printer:
            technician.strike(key)
    assert dialog.choices.chosen_printer().name == printer
    return dialog


def begin(technician, dialog):
    """Strike Enter; what is returned fills when the dialog has closed."""
    gone = []
    dialog.finished.connect(gone.append)
    technician.strike("Enter")
    return gone


def printed(technician):
    return [len(technician.window.context.bench.workbook.tags_printed(mark)) for mark in MARKS]


def command(*words):
    path = f"{os.environ['PATH']}:/usr/sbin"
    subprocess.run(words, env={**os.environ, "PATH": path}, check=True)


def test_a_queue_that_is_set_to_other_paper_is_asked_for_the_sheets_own(before_it):
    dialog = open_dialog(before_it, "office")
    assert "it is set to US Letter" in dialog.note.text()
    gone = begin(before_it, dialog)
    before_it.until(lambda: bool(gone))
    (job,) = OFFICE.glob("job-*.pdf")
    assert paper_sizes(job) == [pytest.approx((210, 297), abs=0.15)]
    assert [box.left for box in bands(job)] == pytest.approx([7.65, 109.25, 7.65], abs=0.15)
    assert [box.width for box in bands(job)] == pytest.approx([93.1] * 3, abs=0.15)
    assert pictures_in(job) == 0
    assert printed(before_it) == [1, 1, 1]


def test_a_roll_cuts_each_tag_at_its_own_length_and_out_of_paper_nothing_is_recorded(before_it):
    dialog = open_dialog(before_it, "roll")
    assert "cannot take “A4" in dialog.complaint.text()
    before_it.strike("Alt+S")
    assert dialog.choices.chosen_sheet().id == "roll-62"
    before_it.tab_to("print-copies")
    gone = begin(before_it, dialog)
    before_it.until(lambda: "out of paper" in dialog.state.text())
    assert printed(before_it) == [0, 0, 0]

    (ROLL / "paper").touch()
    before_it.until(lambda: bool(gone))
    jobs = sorted(ROLL.glob("job-*.pdf"), key=lambda path: int(path.stem.partition("-")[2]))
    assert len(jobs) == 3
    for job in jobs:
        ((width, height),) = paper_sizes(job)
        assert width == pytest.approx(62, abs=0.4)  # CUPS cuts paper of no name to whole points
        assert 30 < height < 120
        (band,) = bands(job)
        assert band.left == pytest.approx(3, abs=0.2)
        assert band.width == pytest.approx(62 - 6, abs=0.15)
    assert printed(before_it) == [1, 1, 1]


def test_what_is_taken_back_is_not_recorded(before_it):
    (ROLL / "paper").unlink(missing_ok=True)
    dialog = open_dialog(before_it, "roll")
    before_it.strike("Alt+S") if dialog.complaint.text() else None
    before_it.tab_to("print-copies")
    gone = begin(before_it, dialog)
    before_it.until(lambda: "out of paper" in dialog.state.text())
    before_it.strike("Esc")
    assert gone
    (ROLL / "paper").touch()
    assert printed(before_it) == [0, 0, 0]
    assert "Taken back" in before_it.said


def test_a_stopped_printer_is_named_and_goes_on_when_it_is_started(before_it):
    command("cupsdisable", "office")
    dialog = open_dialog(before_it, "office")
    gone = begin(before_it, dialog)
    before_it.until(lambda: "stopped" in dialog.state.text())
    assert printed(before_it) == [0, 0, 0]
    command("cupsenable", "office")
    before_it.until(lambda: bool(gone))
    assert printed(before_it) == [1, 1, 1]


def test_a_queue_that_takes_no_jobs_is_a_sentence_and_the_dialog_stays(before_it):
    command("cupsreject", "office")
    dialog = open_dialog(before_it, "office")
    begin(before_it, dialog)
    before_it.until(lambda: "did not take it" in dialog.complaint.text())
    assert "Nothing was recorded" in dialog.complaint.text()
    command("cupsaccept", "office")
    assert printed(before_it) == [0, 0, 0]
    before_it.strike("Esc")


def test_a_job_cancelled_elsewhere_is_not_recorded(before_it):
    command("cupsdisable", "office")
    dialog = open_dialog(before_it, "office")
    begin(before_it, dialog)
    before_it.until(lambda: "stopped" in dialog.state.text())
    command("cancel", "-a", "office")
    before_it.until(lambda: "taken back" in dialog.complaint.text())
    command("cupsenable", "office")
    assert printed(before_it) == [0, 0, 0]
    before_it.strike("Esc")
