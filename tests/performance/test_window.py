"""How long from the command to a usable window, against bare Qt doing as much.

Floor and program are measured in turn within one run, so that the machine's mood meets both.
"""

import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from benchapp.actions.workbench.bench import Bench
from tests.desktop.windows import Clock, take_in
from tests.people import staffed

pytestmark = pytest.mark.performance

ROOT = Path(__file__).resolve().parents[2]
STARTED = Path(__file__).with_name("started.py")
STARTS = 7
UNITS = 1000


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
