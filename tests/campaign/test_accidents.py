"""Killed programs, copies of files in use, full disks: nothing that was called recorded is lost."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
RECORDING = Path(__file__).with_name("recording.py")


@pytest.mark.timeout(3600)
@pytest.mark.parametrize(("way", "whole"), [("kills", 1000), ("copies", 200), ("full-disks", 50)])
def test_nothing_that_was_called_recorded_is_lost(way, whole, times, tell, tmp_path, request):
    number = times(whole)
    command = [sys.executable, str(RECORDING), way, str(tmp_path), str(number), "7"]
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    done = subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    result = json.loads(done.stdout)
    tell(way.replace("-", " "), **result)
    assert result["tried"] == number
    assert result["recorded"] > number
    assert result.get("told", number) == number
    assert (result["lost"], result["unopenable"], result["unsound"]) == (0, 0, 0), done.stderr
