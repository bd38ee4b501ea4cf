"""The window around the screens: keys, initials, text size, and what happens when the program itself is wrong."""

import pytest
from PySide6.QtGui import QGuiApplication

from benchapp.actions.workbench.bench import Bench
from benchapp.desktop.background_tasks import BackgroundTasks
from benchapp.desktop.bug_dialog import BugDialog, details
from benchapp.desktop.change_signals import ChangeSignals
from benchapp.errors import BenchError
from tests.desktop.windows import WORKSHOP, window_on


def test_every_screen_has_its_key(technician):
    for key, name in (("F4", "bench"), ("F11", "sale"), ("F2", "lots")):
        technician.strike(key)
        assert technician.window.stack.currentWidget().objectName() == name
        assert technician.window.bar.buttons[name].isChecked()
    technician.strike("Ctrl+S")
    assert technician.window.stack.currentWidget().objectName() == "backups"


def test_the_bench_without_a_unit_says_what_to_do(technician):
    technician.strike("F4")
    assert technician.reads("bench-empty").startswith("No unit is at hand.")


def test_text_grows_and_shrinks_by_key(technician):
    look = technician.window.look
    technician.strike("Ctrl+=")
    assert look.percent == 115
    technician.strike("Ctrl+-")
    assert look.percent == 100


def test_initials_go_with_the_next_entry(technician):
    technician.take_unit("TB-001")
    technician.give_initials("CD")
    technician.strike("y")
    assert technician.window.context.bench.entries("TB-001")[-1].by == "CD"


def test_all_keys_stand_on_one_page(technician):
    technician.strike("F1")
    dialog = technician.window.findChild(object, "keys-dialog")
    assert dialog.isVisible()
    technician.strike("Esc")


def test_a_mistake_of_the_program_is_shown_once_with_details_to_copy(technician):
    window = technician.window
    window.show_bug(ValueError("first"))
    window.show_bug(ValueError("second"))
    dialogs = [dialog for dialog in window.findChildren(BugDialog) if dialog.isVisible()]
    assert len(dialogs) == 1
    assert "ValueError: first" in dialogs[0].details.toPlainText()
    dialogs[0].findChild(object, "bug-copy").click()
    assert "ValueError: first" in QGuiApplication.clipboard().text()
    technician.strike("Esc")
    window.show_bug(ValueError("third"))
    technician.strike("Esc")


def test_details_say_under_which_versions_it_happened():
    text = details(ValueError("wrong"))
    assert text.startswith("benchapp ")
    assert "Python" in text
    assert "Qt" in text


@pytest.fixture
def tasks(qapp):
    made = BackgroundTasks(ChangeSignals())
    yield made
    made.close()


def fail(problem):
    raise problem


def test_a_sentence_goes_to_the_one_who_asked(tasks, qtbot):
    heard = []
    with qtbot.waitSignal(tasks.idle):
        tasks.read(lambda: fail(BenchError("Not so.")), then=heard.append, refused=heard.append)
    assert heard == ["Not so."]


def test_anything_else_is_a_bug_and_frees_the_one_who_asked(tasks, qtbot):
    heard = []
    with qtbot.waitSignal(tasks.bug) as bug:
        tasks.read(lambda: fail(ZeroDivisionError("by nought")), then=heard.append, refused=heard.append)
    assert str(bug.args[0]) == "by nought"
    assert heard == [""]


def test_reads_come_back_in_the_order_they_were_asked_for(tasks, qtbot):
    heard = []
    for number in range(20):
        tasks.read(lambda number=number: number, then=heard.append)
    qtbot.waitUntil(lambda: len(heard) == 20)
    assert heard == list(range(20))


def test_nothing_is_delivered_after_closing(qapp, qtbot):
    tasks, heard = BackgroundTasks(ChangeSignals()), []
    tasks.read(lambda: 1, then=heard.append)
    tasks.close()
    qapp.processEvents()
    assert heard == []


def test_two_windows_on_one_workbook_see_each_others_entries(technician, look, path, clock):
    bench = Bench.open(path, clock=clock, folders=(WORKSHOP,))
    with window_on(look, bench, initials="CD") as other:
        other.take_unit("TB-001")
        other.strike("y")
        other.mark_rows()
    technician.window.activateWindow()
    technician.settle()
    board = technician.window.lots.board.board
    assert board.index(0, 2).data() == "begun 1/5"
    technician.take_unit("TB-001")
    assert technician.address == "visual-inspection.plug"


def test_who_answers_second_is_told_who_was_first_and_replaces_nothing(technician, look, path, clock):
    technician.take_unit("TB-001")
    technician.strike("y")
    technician.mark_rows()
    bench = Bench.open(path, clock=clock, folders=(WORKSHOP,))
    with window_on(look, bench, initials="CD") as other:
        other.take_unit("TB-001")
        other.strike("y", "1")
    technician.window.activateWindow()
    technician.settle()
    assert technician.address == "visual-inspection.plug", "this window has not looked since"
    technician.strike("2")
    kept = technician.window.context.bench.entries("TB-001")
    assert (kept[-1].by, kept[-1].content.answer) == ("CD", "rewirable")
    told = technician.complaint
    assert told.startswith(f"CD was first here, at TB-001 on {kept[-1].at[:16].replace('T', ' at ')} UTC: pass.")
    assert "Yours was not recorded" in told
    assert technician.address == "visual-inspection.outside", "what the other recorded is shown"
