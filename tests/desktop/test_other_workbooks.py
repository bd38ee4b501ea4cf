"""From one workbook to another: by dialog, from the last ones, dragged in; and where the window stood is kept."""

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, QSettings, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QFileDialog, QPushButton

from benchapp.desktop.recent_workbooks import MOST, RecentWorkbooks
from benchapp.desktop.start import Opening
from benchapp.desktop.widgets.asking_dialog import AskingDialog
from tests.desktop.windows import make_workbook


@pytest.fixture
def settings(tmp_path):
    return QSettings(str(tmp_path / "settings.ini"), QSettings.Format.IniFormat)


@pytest.fixture
def begun(qapp, qtbot, settings, tmp_path):
    """The program on one.workbook, as the command begins it."""
    opening = Opening(qapp, make_workbook(tmp_path / "one.workbook"), settings=settings)
    opening.begin()
    qtbot.waitUntil(lambda: opening.window.context is not None, timeout=10000)
    yield opening
    opening.window.close()
    opening.window.deleteLater()
    opening.look.forget()


def is_open(opening, name):
    context = opening.window.context
    return context is not None and context.bench.path.name == name


def test_another_workbook_takes_the_place_of_the_one_that_is_open(begun, qtbot, tmp_path):
    other, first = make_workbook(tmp_path / "two.workbook"), begun.window
    first.others.ask_open()
    dialog = first.findChild(QFileDialog, "workbook-file-dialog")
    dialog.fileSelected.emit(str(other))
    dialog.reject()
    qtbot.waitUntil(lambda: is_open(begun, "two.workbook"))
    assert begun.window is not first
    assert begun.window.isVisible()
    assert QApplication.quitOnLastWindowClosed()


def test_a_workbook_that_is_dragged_in_is_opened(begun, qtbot, tmp_path):
    other = make_workbook(tmp_path / "two.workbook")
    drop(begun.window, other)
    qtbot.waitUntil(lambda: is_open(begun, "two.workbook"))


def drop(window, path):
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path))])
    copy, left, none = Qt.DropAction.CopyAction, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    QApplication.sendEvent(window, QDragEnterEvent(QPoint(9, 9), copy, data, left, none))
    QApplication.sendEvent(window, QDropEvent(QPointF(9, 9), copy, data, left, none))


def test_what_is_no_workbook_is_refused_in_a_sentence_and_the_open_one_stays(begun, qtbot, tmp_path):
    wrong = tmp_path / "wrong.workbook"
    wrong.write_bytes(b"this is no workbook" * 100)
    drop(begun.window, wrong)
    box = begun.window.findChild(AskingDialog, "not-opened-dialog")
    assert "wrong.workbook" in box.complaint.text()
    box.accept()
    assert is_open(begun, "one.workbook")


def test_closing_the_workbook_leads_to_the_page_that_asks_for_one_with_the_last_ones(begun, qtbot, settings):
    begun.window.close_workbook()
    qtbot.waitUntil(lambda: begun.window.context is None)
    assert begun.window.isVisible()
    assert settings.value("workbook") == ""
    last = begun.window.findChild(QPushButton, "welcome-last-1")
    assert last.text().startswith("one.workbook")
    QTest.mouseClick(last, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: is_open(begun, "one.workbook"))


def test_the_list_of_the_last_workbooks_names_each_once_the_newest_first_and_no_lost_one(settings, tmp_path):
    recent = RecentWorkbooks(settings)
    paths = [tmp_path / f"{number}.workbook" for number in range(MOST + 2)]
    for path in paths:
        path.touch()
        recent.remember(path)
    recent.remember(paths[5])
    paths[4].unlink()
    assert recent.paths() == (paths[5], paths[9], paths[8], paths[7], paths[6], paths[3], paths[2])


def test_a_window_that_stood_elsewhere_comes_back_whole_on_the_screen(begun, qapp, qtbot, settings, tmp_path):
    begun.window.resize(900, 600)
    begun.window.move(QPoint(5000, 4000))
    begun.window.close()
    again = Opening(qapp, tmp_path / "one.workbook", settings=settings)
    again.begin()
    qtbot.waitUntil(lambda: again.window.context is not None, timeout=10000)
    room, stands = again.window.screen().availableGeometry(), again.window.frameGeometry()
    again.window.close()
    again.window.deleteLater()
    assert room.contains(stands)


def test_a_window_that_large_text_made_wider_is_moved_back_onto_the_screen(begun, qtbot):
    """At 200 % its right edge stood past the edge of a small screen, and F1 with it."""
    room = begun.window.screen().availableGeometry()
    begun.window.move(QPoint(room.right() - begun.window.width() // 2, 0))
    begun.look.set_percent(200)
    fits = begun.window.minimumSizeHint().width() < room.width()
    qtbot.waitUntil(
        lambda: (
            room.contains(begun.window.frameGeometry()) if fits else begun.window.frameGeometry().left() == room.left()
        )
    )
