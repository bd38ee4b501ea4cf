"""The program killed in mid-work by the system: nothing recorded is lost, and the run goes on at the same step."""

import os
import signal
import sqlite3
import subprocess
import sys
from contextlib import contextmanager
from pathlib import Path

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.workbench.bench import Bench
from benchapp.sequences.planning.entry_times import seconds_between
from tests.desktop.windows import WORKSHOP, window_on

ROOT = Path(__file__).resolve().parents[2]
VICTIM = Path(__file__).with_name("victim.py")


def until_ready(stdout):
    for line in stdout:
        if line == "ready\n":
            return
        yield line
    raise AssertionError("the victim ended before it was ready")


@contextmanager
def killed(look, path, clock, amid):
    """A technician on the unit whose program was killed amid that; the entries and the page that it had told."""
    with subprocess.Popen(
        [sys.executable, str(VICTIM), str(path), amid],
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
    with window_on(look, Bench.open(path, clock=clock, folders=(WORKSHOP,))) as technician:
        technician.take_unit("TB-001")
        assert [(str(entry.number), str(entry.kind)) for entry in entries(technician)] == told
        assert (technician.address or "-", technician.page.name) == (address, page)
        yield technician
    assert verify_workbook(path) == ()


def entries(technician):
    return technician.window.context.bench.entries("TB-001")


def test_a_killed_run_resumes_at_the_same_step_with_every_entry(look, path, clock):
    with killed(look, path, clock, "reading") as technician:
        kept = len(entries(technician))
        assert kept > 20
        technician.type("0.14")
        technician.strike("Enter")
        assert len(entries(technician)) == kept + 1


def test_a_repair_that_was_half_ticked_is_no_repair_and_is_asked_again(look, path, clock):
    with killed(look, path, clock, "repair") as technician:
        assert not any(entry.kind == "repair" for entry in entries(technician))
        technician.tab_to("repair-list")
        for _ in technician.page.names:
            technician.strike("Enter")
        technician.strike("Enter")
        assert entries(technician)[-1].kind == "repair", technician.complaint


def test_a_photo_that_was_only_chosen_is_not_kept_and_is_asked_again(look, path, clock):
    with killed(look, path, clock, "photo") as technician, sqlite3.connect(path) as connection:
        assert connection.execute("SELECT count(*) FROM photos").fetchone() == (0,)
        assert technician.reads("photo-head").startswith("0 chosen")
    connection.close()


def test_a_wait_counts_on_from_the_record_and_not_from_the_start_of_the_program(look, path, clock):
    with killed(look, path, clock, "clock") as technician:
        before = entries(technician)[-1]
        technician.strike("Enter")
        waited = entries(technician)[-1]
        assert waited.content.seconds == 40.0
        assert seconds_between(before.at, waited.at) >= 3000, "the hour in which nothing ran counts"
