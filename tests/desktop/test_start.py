"""From the command to a usable window: what is there, what is said when it cannot be, and what is not loaded yet."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings, Qt
from PySide6.QtWidgets import QDialog

from benchapp.actions.workbench.bench import Bench
from benchapp.desktop.start import Opening
from benchapp.sequences.planning.people import Right
from demo.technician import Technician
from tests.desktop.windows import Clock, make_workbook, take_in
from tests.people import staffed

ROOT = Path(__file__).resolve().parents[2]
STARTED = ROOT / "tests" / "performance" / "started.py"


@pytest.fixture
def settings(tmp_path):
    return QSettings(str(tmp_path / "settings.ini"), QSettings.Format.IniFormat)


@pytest.fixture
def start(qapp, qtbot, settings):
    """Begin as the command does, and close again after the test."""
    begun = []

    def begin(workbook=None):
        opening = Opening(qapp, workbook, settings=settings)
        opening.begin()
        begun.append(opening)
        return opening.window

    yield begin
    for opening in begun:
        opening.window.close()
        opening.window.deleteLater()
        opening.look.forget()


def test_a_usable_window_has_not_loaded_what_it_does_not_show(path, tmp_path):
    bench = Bench.create(path, clock=Clock(), workshop=staffed())
    take_in(bench, count=40)
    bench.close()
    done = subprocess.run(
        [sys.executable, str(STARTED), "benchapp", str(path)],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT), "XDG_CONFIG_HOME": str(tmp_path), "HOME": str(tmp_path)},
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    told = [line for line in done.stdout.splitlines() if not line.startswith("memory ")]
    assert told == ["painted", "usable"], done.stderr


def test_the_window_opens_on_the_workbook_of_the_command(start, qtbot, path):
    window = start(make_workbook(path))
    qtbot.waitUntil(lambda: window.context is not None, timeout=10000)
    assert window.context.bench.path == path
    assert window.windowTitle() == "Repair bench: tarnbeck.workbook"


def test_it_opens_where_it_was_left(start, qtbot, settings, path):
    settings.setValue("workbook", str(make_workbook(path)))
    window = start()
    qtbot.waitUntil(lambda: window.context is not None, timeout=10000)
    assert window.context.bench.path == path


def test_a_workbook_that_cannot_be_read_is_said_in_a_sentence_and_asked_for_again(start, qtbot, tmp_path):
    broken = tmp_path / "broken.workbook"
    broken.write_bytes(b"this is no workbook" * 100)
    window = start(broken)
    qtbot.waitUntil(lambda: bool(window.welcome.complaint.text()), timeout=10000)
    assert "broken.workbook" in window.welcome.complaint.text()
    assert window.welcome.path.text() == str(broken)
    assert window.context is None


def test_a_workbook_that_is_missing_is_not_offered_to_be_opened_until_another_path_is_typed(start, qtbot, tmp_path):
    window = start(tmp_path / "gone.workbook")
    qtbot.waitUntil(lambda: bool(window.welcome.complaint.text()), timeout=10000)
    assert "gone.workbook" in window.welcome.complaint.text()
    assert not window.welcome.open.isVisible()
    qtbot.keyClicks(window.welcome.path, "2", delay=50)
    assert window.welcome.open.isVisible()


def test_a_new_workbook_is_begun_by_keys(start, qtbot, tmp_path):
    window = start()
    qtbot.keyClicks(window.welcome.path, str(tmp_path / "new.workbook"), delay=50)
    qtbot.wait(80)
    window.welcome.new.click()
    qtbot.waitUntil(lambda: window.context is not None, timeout=10000)
    assert (tmp_path / "new.workbook").exists()
    dialog = window.findChild(QDialog, "first-person-dialog")
    qtbot.keyClicks(dialog.name, "Sula Vance", delay=50)
    qtbot.wait(80)
    qtbot.keyClicks(dialog.initials, "SV", delay=50)
    qtbot.wait(80)
    qtbot.keyClick(dialog.initials, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: window.person.initials == "SV")
    assert [one.rights for one in window.context.bench.workshop.people] == [(Right.supervisor,)]


def test_a_workbook_that_is_there_is_not_begun_anew(start, qtbot, path):
    make_workbook(path)
    size = path.stat().st_size
    window = start()
    qtbot.keyClicks(window.welcome.path, str(path), delay=50)
    qtbot.wait(80)
    window.welcome.new.click()
    assert path.name in window.welcome.complaint.text()
    assert path.stat().st_size == size


def test_initials_and_text_size_are_kept_for_the_next_time(start, qtbot, settings, path):
    window = start(make_workbook(path))
    qtbot.waitUntil(lambda: window.context is not None, timeout=10000)
    window.person.set_initials("CD")
    window.look.set_percent(150)
    window.close()
    assert settings.value("initials") == "CD"
    assert int(settings.value("text-percent")) == 150


def test_what_was_typed_and_not_recorded_is_there_again_the_next_time(start, qtbot, settings, path):
    bench = Bench.create(path, workshop=staffed())
    take_in(bench)
    bench.close()
    window = start(path)
    qtbot.waitUntil(lambda: window.context is not None, timeout=10000)
    technician = Technician(window)
    technician.give_initials("AB")
    technician.take_unit("TB-001")
    technician.strike("y", "1", "1", "2")
    assert technician.page.marks == {"asbestos": "good", "perished-cord": "good", "thermal-link": "bad"}
    window.close()
    again = start(path)
    qtbot.waitUntil(lambda: again.context is not None, timeout=10000)
    technician = Technician(again)
    technician.take_unit("TB-001")
    assert technician.page.marks == {"asbestos": "good", "perished-cord": "good", "thermal-link": "bad"}


def test_a_setting_that_is_no_number_counts_as_none(start, settings, qtbot):
    settings.setValue("text-percent", "large")
    assert start().look.percent == 100
