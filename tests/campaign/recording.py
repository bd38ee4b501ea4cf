"""Run as a process of its own: forks recorders that die, freeze or run out of disk, and says what was lost.

    python recording.py kills|copies|full-disks FOLDER NUMBER SEED

A recorder works through the true recording path and says each entry's UUID as soon as the program calls it recorded.
Afterwards the file is asked with plain SQL whether every UUID is there. The result is one line of JSON.
"""

import json
import os
import random
import resource
import shutil
import signal
import sqlite3
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from itertools import count
from pathlib import Path
from tempfile import TemporaryDirectory

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.entries.faults import record_note, record_repair
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.workbench.bench import Bench
from benchapp.errors import BenchError
from benchapp.workbook.record.photos import keep_photo
from tests.actions.conftest import SMALL, Clock
from tests.actions.driving import do_what_is_due
from tests.campaign.worked import make_workbook
from tests.photos import tiny_photo

LONGEST = 0.25
"""seconds after its first entry at which a recorder is stopped at the latest"""
UNITS = 4


class Recorder:
    """A forked process that records until it is stopped."""

    def __init__(self, path: Path, lot: str, *, room: int | None = None) -> None:
        self.code: int | None = None
        self.told, telling = os.pipe()
        self.pid = os.fork()
        if self.pid == 0:
            os.close(self.told)
            code = 1
            try:
                code = _record(path, lot, telling, room)
            finally:
                os._exit(code)
        os.close(telling)

    def wait_for_first(self) -> bytes:
        """Until one entry is recorded (or the recorder has ended)."""
        return os.read(self.told, 4096)

    def rest(self) -> bytes:
        """What else it said, once it has ended."""
        said = b""
        while part := os.read(self.told, 65536):
            said += part
        os.close(self.told)
        self.code = os.waitstatus_to_exitcode(os.waitpid(self.pid, 0)[1])
        return said


def _record(path: Path, lot: str, telling: int, room: int | None) -> int:
    clock = Clock()
    clock.pass_days(random.SystemRandom().randint(1, 5))
    try:
        with Bench.open(path, folders=(SMALL,), clock=clock) as bench:
            append = bench.workbook.append

            def telling_append(*given, **how):
                kept = append(*given, **how)
                os.write(telling, f"{kept.uuid}\n".encode())
                return kept

            bench.workbook.append = telling_append
            if room is not None:
                signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
                limit = path.stat().st_size + room
                resource.setrlimit(resource.RLIMIT_FSIZE, (limit, resource.RLIM_INFINITY))
            marks = tuple(f"{lot}-{number}" for number in range(1, UNITS + 1))
            take_in_lot(bench, name=lot, equipment="tb-ls1", route="small-check", marks=marks, by="AB")
            for mark in marks:
                do_what_is_due(bench, mark)
            for turn in count():
                record_note(bench, marks[0], "still here", by="AB")
                record_repair(bench, marks[0], fault=None, part="large-driver", done="glued", by="AB")
                keep_photo(bench.workbook.store, tiny_photo(turn % 256, width=64, height=64), "image/png")
    except BenchError as problem:
        told = "is full: this was not recorded" in problem.sentence or "disk I/O error" in problem.sentence
        return 0 if told else 1


def kills(path: Path, number: int) -> dict:
    """Kill -9 at random moments."""
    result = {"tried": number, "recorded": 0, "lost": 0, "unopenable": 0, "unsound": 0}
    for turn in range(number):
        recorder = Recorder(path, f"K{turn}")
        said = recorder.wait_for_first()
        time.sleep(random.uniform(0, LONGEST))
        os.kill(recorder.pid, signal.SIGKILL)
        _count(result, path, said + recorder.rest(), sound=turn % 50 == 49 or turn == number - 1)
    return result


def copies(path: Path, number: int) -> dict:
    """The file and its log copied while the program that writes them stands still at a random moment."""
    result = {"tried": number, "recorded": 0, "lost": 0, "unopenable": 0, "unsound": 0}
    for turn in range(number):
        recorder = Recorder(path, f"C{turn}")
        said = recorder.wait_for_first()
        time.sleep(random.uniform(0, LONGEST))
        os.kill(recorder.pid, signal.SIGSTOP)
        os.set_blocking(recorder.told, False)
        with suppress(BlockingIOError):
            said += os.read(recorder.told, 1 << 20)
        os.set_blocking(recorder.told, True)
        folder = path.parent / f"copy {turn}"
        folder.mkdir()
        for name in (path.name, f"{path.name}-wal"):
            if (path.parent / name).exists():
                shutil.copy(path.parent / name, folder / name)
        os.kill(recorder.pid, signal.SIGKILL)
        recorder.rest()
        _count(result, folder / path.name, said, sound=turn % 20 == 19 or turn == number - 1)
        shutil.rmtree(folder)
    return result


def full_disks(path: Path, number: int) -> dict:
    """No room left on a small disk in memory; where none may be mounted, a limit on the size of a file."""
    result = {"tried": number, "told": 0, "recorded": 0, "lost": 0, "unopenable": 0, "unsound": 0}
    result["true disks"] = 0
    computer = Path(os.environ["BENCHAPP_DATA"])
    for turn in range(number):
        room = random.randrange(60_000, 900_000)
        fresh = path.parent / f"computer {turn}"  # it has seen what all begin with, and nothing of the other turns
        shutil.copytree(computer, fresh)
        os.environ["BENCHAPP_DATA"] = str(fresh)
        with small_disk(path.stat().st_size + room) as disk:
            on_it = shutil.copy(path, disk / path.name) if disk else path
            recorder = Recorder(Path(on_it), f"F{turn}", room=None if disk else room)
            said = recorder.rest()
            if disk:
                subprocess.run(["mount", "-o", "remount,size=64m", str(disk)], check=True)
            _count(result, Path(on_it), said, sound=turn % 10 == 9 or turn == number - 1)
            result["told"] += recorder.code == 0
            result["true disks"] += disk is not None
    return result


@contextmanager
def small_disk(size: int) -> Iterator[Path | None]:
    """A file system in memory with so many bytes; None where this user may not mount one."""
    with TemporaryDirectory() as folder:
        command = ["mount", "-t", "tmpfs", "-o", f"size={size}", "tmpfs", folder]
        mounted = shutil.which("mount") and subprocess.run(command, capture_output=True, check=False).returncode == 0
        try:
            yield Path(folder) if mounted else None
        finally:
            if mounted:
                subprocess.run(["umount", "-l", folder], check=True)


def _count(result: dict, path: Path, said: bytes, *, sound: bool) -> None:
    told = said.decode().rpartition("\n")[0].split()
    result["recorded"] += len(told)
    try:
        Bench.open(path, folders=(SMALL,), clock=Clock()).workbook.close()
        with closing(sqlite3.connect(path)) as connection:
            there = {uuid for (uuid,) in connection.execute("SELECT uuid FROM entries")}
    except (BenchError, sqlite3.Error) as problem:
        print(problem, file=sys.stderr)
        result["unopenable"] += 1
        return
    result["lost"] += len(set(told) - there)
    if sound and (found := verify_workbook(path)):
        print(found[:3], file=sys.stderr)
        result["unsound"] += 1


WAYS = {"kills": kills, "copies": copies, "full-disks": full_disks}

if __name__ == "__main__":
    way, folder, number, seed = sys.argv[1], Path(sys.argv[2]), int(sys.argv[3]), int(sys.argv[4])
    random.seed(seed)
    workbook = make_workbook(folder / "tarnbeck.workbook", Clock())
    print(json.dumps(WAYS[way](workbook, number)))
