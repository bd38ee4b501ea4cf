"""The program as people start it, beside a workbook; after each change it tells as JSON what stands on its screen."""

import json
import sys
from pathlib import Path
from typing import Any

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QWidget

from benchapp.actions.workbench.bench import Bench
from benchapp.desktop.person import Person
from benchapp.desktop.scanning.key_gate import KeyGate
from benchapp.desktop.theme.look import Look
from benchapp.desktop.window import Window
from tests.desktop.windows import Clock

EVERY = 50
"""milliseconds between two looks"""


def told(window: Window) -> dict[str, Any]:
    """Page, step, unit, number of entries, what is complained of, and where controls are on the screen."""
    bench, places = window.bench, {}
    for widget in window.findChildren(QWidget):
        if widget.isVisible() and widget.objectName():
            middle = widget.mapToGlobal(widget.rect().center())
            places[widget.objectName()] = (middle.x(), middle.y())
    entries = window.context.bench.entries(bench.mark) if window.context is not None and bench.mark else ()
    return {
        "whole": window.screen().availableGeometry().contains(window.frameGeometry()),
        "ready": window.isActiveWindow()
        and not window.keyboard.held_keys.waits
        and not KeyGate.waiting
        and not window.tasks.under_way,
        "unit": bench.mark,
        "page": bench.page.name if bench.page is not None else "",
        "address": bench.view.step.address if bench.view is not None and bench.view.step is not None else "",
        "entries": len(entries),
        "marked": len(getattr(bench.page, "marks", ())),
        "complaint": bench.complaint.text() if bench.complaint.isVisible() else "",
        "focus": application.focusWidget().objectName() if application.focusWidget() is not None else "",
        "places": places,
    }


if __name__ == "__main__":
    application = QApplication(["benchapp"])
    clock = Clock()
    clock.pass_days(1 / 24)
    window = Window(Look(application, dark=False), Person("AB"))
    window.open_bench(Bench.open(Path(sys.argv[1]), clock=clock))
    window.show()
    before: list[dict[str, Any]] = [{}]

    def tell() -> None:
        now = told(window)
        if now != before[0]:
            before[0] = now
            print(json.dumps(now), flush=True)

    looks = QTimer()
    looks.timeout.connect(tell)
    looks.start(EVERY)
    application.exec()
    print(json.dumps({"closed": True, "ready": True, "places": {}}), flush=True)
