"""Where the opened workbook lies, in the window: for looking only, a copy by key, and a file that is gone."""

import pytest
from PySide6.QtCore import QCoreApplication, QEvent
from PySide6.QtWidgets import QDialog, QLabel

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.workbench.bench import Bench
from benchapp.workbook.file import store
from benchapp.workbook.opened import workbook
from demo.technician import Technician
from tests.desktop.windows import WORKSHOP, take_in, window_on


def dialog_of(window):
    found = [one for one in window.findChildren(QDialog, "save-dialog") if one.isVisible()]
    return found[0] if found else None


def notice_of(technician):
    notice = technician.window.findChild(QLabel, "place-notice")
    return notice.text() if notice.isVisible() else ""


def test_a_usual_place_is_not_spoken_of(technician):
    assert notice_of(technician) == ""


def test_a_copy_is_made_by_key_and_the_window_stays_with_its_workbook(technician, tmp_path, path):
    technician.strike("Ctrl+Shift+S")
    assert technician.at_keyboard().objectName() == "save-path"
    assert technician.reads("save-path") == str(tmp_path / "tarnbeck copy.workbook")
    technician.strike("Enter")
    assert dialog_of(technician.window) is None
    assert technician.said == (
        f"{tmp_path / 'tarnbeck copy.workbook'} is a whole copy of tarnbeck.workbook: 0 entries, and its chains hold."
    )
    assert verify_workbook(tmp_path / "tarnbeck copy.workbook") == ()
    assert technician.window.context.bench.path == path


def test_a_copy_never_takes_the_place_of_a_file(technician, path):
    technician.strike("Ctrl+Shift+S")
    technician.retype(str(path))
    technician.strike("Enter")
    assert "already. Choose another name" in technician.reads("save-complaint")
    technician.strike("Esc")
    assert len(technician.window.context.bench.units()) == 3


def open_again(bench, look, clock, path):
    take_in(bench)
    bench.close()
    return window_on(look, Bench.open(path, clock=clock, folders=(WORKSHOP,)))


@pytest.mark.parametrize("percent", [100, 200])
def test_for_looking_only_is_said_and_an_answer_is_refused(bench, look, clock, path, monkeypatch, percent):
    monkeypatch.setattr(workbook, "may_write", lambda _path: False)
    look.set_percent(percent)
    with open_again(bench, look, clock, path) as technician:
        assert notice_of(technician) == (
            "tarnbeck.workbook is open for looking only: nothing is recorded in it. "
            "Ctrl+Shift+S makes a copy to work in."
        )
        assert technician.window.windowTitle() == "For looking only: tarnbeck.workbook"
        notice = technician.window.place.notice
        assert notice.height() >= notice.heightForWidth(notice.width())
        technician.take_unit("TB-001")
        technician.strike("y")
        while "read on" in technician.complaint:  # a caution longer than the window
            technician.strike("y")
        assert "is open for looking only" in technician.complaint
        assert technician.window.context.bench.entries("TB-001") == ()
    look.set_percent(100)


def test_a_network_drive_is_told_on_opening(bench, look, clock, path, monkeypatch):
    monkeypatch.setattr(store, "network_place", lambda _path: "SMB")
    with open_again(bench, look, clock, path) as technician:
        assert notice_of(technician).startswith("tarnbeck.workbook lies on a network drive (SMB).")
        technician.take_unit("TB-001")
        technician.strike("y")
        assert len(technician.window.context.bench.entries("TB-001")) == 1


@pytest.fixture
def followed(technician):
    """The windows that went on where the first one closed."""
    windows = []
    technician.window.followed_by.connect(windows.append)
    yield windows
    for window in windows:
        window.close()
        window.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


def test_a_deleted_workbook_is_told_before_the_next_answer_counts_and_work_goes_on_in_a_copy(
    technician, followed, path, tmp_path
):
    technician.take_unit("TB-001")
    technician.strike("y")
    before = technician.window.context.bench.entries("TB-001")
    assert len(before) == 1
    for file in tmp_path.glob("tarnbeck.workbook*"):
        file.unlink()
    keys = iter(("1", "1", "1", "1"))
    while (dialog := dialog_of(technician.window)) is None:
        technician.strike(next(keys))
    assert dialog.windowTitle() == "The workbook's file is gone"
    assert dialog.why.text().startswith(f"tarnbeck.workbook is no longer in {tmp_path} as it was opened")
    assert dialog.why.height() >= dialog.why.heightForWidth(dialog.why.width())
    assert notice_of(technician).startswith("tarnbeck.workbook is no longer in")
    technician.retype(str(tmp_path / "saved.workbook"))
    technician.strike("Enter")
    (window,) = followed
    assert not technician.window.isVisible()
    assert window.context.bench.path == tmp_path / "saved.workbook"
    assert window.context.bench.entries("TB-001") == before
    assert verify_workbook(tmp_path / "saved.workbook") == ()
    goes_on = Technician(window)
    goes_on.settle()
    goes_on.take_unit("TB-001")
    assert notice_of(goes_on) == ""


def test_a_window_whose_file_is_gone_asks_once_before_it_closes(technician, path):
    path.rename(path.with_name("elsewhere.workbook"))
    technician.window.close()
    assert technician.window.isVisible()
    assert dialog_of(technician.window) is not None
    technician.strike("Esc")
    technician.window.close()
    assert not technician.window.isVisible()


def test_a_file_that_is_put_back_takes_the_notice_away(technician, path):
    elsewhere = path.with_name("elsewhere.workbook")
    path.rename(elsewhere)
    technician.strike("F4")
    assert dialog_of(technician.window) is not None
    technician.strike("Esc")
    elsewhere.rename(path)
    technician.strike("F11")
    assert notice_of(technician) == ""
    assert technician.window.stack.currentWidget().objectName() == "sale"
