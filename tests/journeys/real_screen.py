"""A real X server with a window manager, and hands on its keyboard, mouse and scanner (Debian: xvfb, openbox, xdotool).

Where they are absent the journey is skipped with its reason, since a test run installs nothing by itself. In CI, where
tests/start.py installs them, their absence fails it.
"""

import json
import os
import shutil
import signal
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

TOOLS = ("Xvfb", "openbox", "xdotool")
MISSING = "no real X server: apt-get install xvfb openbox xdotool"
needs_real_screen = pytest.mark.skipif(
    not all(map(shutil.which, TOOLS)) and os.environ.get("CI") != "true", reason=MISSING
)
ROOT = Path(__file__).resolve().parents[2]
PROGRAM = Path(__file__).with_name("told_window.py")
PATIENCE = 120.0
"""seconds after which a program that does not tell what is waited for is ended, and the test with it"""
SCANNER, FINGERS = 12, 90
"""milliseconds between two keys"""


class RealScreen:
    """The display, the program on it, and what the program tells of itself: one line of JSON after each change."""

    def __init__(self, display: str, program: "subprocess.Popen[str]") -> None:
        self._display = display
        self.program = program
        self.told: dict[str, Any] = {}

    def until(self, holds: Callable[[dict[str, Any]], bool]) -> dict[str, Any]:
        """Wait until the program tells that it is so, and that it takes keys."""
        assert self.program.stdout is not None
        while not (self.told and self.told["ready"] and holds(self.told)):
            line = self.program.stdout.readline()
            assert line, f"the program ended; it told last: {self.told}"
            if line.startswith("{"):
                self.told = json.loads(line)
        return self.told

    def key(self, *names: str) -> None:
        """Strike keys, named as X names them: "Return", "ctrl+z"."""
        for name in names:
            self._hands("key", "--clearmodifiers", name)

    def type(self, text: str) -> None:
        """Type as fingers do."""
        self._hands("type", "--delay", str(FINGERS), text)

    def scan(self, text: str) -> None:
        """Type as a barcode scanner does, with its Enter.

        The program is halted meanwhile, so that the burst reaches it whole however busy this machine is.
        """
        self.program.send_signal(signal.SIGSTOP)
        try:
            self._hands("type", "--delay", str(SCANNER), f"{text}\n")
        finally:
            self.program.send_signal(signal.SIGCONT)

    def click(self, name: str) -> None:
        """One click in the middle of the control of that object name."""
        x, y = self.until(lambda told: name in told["places"])["places"][name]
        self._hands("mousemove", str(x), str(y), "click", "1")

    def _hands(self, *words: str) -> None:
        environment = {**os.environ, "DISPLAY": self._display}
        subprocess.run(["xdotool", *words], env=environment, check=True, timeout=30)


@contextmanager
def display(size: str = "1366x768") -> Iterator[dict[str, str]]:
    """An X server of its own with a window manager; what a program is started with to be shown there."""
    assert all(map(shutil.which, TOOLS)), MISSING
    reading, writing = os.pipe()
    begun: list[subprocess.Popen[bytes]] = []
    try:
        server = ["Xvfb", "-displayfd", str(writing), "-screen", "0", f"{size}x24", "-nolisten", "tcp"]
        begun.append(subprocess.Popen(server, pass_fds=[writing], stdout=subprocess.DEVNULL))
        os.close(writing)
        at = f":{os.read(reading, 16).decode().strip()}"
        there = {**os.environ, "DISPLAY": at, "QT_QPA_PLATFORM": "xcb", "PYTHONPATH": str(ROOT)}
        begun.append(subprocess.Popen(["openbox"], env=there, stdout=subprocess.DEVNULL))
        yield there
    finally:
        os.close(reading)
        for one in reversed(begun):
            one.terminate()
            one.wait(timeout=20)


@contextmanager
def real_screen(workbook: Path, size: str = "1366x768", scale: str = "1") -> Iterator[RealScreen]:
    """The program with that workbook on a display of its own, scaled so; all of it ends with the test."""
    with display(size) as there:
        command = [sys.executable, str(PROGRAM), str(workbook)]
        shown = {**there, "QT_SCALE_FACTOR": scale}
        with subprocess.Popen(command, cwd=ROOT, env=shown, stdout=subprocess.PIPE, text=True) as program:
            patience = threading.Timer(PATIENCE, program.kill)
            patience.start()
            try:
                yield RealScreen(there["DISPLAY"], program)
            finally:
                patience.cancel()
                program.terminate()
                program.wait(timeout=20)
