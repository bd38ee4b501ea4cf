"""Real processes: two at one workbook, and one that is killed while it records."""

import os
import signal
import subprocess
import sys
from pathlib import Path

from benchapp.workbook.checks.checking import check_records
from benchapp.workbook.opened.workbook import Workbook

RECORDER = Path(__file__).with_name("recorder.py")
ROOT = Path(__file__).resolve().parents[2]


def start_recorder(path, unit, count, by):
    environment = os.environ | {"PYTHONPATH": str(ROOT)}
    command = [sys.executable, str(RECORDER), str(path), unit, str(count), by]
    return subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=environment)


def test_two_processes_on_one_unit_lose_nothing_and_keep_one_chain(workbook, path):
    recorders = [start_recorder(path, "TB-001", 40, by) for by in ("AB", "CD")]
    said = [recorder.communicate(timeout=120)[0].split() for recorder in recorders]
    assert [recorder.returncode for recorder in recorders] == [0, 0]
    entries = workbook.entries("TB-001")
    assert [entry.number for entry in entries] == list(range(1, 81))
    assert {entry.uuid for entry in entries} == set(said[0]) | set(said[1])
    assert [entry.content.words for entry in entries if entry.by == "AB"] == [f"AB {n}" for n in range(40)]
    assert list(check_records(workbook.store)) == []


def test_killing_a_recording_process_loses_no_accepted_entry(workbook, path):
    workbook.close()
    recorder = start_recorder(path, "TB-001", 100_000, "AB")
    accepted = [recorder.stdout.readline().strip() for _ in range(60)]
    recorder.send_signal(signal.SIGKILL)
    rest, _ = recorder.communicate(timeout=60)
    accepted += rest.split("\n")[:-1]
    assert recorder.returncode == -signal.SIGKILL

    again = Workbook.open(path)
    kept = [entry.uuid for entry in again.entries("TB-001")]
    assert kept[: len(accepted)] == accepted
    assert len(kept) - len(accepted) <= 1  # on disk, though the killed process could not say so any more
    assert again.unit("TB-001").last_entry == len(kept)
    assert list(check_records(again.store)) == []
    again.close()
