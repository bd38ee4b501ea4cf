"""A process that works on a unit in a real window, tells what it recorded, then waits with a reading half typed."""

import sys
import time
from pathlib import Path

from PySide6.QtWidgets import QApplication

from benchapp.actions.workbench.bench import Bench
from benchapp.desktop.theme.look import Look
from tests.desktop.windows import Clock, window_on
from tests.journeys.shift import Shift
from tests.people import staffed

if __name__ == "__main__":
    application = QApplication(["victim"])
    bench = Bench.create(Path(sys.argv[1]), clock=Clock(), workshop=staffed())
    with window_on(Look(application, dark=False), bench, initials="") as technician:
        shift = Shift(technician, "TB-001")
        shift.take_in(count=1)
        shift.work_until(lambda: technician.address == "continuity.leads-after")
        for entry in shift.entries():
            print("recorded", entry.number, entry.kind)
        technician.type("0.1")
        print("at", technician.address, technician.page.name)
        print("ready", flush=True)
        while True:
            time.sleep(1)
