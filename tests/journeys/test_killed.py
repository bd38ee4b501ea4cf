"""The program killed in mid-work by the system: nothing recorded is lost, and the run goes on at the same step."""

import os
import signal
import subprocess
import sys
from pathlib import Path

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.workbench.bench import Bench
from tests.desktop.windows import window_on

ROOT = Path(__file__).resolve().parents[2]
VICTIM = Path(__file__).with_name("victim.py")


def until_ready(stdout):
    for line in stdout:
        if line == "ready\n":
            return
        yield line
    raise AssertionError("the victim ended before it was ready")


def test_a_killed_run_resumes_at_the_same_step_with_every_entry(look, path, clock):
    with subprocess.Popen(
        [sys.executable, str(VICTIM), str(path)],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT), "QT_QPA_PLATFORM": "offscreen"},
        stdout=subprocess.PIPE,
        text=True,
    ) as victim:
        said = [line.split() for line in until_ready(victim.stdout)]
        os.kill(victim.pid, signal.SIGKILL)
        victim.wait(timeout=20)
    told = [(words[1], words[2]) for words in said if words[0] == "recorded"]
    address, page = said[-1][1:]

    clock.pass_days(1 / 24)  # the victim had a clock of its own, and its morning is over
    with window_on(look, Bench.open(path, clock=clock)) as technician:
        technician.take_unit("TB-001")
        kept = technician.window.context.bench.entries("TB-001")
        assert [(str(entry.number), str(entry.kind)) for entry in kept] == told
        assert len(kept) > 20
        assert (technician.address, technician.page.name) == (address, page)
        technician.type("0.14")
        technician.strike("Enter")
        assert len(technician.window.context.bench.entries("TB-001")) == len(kept) + 1
    assert verify_workbook(path) == ()
