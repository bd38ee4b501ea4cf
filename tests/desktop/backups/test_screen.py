"""The page of backups by keys and by mouse, what the board says of them, and backups made while nobody waits."""

import sqlite3
from contextlib import closing

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QWidget

from benchapp.actions.backups.keeping import back_up
from benchapp.actions.backups.settings import name_folder, read_settings
from benchapp.actions.workbench.bench import Bench
from benchapp.desktop.backups import keeper
from demo.technician import Technician
from tests.desktop.windows import prove_meters, take_in, window_on


@pytest.fixture(autouse=True)
def unhurried(monkeypatch):
    """The backup after the opening does not come in between, however long a test takes."""
    monkeypatch.setattr(keeper, "AFTER_OPENING", 600_000)


@pytest.fixture
def stick(tmp_path, path, bench):
    folder = tmp_path / "stick"
    name_folder(folder, workbook=path)
    return folder


@pytest.fixture
def before_backups(stick, technician, path, clock):
    """A technician on the page of backups, of which there is one."""
    back_up(path, at=clock())
    technician.strike("Ctrl+S")
    return technician


def click(technician, name):
    found = technician.window.findChild(QAbstractButton, name)
    QTest.mouseClick(found, Qt.MouseButton.LeftButton)
    technician.settle()


def shown(technician):
    return technician.window.stack.currentWidget().objectName()


def test_the_board_says_never_backed_up_with_a_way_to_act(technician):
    technician.window.context.backups.back_up(anew=False)
    technician.settle()
    assert technician.reads("lots-backup") == "Never backed up. No folder for backups is named on this computer."
    assert technician.window.lots.backup.words.property("kind") == "complaint"
    click(technician, "lots-backups")
    assert shown(technician) == "backups"
    technician.strike("Esc")
    assert shown(technician) == "lots"


def test_a_folder_is_named_by_keys_and_the_first_backup_follows(technician, tmp_path, path):
    technician.strike("Ctrl+S")
    assert technician.at_keyboard().objectName() == "backups-folder"
    technician.type(str(tmp_path / "stick"))
    technician.strike("Enter")
    assert read_settings().folder == str(tmp_path / "stick")
    backups = technician.window.backups.backups
    assert backups.rowCount() == 1
    assert backups.index(0, 1).data() == "sound"
    assert technician.reads("page-backup").startswith("Last backup today at ")
    assert technician.said.startswith("Backed up and verified: ")
    assert technician.at_keyboard().objectName() == "backups-table"


def test_a_folder_that_cannot_be_is_told_and_stays_to_be_mended(technician, tmp_path):
    technician.strike("Ctrl+S")
    technician.type(str(tmp_path / "no" / "stick"))
    technician.strike("Enter")
    assert technician.reads("backups-complaint").startswith(f"There is no folder {tmp_path / 'no'}.")
    assert technician.reads("backups-folder") == str(tmp_path / "no" / "stick")
    technician.retype(str(tmp_path / "stick"))
    click(technician, "backups-use")
    assert not technician.window.backups.complaint.isVisible()
    assert read_settings().folder == str(tmp_path / "stick")


def test_each_backup_says_what_it_holds_and_what_the_workbook_has_beyond_it(before_backups):
    technician, backups = before_backups, before_backups.window.backups.backups
    assert backups.index(0, 2).data() == "0 entries of 3 units"
    assert technician.reads("backups-detail").endswith("tarnbeck.workbook has nothing that the backup has not.")
    technician.take_unit("TB-001")
    technician.strike("y", "Ctrl+S")
    assert technician.reads("backups-detail").endswith("has 1 entry that the backup has not: TB-001 (1).")


def test_back_up_now_by_key_and_by_button(before_backups, stick, clock):
    clock.pass_days(0.2)
    before_backups.strike("Ctrl+B")
    assert before_backups.window.backups.backups.rowCount() == 2
    clock.pass_days(0.2)
    click(before_backups, "backups-make")
    assert before_backups.window.backups.backups.rowCount() == 3
    assert len(list(stick.glob("*.workbook"))) == 3


@pytest.mark.parametrize("way", ["key", "button"])
def test_a_backup_is_restored_to_a_new_workbook(before_backups, tmp_path, way):
    if way == "key":
        before_backups.strike("Ctrl+Shift+R")
    else:
        click(before_backups, "backups-restore")
    before_backups.retype(str(tmp_path / "again.workbook"))
    before_backups.strike("Enter")
    assert before_backups.said.startswith(f"{tmp_path / 'again.workbook'} holds what was backed up on ")
    with Bench.open(tmp_path / "again.workbook") as again:
        assert len(again.units()) == 3


def test_a_restore_onto_a_file_stays_in_the_dialog_with_the_reason(before_backups, path):
    before_backups.strike("Ctrl+Shift+R")
    before_backups.retype(str(path))
    before_backups.strike("Enter")
    assert "a backup never takes the place of one" in before_backups.reads("save-complaint")
    before_backups.strike("Esc")


def test_a_backup_damaged_on_the_stick_is_told_by_sign_and_word(before_backups, stick):
    (backup,) = stick.glob("*.workbook")
    content = bytearray(backup.read_bytes())
    content[-1] ^= 1
    backup.write_bytes(content)
    before_backups.strike("F2", "Ctrl+S")
    assert before_backups.window.backups.backups.index(0, 1).data() == "not sound"
    assert "no longer those that were checked" in before_backups.reads("backups-detail")


@pytest.mark.parametrize("way", ["key", "button"])
def test_a_backup_is_looked_into_in_a_window_that_records_nothing(before_backups, stick, way):
    before = sorted((file.name, file.read_bytes()) for file in stick.iterdir())
    if way == "key":
        before_backups.strike("Enter")
    else:
        click(before_backups, "backups-look")
    (window,) = [one for one in QApplication.topLevelWidgets() if one.windowTitle().startswith("For looking only: ")]
    window.activateWindow()
    looking = Technician(window)
    looking.settle()
    assert window.lots.board.board.rowCount() == 3
    looking.give_initials("CD")
    looking.take_unit("TB-001")
    looking.strike("y")
    assert looking.complaint
    assert window.context.bench.unit("TB-001").last_entry == 0
    window.close()
    assert sorted((file.name, file.read_bytes()) for file in stick.iterdir()) == before


def test_a_stick_pulled_out_is_told_on_the_board_and_on_the_page(before_backups, stick):
    stick.rename(stick.with_name("pocket"))
    before_backups.strike("Ctrl+B")
    assert "is not there: plug the disk or stick in" in before_backups.reads("backups-complaint")
    assert "is not there" in before_backups.reads("lots-backup")
    before_backups.take_unit("TB-001")
    before_backups.strike("y")
    assert before_backups.window.context.bench.unit("TB-001").last_entry == 1


def test_a_workbook_that_is_itself_damaged_is_told_and_stays_told(before_backups, path, clock):
    with closing(sqlite3.connect(path)) as connection:
        root = connection.execute("SELECT rootpage FROM sqlite_master WHERE name = 'photos'").fetchone()[0]
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    with path.open("rb+") as file:
        file.seek((root - 1) * 4096)
        file.write(b"\x5a" * 4096)
    clock.pass_days(0.2)
    before_backups.strike("Ctrl+B")
    assert before_backups.reads("backups-complaint").startswith("tarnbeck.workbook itself is damaged (")
    before_backups.strike("F2")
    assert "tarnbeck.workbook itself is damaged (" in before_backups.reads("lots-backup")
    assert before_backups.window.lots.backup.words.property("kind") == "complaint"


def test_closing_the_bench_backs_up(technician, stick, path):
    technician.take_unit("TB-001")
    technician.strike("F8")
    assert technician.reads("opening-backup") == "Never backed up."
    click(technician, "opening-backups")
    assert shown(technician) == "backups"
    technician.strike("F4")
    technician.tab_to("opening-close")
    technician.strike("Space")
    assert len(list(stick.glob("*.workbook"))) == 1
    assert technician.said.startswith("Backed up and verified: ")


def test_closing_the_bench_without_the_stick_says_that_nothing_was_backed_up(technician, stick):
    stick.rename(stick.with_name("pocket"))
    technician.take_unit("TB-001")
    technician.strike("F8")
    technician.tab_to("opening-close")
    technician.strike("Space")
    assert technician.said.startswith("The bench is closed, and nothing was backed up. Never backed up. The folder")
    assert technician.window.context.bench.opening() is None


def test_opening_a_workbook_backs_up_what_was_recorded_since(look, bench, stick, qtbot, monkeypatch):
    monkeypatch.setattr(keeper, "AFTER_OPENING", 50)
    take_in(bench)
    prove_meters(bench)
    with window_on(look, bench):
        qtbot.waitUntil(lambda: len(list(stick.glob("*.receipt.json"))) == 1, timeout=15000)


def test_a_window_closed_during_a_backup_leaves_no_half_of_it(look, bench, stick):
    take_in(bench)
    with window_on(look, bench) as technician:
        technician.window.context.backups.back_up()
    assert [file.suffix for file in stick.iterdir() if file.name.startswith(".")] == []


@pytest.mark.parametrize("percent", [100, 200])
def test_nothing_on_the_page_is_cut_off(before_backups, percent):
    window = before_backups.window
    window.look.set_percent(percent)
    window.resize(1024, 700)
    before_backups.settle()
    assert (window.width(), window.height()) == (1024, 700)
    page = window.backups
    for name in ("page-backup", "backups-detail"):
        widget = page.findChild(QWidget, name)
        assert widget.height() >= widget.heightForWidth(widget.width()), name
    for name in ("backups-make", "backups-look", "backups-restore", "backups-use", "backups-browse"):
        widget = page.findChild(QWidget, name)
        assert widget.width() >= widget.sizeHint().width(), name
        assert page.rect().contains(widget.geometry()), name
    assert page.table.height() >= 4 * page.fontMetrics().height()
