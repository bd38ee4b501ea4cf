"""What all tests share: Qt without a screen, guards for tests with windows, and how many cases are generated."""

import gc
import itertools
import os
import threading
import time

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")  # before anything loads Qt: no test needs a display

import pytest
from hypothesis import HealthCheck, settings

from tests.start import HELD_TESTS, UNCOUNTED

settings.register_profile("everyday", max_examples=100, deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("thorough", settings.get_profile("everyday"), max_examples=1500)
settings.load_profile("everyday")


COMPARED = "compared with"
"""how a test's property begins that counts what it compared with a program of other authors"""
SAID = ("mutant", "campaign", "keys of")
"""how a test's property begins that is printed in the end: a planted error found, a campaign, keys counted"""


YOUNG_OBJECTS = 30_000
"""after so many new ones the collector looks at them; with Python's own 700 a walk takes 7 % longer (measured)"""
HELD = tuple(f"{folder}/" for folder in HELD_TESTS)
"""tests that run with branches counted, but for those that measure processor time or are left uncounted"""


def pytest_collection_modifyitems(items):
    """Mark the tests under which branch coverage is held."""
    for item in items:
        measures_time = any(getattr(one, "__module__", "") == "tests.any_text" for one in vars(item.module).values())
        if item.nodeid.startswith(HELD) and not item.nodeid.startswith(tuple(UNCOUNTED)) and not measures_time:
            item.add_marker("held")


def pytest_collection_finish():
    """What was imported stays: neither the collector nor the search for timers goes through it at every test.

    The collector itself comes as seldom as it may: young objects die by themselves but for a few.
    """
    gc.collect()
    gc.freeze()
    gc.set_threshold(YOUNG_OBJECTS, *gc.get_threshold()[1:])


def pytest_terminal_summary(terminalreporter):
    """Say how much was compared with programs of other authors, over all processes of the run."""
    counts: dict[str, int] = {}
    for report in terminalreporter.stats.get("passed", ()):
        for name, count in report.user_properties:
            if name.startswith(COMPARED) and report.when == "call":
                counts[name] = counts.get(name, 0) + count
    for name, count in sorted(counts.items()):
        terminalreporter.write_line(f"{name}: {count}")
    for report in terminalreporter.stats.get("passed", ()):
        for name, found in report.user_properties:
            if name.startswith(SAID) and report.when == "call":
                terminalreporter.write_line(f"{name}: {found}")


_NUMBERS = itertools.count()


@pytest.fixture(scope="session", autouse=True)
def _data_folder_of_the_run(tmp_path_factory):
    """What is made once for many tests, and every process it starts, keeps its data beside theirs."""
    os.environ["BENCHAPP_DATA"] = str(tmp_path_factory.getbasetemp() / "data" / "run")


@pytest.fixture(autouse=True)
def _own_data_folder(tmp_path_factory):
    """Each test, and every process it starts, is a bench of its own: nothing is kept in the user's folder."""
    before = os.environ["BENCHAPP_DATA"]
    os.environ["BENCHAPP_DATA"] = str(tmp_path_factory.getbasetemp() / "data" / str(next(_NUMBERS)))
    yield
    os.environ["BENCHAPP_DATA"] = before


@pytest.fixture(autouse=True)
def _nothing_left_behind(request):
    """Fail a test with a window that leaves another window, a running timer or a thread; say which."""
    threads = set(threading.enumerate())
    yield
    if "qapp" not in request.fixturenames:
        return
    from PySide6.QtCore import QCoreApplication, QEvent, QTimer
    from PySide6.QtWidgets import QApplication

    windows = [f"{type(w).__name__} {w.objectName()!r}" for w in QApplication.topLevelWidgets() if w.isVisible()]
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    timers = [timer for timer in gc.get_objects() if type(timer) is QTimer]
    running = [timer.objectName() or repr(timer) for timer in timers if _is_running(timer)]
    until = time.monotonic() + 2
    while (left := set(threading.enumerate()) - threads) and time.monotonic() < until:
        next(iter(left)).join(timeout=0.1)
    assert not windows, f"left open: {windows}"
    assert not running, f"left running: {running}"
    assert not left, f"threads left: {[thread.name for thread in left]}"


def _is_running(timer) -> bool:
    try:
        return timer.isActive()
    except RuntimeError:  # its C++ side is gone already
        return False
