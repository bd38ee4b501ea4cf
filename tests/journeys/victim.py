"""A process that works on a unit in a real window, tells what it recorded, then waits amid what its word says.

    python victim.py WORKBOOK reading|repair|photo|clock

A reading half typed, a repair half ticked, a photo chosen, a wait whose clock runs: none of it is recorded yet.
"""

import sys
import time
from datetime import timedelta
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from benchapp.actions.workbench.bench import Bench
from benchapp.desktop.theme.look import Look
from demo.technician import Technician
from tests.desktop.bench.test_pages import go_to
from tests.desktop.windows import WORKSHOP, Clock, prove_meters, take_in, window_on
from tests.journeys.shift import Shift
from tests.people import staffed


def _reading(technician: Technician) -> None:
    shift = Shift(technician, "TB-001")
    shift.take_in(count=1)
    shift.work_until(lambda: technician.address == "continuity.leads-after")
    technician.type("0.1")


def _repair(technician: Technician) -> None:
    go_to(technician, "inspect")
    technician.strike("2", "1", "1", "Enter")
    technician.tab_to("repair-list")
    technician.strike("Enter")
    assert "done" in technician.page.marks.values()  # type: ignore[attr-defined]


def _photo(technician: Technician) -> None:
    go_to(technician, "photo")
    picture = QImage(40, 30, QImage.Format.Format_RGB32)
    picture.fill(Qt.GlobalColor.red)
    QApplication.clipboard().setImage(picture)
    technician.strike("Ctrl+V")
    assert "1 chosen" in technician.reads("photo-head")


def _clock(technician: Technician) -> None:
    go_to(technician, "wait")
    clock.step = timedelta(milliseconds=1)
    QTest.keyClick(technician.at_keyboard(), Qt.Key.Key_Return)
    while not technician.window.holds_answer:
        QApplication.processEvents()


AMID = {"reading": _reading, "repair": _repair, "photo": _photo, "clock": _clock}

if __name__ == "__main__":
    application, clock, amid = QApplication(["victim"]), Clock(), sys.argv[2]
    bench = Bench.create(Path(sys.argv[1]), clock=clock, folders=(WORKSHOP,), workshop=staffed())
    if amid != "reading":
        take_in(bench, count=1, route="every-step-check")
        prove_meters(bench)
    with window_on(Look(application, dark=False), bench, initials="" if amid == "reading" else "AB") as technician:
        if amid != "reading":
            technician.take_unit("TB-001")
        AMID[amid](technician)
        for entry in bench.entries("TB-001"):
            print("recorded", entry.number, entry.kind)
        print("at", technician.address or "-", technician.page.name)
        print("ready", flush=True)
        while True:
            time.sleep(1)
