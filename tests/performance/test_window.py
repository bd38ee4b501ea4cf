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
from PySide6.QtCore import QCoreApplication, QEvent, QEventLoop
from PySide6.QtWidgets import QApplication, QLabel, QLineEdit, QPushButton, QStackedWidget, QVBoxLayout, QWidget

from benchapp.actions.entries.intake import shelf_marks
from benchapp.actions.workbench.bench import Bench
from benchapp.desktop.theme.look import Look
from demo.playing import Player
from demo.scenario import LotOfTheDay, read_day
from demo.simulated_bench import SimulatedUnit
from demo.technician import Technician
from tests.desktop.windows import Clock, prove_meters, take_in, window_on
from tests.people import staffed

pytestmark = pytest.mark.performance

ROOT = Path(__file__).resolve().parents[2]
STARTED = Path(__file__).with_name("started.py")
STARTS = 7
UNITS = 1000
TURNED = 12


def test_command_to_usable_window_on_a_thousand_units(tmp_path):
    path = tmp_path / "thousand.workbook"
    bench = Bench.create(path, clock=Clock(), workshop=staffed())
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
    floor, first, last = min(floors), min(painted), min(usable)  # what is left when the machine has nothing else to do
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
    """Whole units of a mains lot, by keys: from the key that records to the next page on the screen."""
    look = Look(qapp, dark=False)
    bench = Bench.create(tmp_path / "turning.workbook", clock=Clock(), workshop=staffed())
    take_in(bench, count=TURNED)
    prove_meters(bench)
    lot = LotOfTheDay(lot="Shelf nine", equipment="tb-mu1", first="TB-001", count=TURNED)
    with window_on(look, bench) as opened:
        opened.take_unit("TB-001")
        opened.window.bench.pages.make_all()
        flips = Flips(len(opened.window.findChildren(QWidget)))
        opened.window.activateWindow()
        technician = Timed(opened.window, flips)
        player = Player(technician, lambda _page: None)
        for mark in shelf_marks("TB-001", TURNED):
            technician.take_unit(mark)
            unit = SimulatedUnit(read_day(), lot, mark)
            while technician.page.name != "outcome":
                player.do_what_is_due(unit)
        flips.close()
    look.forget()
    mine, floor = _p99(technician.turns), _p99(technician.floors)
    print(f"\n{len(technician.turns)} turns; bare flip of {flips.widgets} widgets, p99 {1000 * floor:.1f} ms")
    usual = median(technician.turns) / median(technician.floors)
    print(f"page turn p99 {1000 * mine:.1f} ms: {mine / floor:.2f} x; medians {usual:.2f} x; an entry on disk in each")
    assert mine <= 3 * floor


class Timed(Technician):
    """Notes the seconds from each key that turns the page until the new page is painted; a bare flip after each."""

    def __init__(self, window, flips):
        super().__init__(window)
        self._flips = flips
        self.turns, self.floors = [], []
        self._begun = self._turned = None
        window.bench.turned.connect(self._turn)

    def strike(self, *keys):
        for key in keys:
            self._turned = None
            self._begun = time.perf_counter() if self.window.bench.page is not None else None
            super().strike(key)
            self._begun = None

    def settle(self):
        if self._begun is not None:
            if self.window.tasks.under_way and self._turned is None:
                self._wait()  # in an event loop, as the program does: a busy one would hold up the writer's thread
            if self._turned is not None:
                self.turns.append(_painted() - self._begun)
                self.floors.append(self._flips.flip())
        super().settle()

    def _wait(self):
        loop = QEventLoop()
        for signal in (self.window.bench.turned, self.window.tasks.idle):
            signal.connect(loop.quit)
        loop.exec()
        for signal in (self.window.bench.turned, self.window.tasks.idle):
            signal.disconnect(loop.quit)

    def _turn(self, name):
        self._turned = name


def _painted():
    """The time once everything that waits to be painted has been."""
    QCoreApplication.sendPostedEvents(None, QEvent.Type.UpdateRequest)
    QCoreApplication.processEvents()
    return time.perf_counter()


class Flips:
    """A bare stack of two pages with as many widgets as the window has, in plain Qt style."""

    def __init__(self, widgets):
        self.widgets = widgets
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
        QCoreApplication.processEvents()
        begun = time.perf_counter()
        self._stack.setCurrentIndex(1 - self._stack.currentIndex())
        QCoreApplication.processEvents()
        return _painted() - begun

    def close(self):
        self._stack.close()
        self._stack.deleteLater()


def _p99(seconds):
    return sorted(seconds)[int(len(seconds) * 0.99)]
