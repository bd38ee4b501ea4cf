"""Another unit comes on the bench by a page of its own: the one before is put away, the mark of the next one shown."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton

from benchapp.desktop.bench.in_hand import is_end_of, last_signs
from tests.desktop.bench.test_pages import go_to
from tests.desktop.bench.test_screen import unit_of, work_until


@pytest.fixture
def changing(every_step):
    """TB-001 was worked on, TB-002 is asked for."""
    go_to(every_step, "ask")
    every_step.strike("F5")
    return every_step


def count(technician):
    return sum(len(technician.window.context.bench.entries(mark)) for mark in ("TB-001", "TB-002"))


def click(technician, name):
    QTest.mouseClick(technician.page.findChild(QPushButton, name), Qt.MouseButton.LeftButton)
    technician.settle()


def test_the_first_unit_of_a_session_comes_without_a_page(every_step):
    assert every_step.page.name == "caution"


def test_the_page_names_both_units_and_shows_the_mark(changing):
    assert (changing.view.mark, changing.page.name) == ("TB-002", "change")
    assert changing.reads("change-say") == "Put TB-001 away, take TB-002."
    picture = changing.page.picture.picture()
    assert (picture.away, picture.take) == ("TB-001", "TB-002")
    assert not changing.window.bench.head.isVisible()


@pytest.mark.parametrize("typed", ["002", "02", "TB-002", " 002 "])
def test_the_last_digits_take_it_in_hand(changing, typed):
    changing.type(typed)
    changing.strike("Enter")
    assert (changing.view.mark, changing.page.name) == ("TB-002", "caution")
    assert changing.window.bench.head.isVisible()


@pytest.mark.parametrize("typed", ["001", "2", "", "00", "12"])
def test_anything_else_takes_nothing(changing, typed):
    before = count(changing)
    if typed:
        changing.type(typed)
    changing.strike("Enter")
    assert (changing.page.name, changing.page.field.text(), count(changing)) == ("change", "", before)
    assert changing.complaint


def test_the_tag_of_the_unit_takes_it_in_hand(changing):
    changing.scan("TB-002 1A2B3C4D")
    assert (changing.view.mark, changing.page.name) == ("TB-002", "caution")


def test_the_tag_of_the_unit_before_goes_back_to_it(changing):
    changing.scan("TB-001 1A2B3C4D")
    assert (changing.view.mark, changing.page.name) == ("TB-001", "ask")


def test_esc_stays_with_the_unit_before(changing):
    changing.strike("Esc")
    assert (changing.view.mark, changing.page.name) == ("TB-001", "ask")


def test_the_mouse_takes_it_in_hand(changing):
    for digit in "002":
        click(changing, f"change-{digit}")
    click(changing, "change-take")
    assert changing.page.name == "caution"


def test_no_key_of_the_bench_answers_for_a_unit_that_is_not_in_hand(changing):
    before = count(changing)
    for key in ("F6", "F9", "Ctrl+D", "Ctrl+U"):
        changing.strike(key)
        assert changing.page.name == "change"
        assert "Take TB-002 in your hand first" in changing.complaint
    assert count(changing) == before
    changing.strike("Ctrl+L")
    assert changing.page.name == "record"
    changing.strike("Esc")
    assert changing.page.name == "change"


def test_the_same_unit_is_resumed_without_a_page(every_step):
    go_to(every_step, "ask")
    every_step.strike("F2", "F4")
    assert every_step.page.name == "ask"
    every_step.take_unit("TB-001")
    assert every_step.page.name == "ask"


def test_a_unit_that_was_scanned_is_in_hand(every_step):
    every_step.scan("TB-002")
    assert (every_step.view.mark, every_step.page.name) == ("TB-002", "caution")


def test_what_was_scanned_while_a_unit_may_be_live_comes_after_its_way_back(technician):
    technician.take_unit("TB-001")
    work_until(technician, unit_of(), lambda: technician.view.supply == "limited" and technician.page.name == "reading")
    technician.scan("TB-002")
    assert (technician.view.mark, technician.page.name) == ("TB-001", "reading")
    assert "then TB-002 comes" in technician.complaint
    technician.strike("Esc")
    assert technician.view.step.way_back
    work_until(technician, unit_of(), lambda: technician.page.name == "change")
    assert technician.reads("change-say") == "Put TB-001 away, take TB-002."
    assert not technician.window.context.bench.state("TB-001").energised


def test_so_much_of_a_mark_is_asked_for():
    assert [last_signs(mark) for mark in ("TB-002", "TB-1234", "7", "AB")] == ["002", "234", "7", "AB"]
    assert is_end_of("12", "TB-012", "TB-011")
    assert not is_end_of("12", "TB-112", "TB-012"), "it ends both"
