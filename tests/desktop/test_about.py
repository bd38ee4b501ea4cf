"""What the program says of itself: reached by key and by mouse, whole on a small screen, each licence readable."""

import re

import pytest
from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QPushButton, QWidget

import benchapp
from benchapp.desktop.licences import all_works
from tests.desktop.windows import window_on

SMALL = QSize(1000, 660)
"""a screen of 1024 by 700 without the frame of a dialog"""


@pytest.fixture
def about(technician):
    technician.strike("F1", "a")
    yield technician.window.findChild(QWidget, "about-dialog")
    technician.strike("Esc", "Esc")


def test_the_keys_page_leads_to_it_by_its_key_and_back(technician):
    technician.strike("F1", "a")
    assert technician.window.findChild(QWidget, "about-dialog").isVisible()
    technician.strike("Esc")
    assert technician.window.findChild(QWidget, "about-dialog") is None
    assert technician.window.findChild(QWidget, "keys-dialog").isVisible()
    technician.strike("Esc")


def test_the_mouse_comes_to_it_too(technician):
    for name in ("go-keys", "keys-about"):
        QTest.mouseClick(technician.window.findChild(QPushButton, name), Qt.MouseButton.LeftButton)
        technician.settle()
    assert technician.window.findChild(QWidget, "about-dialog").isVisible()
    technician.strike("Esc", "Esc")


def test_it_is_there_before_a_workbook_is_opened(technician):
    technician.window.stack.setCurrentWidget(technician.window.welcome)
    assert technician.window.findChild(QPushButton, "go-keys").isEnabled()


def test_it_names_the_version_the_purpose_and_what_to_mind(about):
    said = " ".join(one.text() for one in about.findChildren(QLabel))
    assert benchapp.__version__ in said
    assert "guides the tests of used electrical equipment" in said
    assert "Mains can kill." in said
    assert "local codes and licensed practice" in said
    assert not about.findChild(QLabel, "about-icon").pixmap().isNull()


def test_every_work_stands_in_the_list_and_its_text_is_shown_by_going_down(about, technician):
    works = all_works()
    assert about.list.count() == len(works) > 15
    for work in works:
        assert work.name in about.list.currentItem().text()
        assert work.licence in about.list.currentItem().text()
        assert about.text.toPlainText() == re.sub(r"\r\n?", "\n", work.text)
        technician.strike("Down")


def test_tab_goes_on_from_the_text_and_a_screen_reader_names_both(about, technician):
    assert technician.at_keyboard() is about.list
    technician.strike("Tab")
    assert technician.at_keyboard() is about.text
    technician.strike("Tab")
    assert technician.at_keyboard() is not about.text
    for widget in (about.list, about.text):
        assert QAccessible.queryAccessibleInterface(widget).text(QAccessible.Text.Name)


@pytest.mark.parametrize("percent", [100, 200])
def test_on_a_small_screen_nothing_is_cut_off_and_a_few_lines_of_a_licence_are_in_sight(look, bench, percent):
    look.set_percent(percent)
    with window_on(look, bench, size=(1024, 700)) as technician:
        technician.strike("F1", "a")
        about = technician.window.findChild(QWidget, "about-dialog")
        about.resize(SMALL)
        technician.settle()
        assert (about.width(), about.height()) == (SMALL.width(), SMALL.height())
        for name in ("about-name", "about-version", "about-purpose", "about-safety"):
            one = about.findChild(QLabel, name)
            assert one.height() >= one.heightForWidth(one.width()), name
        line = about.fontMetrics().height()
        assert about.text.viewport().height() >= 5 * line
        assert about.list.viewport().height() >= 5 * line
        technician.strike("Esc", "Esc")


def test_no_dialog_of_it_is_larger_than_the_screen(technician):
    technician.window.look.set_percent(200)
    room = technician.window.screen().availableSize()
    for key, name in (("F1", "keys-dialog"), ("a", "about-dialog")):
        technician.strike(key)
        size = technician.window.findChild(QWidget, name).size()
        assert size.boundedTo(room) == size, name
    technician.strike("Esc", "Esc")
