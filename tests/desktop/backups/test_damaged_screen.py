"""A window on a damaged workbook: what is left of it, a look at that, and the way back from the backup."""

import sqlite3
from contextlib import closing

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QPlainTextEdit, QWidget

from benchapp.actions.backups.keeping import back_up
from benchapp.actions.backups.settings import name_folder
from benchapp.desktop.start import Opening
from demo.technician import Technician
from tests.desktop.windows import take_in


@pytest.fixture
def damaged(bench, path, clock, tmp_path):
    """A workbook of three units with a backup, whose head is lost."""
    take_in(bench)
    name_folder(tmp_path / "stick", workbook=path)
    back_up(path, at=clock())
    bench.close()
    path.write_bytes(b"\x5a" * 100 + path.read_bytes()[100:])
    return path


def test_a_file_that_opens_and_whose_board_cannot_be_read_is_told_too(damaged_board, start_on):
    before = damaged_board.read_bytes()
    technician = start_on(damaged_board)
    words = technician.window.findChild(QPlainTextEdit, "damaged-words").toPlainText()
    assert "0 entries of 3 units can still be read." in words
    assert damaged_board.read_bytes() == before


@pytest.fixture
def damaged_board(bench, path):
    """A workbook whose page of units is rubbish."""
    take_in(bench)
    bench.close()
    with closing(sqlite3.connect(path)) as connection:
        root = connection.execute("SELECT rootpage FROM sqlite_master WHERE name = 'units'").fetchone()[0]
    content = bytearray(path.read_bytes())
    content[(root - 1) * 4096 : root * 4096] = b"\x5a" * 4096
    path.write_bytes(content)
    return path


@pytest.fixture
def before_damage(damaged, start_on):
    """A technician before the window that was opened on it."""
    return start_on(damaged)


@pytest.fixture
def start_on(qapp, qtbot, tmp_path):
    """Begin as the command does, and wait until the damage is told."""
    begun = []

    def begin(path):
        settings = QSettings(str(tmp_path / "settings.ini"), QSettings.Format.IniFormat)
        begun.append(Opening(qapp, path, settings=settings))
        begun[0].begin()
        window = begun[0].window
        qtbot.waitUntil(lambda: window.stack.currentWidget().objectName() == "damaged", timeout=20_000)
        window.activateWindow()
        return Technician(window)

    yield begin
    for opening in begun:
        opening.window.close()
        opening.window.deleteLater()
        opening.look.forget()


def test_it_says_what_is_left_and_what_the_backup_holds(before_damage):
    words = before_damage.window.findChild(QPlainTextEdit, "damaged-words").toPlainText()
    assert words.startswith("tarnbeck.workbook is damaged (")
    assert "0 entries of 3 units can still be read." in words
    assert "The newest sound backup is of 2026-05-04 09:" in words
    assert "The damaged file has nothing that the backup has not." in words


def test_enter_looks_at_what_can_be_read_and_records_nothing(before_damage, damaged):
    before = damaged.read_bytes()
    before_damage.strike("Enter")
    (window,) = [one for one in QApplication.topLevelWidgets() if one.windowTitle().startswith("For looking only: ")]
    assert window.lots.board.board.rowCount() == 3
    window.close()
    assert damaged.read_bytes() == before


def test_the_backup_is_restored_and_opened(before_damage, tmp_path, qtbot, damaged):
    before = damaged.read_bytes()
    before_damage.strike("Ctrl+Shift+R")
    before_damage.retype(str(tmp_path / "again.workbook"))
    before_damage.strike("Enter")
    window = before_damage.window
    qtbot.waitUntil(lambda: window.context is not None, timeout=10_000)
    assert window.context.bench.path == tmp_path / "again.workbook"
    assert window.stack.currentWidget().objectName() == "lots"
    assert damaged.read_bytes() == before


def test_escape_asks_for_another_workbook(before_damage):
    before_damage.strike("Esc")
    assert before_damage.window.stack.currentWidget().objectName() == "welcome"


@pytest.mark.parametrize("percent", [100, 200])
def test_nothing_is_cut_off(before_damage, percent):
    window = before_damage.window
    window.look.set_percent(percent)
    before_damage.settle()  # the window is kept on the screen of the test, which is 800 wide, when text changes
    window.resize(1024, 700)
    before_damage.settle()
    QTest.qWait(20)
    words = window.findChild(QPlainTextEdit, "damaged-words")
    assert (window.width(), window.height()) == (1024, 700)
    assert words.height() >= 4 * words.fontMetrics().height()
    assert not words.horizontalScrollBar().isVisible()
    for name in ("damaged-look", "damaged-restore", "damaged-other"):
        way = window.findChild(QWidget, name)
        assert way.width() >= way.sizeHint().width(), name
        assert way.parentWidget().rect().contains(way.geometry()), name
