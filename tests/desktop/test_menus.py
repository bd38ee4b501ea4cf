"""The menu bar: filled from the table of keys, with what can be done now, and no height of its own."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QDialog, QMenu

from benchapp.desktop.keys import KEYS
from benchapp.desktop.menu_table import LINE, MENUS, RECENT, THEMES
from tests.desktop.walks import AT_LIVE
from tests.desktop.windows import window_on


def opened(technician, name):
    """A menu as it is when it is opened."""
    menu = technician.window.menus.findChild(QMenu, f"menu-{name}")
    menu.aboutToShow.emit()
    return menu


def items(menu):
    return {one.objectName().removeprefix("menu-item-"): one for one in menu.actions() if one.objectName()}


def test_every_entry_of_the_menus_is_a_row_of_the_table_of_keys():
    rows = [row for _title, rows in MENUS for row in rows]
    assert [row for row in rows if row not in (LINE, RECENT, THEMES, *KEYS)] == []


def test_the_menus_are_those_that_people_look_for(technician):
    titles = [one.text().replace("&", "") for one in technician.window.menus.actions()]
    assert titles == ["File", "Edit", "View", "Bench", "Sale", "Trainer", "Help"]


def test_an_entry_says_its_key_and_does_what_the_key_does(technician):
    entry = items(opened(technician, "view"))["sale"]
    assert entry.text() == "Sale table\tF11"
    entry.trigger()
    technician.settle()
    assert technician.window.stack.currentWidget().objectName() == "sale"
    assert items(opened(technician, "view"))["sale"].isChecked()


def test_what_cannot_be_done_here_stands_in_the_menu_and_is_pale(technician):
    technician.strike("F2")
    assert not items(opened(technician, "bench"))["again"].isEnabled()
    technician.take_unit("TB-001")
    assert items(opened(technician, "bench"))["again"].isEnabled()


def test_a_plug_that_was_cut_off_is_said_so_from_the_menu_on_the_outcome_page_alone(technician):
    """Without it nobody scraps a mains unit by mouse."""
    technician.take_unit("TB-001")
    assert not items(opened(technician, "bench"))["destroyed"].isEnabled()
    technician.strike("F6")
    assert technician.page.name == "outcome"
    entry = items(opened(technician, "bench"))["destroyed"]
    assert entry.isEnabled()
    entry.trigger()
    technician.settle()
    assert technician.window.findChild(QDialog, "sure-dialog") is not None
    technician.strike("Esc")


def test_one_entry_prints_wherever_printing_means_something(technician):
    technician.strike("F2")
    assert items(opened(technician, "file"))["print"].text() == "Print tags or stickers of the lot\tCtrl+P"
    technician.strike("F11")
    assert items(opened(technician, "file"))["print"].text() == "Print the tags shown\tCtrl+P"


def test_a_field_is_edited_from_the_menu(technician):
    technician.window.bar.to_initials()
    technician.type("XY")
    items(opened(technician, "edit"))["select all"].trigger()
    assert technician.window.bar.initials.selectedText() == "XY"


def test_colours_are_chosen_from_the_menu(technician):
    opened(technician, "view")
    themes = technician.window.menus.findChild(QMenu, "menu-themes")
    items(themes)["dark theme"].trigger()
    assert technician.window.look.theme == "dark"
    items(themes)["strong contrast"].trigger()
    assert technician.window.look.contrast
    technician.window.look.set_dark(False)


@pytest.mark.parametrize("percent", [100, 200])
def test_on_a_small_screen_the_menus_take_no_height_from_the_page(look, bench, percent):
    look.set_percent(percent)
    with window_on(look, bench, size=(1024, 700)) as technician:
        window = technician.window
        with_menus = window.stack.height()
        window.menus.hide()
        technician.settle()
        assert window.stack.height() == with_menus
        assert window.width() <= 1024


def test_where_room_is_short_all_menus_stand_in_one(look, bench):
    look.set_percent(200)
    with window_on(look, bench, size=(1024, 700)) as technician:
        assert technician.window.menus.folded
        assert len(technician.window.menus.actions()) == 1
        assert items(opened(technician, "help"))["about program"].isEnabled()


def test_a_unit_is_found_by_the_last_digits_of_its_mark(technician):
    technician.strike("Ctrl+F")
    dialog = technician.window.findChild(QDialog, "find-dialog")
    technician.type("9")
    technician.strike("Enter")
    assert dialog.complaint.text() == "No unit of this workbook has a mark that ends in “9”."
    technician.retype("2")
    technician.strike("Enter")
    assert technician.window.bench.mark == "TB-002"


def test_help_names_the_keys_of_the_table(technician):
    technician.strike("Shift+F1")
    dialog = technician.window.findChild(QDialog, "help-dialog")
    said = " ".join(one.text() for one in dialog.findChildren(object) if hasattr(one, "text"))
    assert "{" not in said
    assert "On the lots (F2) press Ctrl+N." in said
    technician.strike("Esc")


def test_the_second_safety_key_works_where_mains_is_on_the_unit_in_a_field_too(walked_to):
    technician = walked_to(AT_LIVE)
    technician.type("1")
    technician.strike("Ctrl+Backspace")
    assert technician.page.name == "hazard"
    technician.strike("Esc")
    QTest.mouseClick(technician.window.bench.off, Qt.MouseButton.LeftButton)
    technician.settle()
    assert technician.page.name == "hazard"
