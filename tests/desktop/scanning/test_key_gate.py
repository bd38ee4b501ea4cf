"""A scan goes to no field, list, button or dialog of the window, on any page; what fingers typed does, in its order."""

import pytest
from PySide6.QtWidgets import QApplication

from tests.desktop.bench.test_pages import go_to

PAGES = ["caution", "inspect", "work", "ask", "meter", "reading", "wait", "compute", "photo"]


def told(technician, field):
    """What is said of a scan, in the dialog of that field and at the foot."""
    line = getattr(field.window(), "complaint", None)
    said = (line.text() if line is not None and line.isVisible() else "", technician.said)
    return [words for words in said if "all at once" in words]


def count(technician):
    return sum(len(technician.window.context.bench.entries(mark)) for mark in ("TB-001", "TB-002"))


@pytest.mark.parametrize("page", PAGES)
@pytest.mark.parametrize("code", ["111", "y12", "5012345678900", "d3 6"])
def test_a_code_of_nothing_takes_nothing_on_a_page_and_is_told(every_step, page, code):
    go_to(every_step, page)
    before, drafted = count(every_step), every_step.page.draft()
    for apart in (1, 30):
        every_step.scan(code, apart=apart)
    assert count(every_step) == before
    assert every_step.page.name == page
    assert every_step.page.draft() == drafted
    assert f"“{code}” came all at once" in every_step.complaint
    assert "came all at once" not in every_step.said


@pytest.mark.parametrize("code", ["TB-001", "TB-002", "345", "666 1A2B3C4D"])
def test_no_scan_at_the_outcome_page_settles_what_becomes_of_a_unit(every_step, code):
    every_step.strike("F6")
    assert every_step.page.name == "outcome"
    before = count(every_step)
    every_step.scan(code)
    assert count(every_step) == before
    assert QApplication.activeModalWidget() is None


def test_a_scan_at_the_lots_goes_to_that_unit(every_step):
    every_step.strike("F2")
    every_step.scan("TB-002 1A2B3C4D")
    assert every_step.view.mark == "TB-002"
    assert every_step.window.stack.currentWidget() is every_step.window.bench


def test_a_scan_of_the_unit_at_hand_says_that_it_is(every_step):
    go_to(every_step, "ask")
    every_step.scan("TB-001")
    assert "TB-001 is the unit at hand" in every_step.complaint


@pytest.mark.parametrize("end", ["\r", "\t", ""])
def test_a_scan_into_a_dialog_is_no_text_of_it_and_is_told(every_step, end):
    every_step.strike("F2", "Ctrl+N")
    every_step.type("Shelf")
    field = every_step.at_keyboard()
    every_step.scan("TB-002", end=end)
    assert field.text() == "Shelf"
    assert field.hasFocus()
    (words,) = told(every_step, field)
    assert words.endswith("nothing was taken. If you typed it, type it again; to scan, close this first.")
    if field.window() is not every_step.window:
        field.window().close()


def test_what_is_typed_before_and_after_a_scan_stands(every_step):
    go_to(every_step, "reading")
    every_step.type("48")
    every_step.scan("5012345678900")
    every_step.type("5.6")
    assert every_step.page.field.text() == "485.6"


def test_a_reading_from_a_meter_that_is_none_that_types_is_not_taken(every_step):
    go_to(every_step, "reading")
    before = count(every_step)
    every_step.scan("480.2 ohm")
    assert count(every_step) == before
    assert every_step.page.field.text() == ""
    assert "came all at once" in every_step.complaint


def test_two_keys_struck_in_one_are_no_answer_and_are_told(every_step):
    go_to(every_step, "ask")
    before = count(every_step)
    every_step.scan("12", end="")
    assert count(every_step) == before
    assert "Two keys were struck at once" in every_step.complaint
    assert "Two keys" not in every_step.said


def test_of_two_refusals_one_after_the_other_the_last_stands_alone(every_step):
    go_to(every_step, "ask")
    every_step.scan("5012345678900")
    every_step.scan("12", end="")
    assert every_step.complaint == "Two keys were struck at once: neither was taken. One key, please."
    every_step.scan("5012345678900")
    every_step.window.bench.tell_early("12")
    assert every_step.complaint.startswith("“5012345678900” came all at once")
    assert "was typed before this page was in sight" not in every_step.complaint


def test_a_scan_at_the_lots_that_is_no_tag_is_told_at_the_foot(every_step):
    every_step.strike("F2")
    every_step.scan("5012345678900")
    assert every_step.said.startswith("“5012345678900” came all at once")
    assert not every_step.window.bench.complaint.isVisible()


def test_two_keys_rolled_in_one_are_text_in_a_field(every_step):
    go_to(every_step, "reading")
    every_step.scan("48", end="")
    assert every_step.page.field.text() == "48"


def test_a_scan_finds_its_unit_where_one_is_looked_for(every_step):
    every_step.strike("Ctrl+F")
    every_step.scan("TB-002 1A2B3C4D")
    assert every_step.view.mark == "TB-002"


def test_a_key_that_waits_is_none_of_the_page_that_is_turned_to_meanwhile(every_step):
    go_to(every_step, "ask")
    before = count(every_step)
    every_step._send("1", every_step.at_keyboard(), 9000, 1)
    every_step.window.bench.navigation.turn()
    every_step.settle()
    assert count(every_step) == before
    assert "“1” was typed before this page was in sight" in every_step.complaint


def test_a_scan_that_begins_on_one_page_and_ends_on_the_next_is_one_scan(every_step):
    go_to(every_step, "ask")
    before = count(every_step)
    gate = every_step.window.keyboard.bursts.gate
    read = []
    gate.burst.connect(lambda text, _at: read.append(text))
    for number, sign in enumerate("TB-009"):
        every_step._send(sign, every_step.at_keyboard(), 9000 + 12 * number, 1)
        if number == 2:
            every_step.window.keyboard.held_keys.turn_page()
    every_step.settle()
    assert read == ["TB-009"]
    assert count(every_step) == before


def test_what_a_device_stumbles_over_behind_a_burst_is_no_answer(every_step):
    go_to(every_step, "ask")
    before = count(every_step)
    every_step.scan("TB-", end="")
    every_step._send("1", every_step.at_keyboard(), every_step._fingers + 60, 1)
    every_step.settle()
    assert count(every_step) == before


def test_keys_of_one_settling_page_wait_longer_for_a_slow_scanner(every_step):
    every_step.strike("F6")
    before = count(every_step)
    every_step.scan("666", apart=80)
    assert count(every_step) == before
    every_step.strike("6")
    assert count(every_step) == before + 1
