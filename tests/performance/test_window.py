"""How long from the command to a usable window, and from a key to the next page, against bare Qt doing as much.

Floor and program are measured in turn within one run, so that the machine's mood meets both.
"""

import os
import subprocess
import sys
import time
from pathlib import Path
from statistics import median

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QLineEdit, QPushButton, QStackedWidget, QVBoxLayout, QWidget

from benchapp.actions import Bench
from benchapp.desktop.theme.look import Look
from tests.desktop.windows import WORKSHOP, Clock, prove_meters, take_in, window_on

pytestmark = pytest.mark.performance

ROOT = Path(__file__).resolve().parents[2]
STARTED = Path(__file__).with_name("started.py")
STARTS = 7
UNITS = 1000


def test_command_to_usable_window_on_a_thousand_units(tmp_path):
    path = tmp_path / "thousand.workbook"
    bench = Bench.create(path, clock=Clock())
    take_in(bench, count=UNITS)
    bench.close()
    floors, painted, usable = [], [], []
    for number in range(STARTS + 1):
        floor = _started(tmp_path, "bare")
        ours = _started(tmp_path, "benchapp", str(path))
        if number:  # the first of each fills the disk's cache
            floors.append(floor["usable"])
            painted.append(ours["painted"])
            usable.append(ours["usable"])
    floor, first, last = median(floors), median(painted), median(usable)
    words = f"\nbare window {1000 * floor:.0f} ms; painted {first / floor:.2f} x"
    print(f"{words}, usable {last / floor:.2f} x ({1000 * last:.0f} ms)")
    assert first <= 3 * floor
    assert last <= 6 * floor


def _started(home, *words):
    """Seconds from starting the process until it says each thing."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "HOME": str(home), "XDG_CONFIG_HOME": str(home)}
    begun = time.perf_counter()
    told = {}
    command = [sys.executable, str(STARTED), *words]
    with subprocess.Popen(
        command, cwd=ROOT, env=environment, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True
    ) as process:
        for line in process.stdout:
            told[line.split()[0]] = time.perf_counter() - begun
    return told


def test_key_to_next_page_painted(qapp, tmp_path):
    """Each unit's questions and readings in turn: from the key that records to the next page on the screen."""
    look = Look(qapp, dark=False)
    bench = Bench.create(tmp_path / "turning.workbook", clock=Clock(), folders=(WORKSHOP,))
    take_in(bench, count=25)
    prove_meters(bench)
    with window_on(look, bench) as technician:
        technician.take_unit("TB-001")
        widgets = len(technician.window.findChildren(QWidget))
        flips = _Flips(widgets)
        ours, floors = [], []
        for number in range(1, 26):
            technician.take_unit(f"TB-{number:03}")
            for seconds in _turns(technician):
                ours.append(seconds)
                floors.append(flips.flip())
        flips.close()
    look.forget()
    mine, floor = _p99(ours), _p99(floors)
    words = f"\n{len(ours)} turns, {widgets} widgets; bare flip p99 {1000 * floor:.1f} ms"
    print(f"{words}; page turn p99 {1000 * mine:.1f} ms ({mine / floor:.2f} x), median {1000 * median(ours):.1f} ms")
    assert mine < 0.050
    assert mine <= 3 * floor


def _turns(technician):
    """Seconds for each key of a unit's clean run that turns the page."""
    window = technician.window
    while technician.page.name != "outcome" and not technician.address.endswith("settle"):
        name = technician.page.name
        if name == "inspect":
            technician.mark_rows()
            key = Qt.Key.Key_Return
        elif name in ("work", "set-up"):
            for _ in technician.page.names:
                technician.strike("Enter")
            key = Qt.Key.Key_Return
        elif name == "ask" and not technician.page._answers:
            technician.type("1.8")
            key = Qt.Key.Key_Return
        else:
            key = Qt.Key.Key_Y if name == "caution" else Qt.Key.Key_1
        yield _timed(window, technician.at_keyboard(), key)


def _timed(window, target, key):
    """From the key down until the page has been turned and everything shown is painted."""
    turned = []
    window.bench.turned.connect(turned.append)
    begun = time.perf_counter()
    QTest.keyClick(target, key)
    while not turned:
        QCoreApplication.processEvents()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.UpdateRequest)
    QCoreApplication.processEvents()
    seconds = time.perf_counter() - begun
    window.bench.turned.disconnect(turned.append)
    return seconds


class _Flips:
    """A bare stack of two pages with as many widgets as the window has, in plain Qt style."""

    def __init__(self, widgets):
        self._stack = QStackedWidget()
        for _ in range(2):
            page = QWidget()
            layout = QVBoxLayout(page)
            layout.setSpacing(0)
            for number in range(widgets // 2):
                layout.addWidget((QLabel, QLineEdit, QPushButton)[number % 3](f"row {number}"))
            self._stack.addWidget(page)
        self._stack.resize(1200, 800)
        self._stack.show()
        QApplication.processEvents()

    def flip(self):
        begun = time.perf_counter()
        self._stack.setCurrentIndex(1 - self._stack.currentIndex())
        QCoreApplication.processEvents()
        QCoreApplication.sendPostedEvents(None, QEvent.Type.UpdateRequest)
        QCoreApplication.processEvents()
        return time.perf_counter() - begun

    def close(self):
        self._stack.close()
        self._stack.deleteLater()


def _p99(seconds):
    return sorted(seconds)[int(len(seconds) * 0.99)]
