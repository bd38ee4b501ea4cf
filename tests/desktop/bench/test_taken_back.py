"""Ctrl+Z names what was done last and takes it back, wherever the keyboard is; the record page does it for any line."""

import pytest
from PySide6.QtWidgets import QApplication, QPushButton

from benchapp.actions.entries.outcome import set_disposition
from tests.desktop.walks import AT_EARTH, AT_PINS, unit_of, work_until

EARTH = "continuity.earth"
FIRST, SECOND = "continuity.outputs/outlet.1-outlet.2", "continuity.outputs/outlet.1-outlet.3"


@pytest.fixture
def failed(walked_to):
    """An earth path of too many ohms, just recorded."""
    technician = walked_to(AT_EARTH)
    technician.type("2 ohm")
    technician.strike("Enter")
    return technician


@pytest.fixture
def second_pins(walked_to):
    """One pair of pins was read; the page of the next, of the same look, is shown."""
    technician = walked_to(AT_PINS)
    technician.type("1.3")
    technician.strike("Enter")
    assert (technician.address, technician.page.name) == (SECOND, "reading")
    return technician


def newest(technician, mark="TB-001"):
    return technician.window.context.bench.entries(mark)[-1]


def asked():
    dialog = QApplication.activeModalWidget()
    return dialog.objectName() if dialog is not None else ""


def test_a_failed_reading_of_safety_is_taken_back_with_a_reason_and_not_without(failed):
    found = newest(failed)
    assert (found.address, found.content.judgement) == (EARTH, "fail")
    failed.strike("Ctrl+Z")
    assert asked() == "take-back-dialog"
    failed.strike("Enter")
    assert failed.reads("take-back-complaint").startswith("Say why")
    assert newest(failed).number == found.number
    failed.retype("the probe stood on paint")
    failed.strike("Enter")
    assert (newest(failed).kind, newest(failed).content.why) == ("withdrawal", "the probe stood on paint")


def test_that_a_danger_stays_open_is_said_before_and_on_the_page_that_asks_again(failed):
    failed.strike("Ctrl+Z")
    stays = "It stays open until somebody has looked again: The earth path is too high or open."
    assert stays in failed.reads("take-back-follows")
    failed.retype("the probe stood on paint")
    failed.strike("Enter")
    work_until(failed, unit_of(), lambda: failed.address == EARTH and failed.page.name == "reading")
    assert failed.page.say.text().startswith("Found here, and taken back: The earth path is too high or open.")


def test_in_a_reading_field_the_reading_before_is_named_and_then_taken_back(second_pins):
    given = newest(second_pins)
    second_pins.strike("Ctrl+Z")
    assert second_pins.reads("take-back-what") == "take back: reading 1.3 at Outlet 1 to 2 of TB-001"
    assert "Outlet 1 to 2" in second_pins.reads("take-back-follows")
    assert newest(second_pins).number == given.number
    second_pins.strike("Enter")
    assert (newest(second_pins).kind, newest(second_pins).content.number) == ("withdrawal", given.number)
    assert (second_pins.address, second_pins.page.field.text()) == (FIRST, "")


def test_who_changes_their_mind_takes_nothing_back_and_keeps_what_was_typed(second_pins):
    given = newest(second_pins)
    second_pins.type("13")
    second_pins.strike("Ctrl+Z", "Esc")
    assert newest(second_pins).number == given.number
    assert (second_pins.address, second_pins.page.field.text()) == (SECOND, "13")
    second_pins.strike("Ctrl+Z", "Enter")
    second_pins.type("1.3")
    second_pins.strike("Enter")
    assert (second_pins.address, second_pins.page.field.text()) == (SECOND, "13")


def test_the_price_of_another_unit_is_taken_back_from_the_sale_table(second_pins):
    bench = second_pins.window.context.bench
    for price in ("10.00", "12.00"):
        set_disposition(bench, "TB-003", "hold", by="AB", price=price)
    second_pins.strike("F11", "Ctrl+Z")
    assert second_pins.reads("take-back-what") == "take back: price 12.00 of TB-003"
    assert "hold, price 10.00" in second_pins.reads("take-back-follows")
    second_pins.strike("Enter")
    assert bench.unit("TB-003").price == "10.00"
    assert "Taken back: price 12.00 of TB-003." in second_pins.said


def test_the_record_page_takes_back_the_line_that_is_chosen(second_pins):
    page, given = second_pins.page, newest(second_pins)
    second_pins.strike("Ctrl+L")
    page = second_pins.page
    numbers = [getattr(row, "number", "") for row in page._rows]
    page.list.go_to(numbers.index(str(given.number)))
    second_pins.strike("Backspace")
    assert second_pins.reads("take-back-what") == "take back: reading 1.3 at Outlet 1 to 2 of TB-001"
    assert "Asked again then: Outlet 1 to 2" in second_pins.reads("take-back-follows")
    second_pins.strike("Enter")
    assert newest(second_pins).content.number == given.number


def test_the_record_page_leads_to_the_step_that_is_answered_again(second_pins):
    given = newest(second_pins)
    second_pins.strike("Ctrl+L")
    page = second_pins.page
    numbers = [getattr(row, "number", "") for row in page._rows]
    page.list.go_to(numbers.index(str(given.number)))
    page.findChild(QPushButton, "record-take-back").click()
    second_pins.settle()
    second_pins.strike("Alt+A")
    assert (second_pins.address, second_pins.page.name) == (FIRST, "reading")
    second_pins.type("1.4")
    second_pins.strike("Enter")
    assert newest(second_pins).content.typed == "1.4"
    assert second_pins.address == SECOND


def test_what_another_person_answered_goes_from_the_record_only_with_a_reason(second_pins):
    given = newest(second_pins)
    second_pins.give_initials("KT")
    second_pins.strike("Ctrl+L")
    page = second_pins.page
    numbers = [getattr(row, "number", "") for row in page._rows]
    page.list.go_to(numbers.index(str(given.number)))
    second_pins.strike("Backspace", "Enter")
    assert second_pins.reads("take-back-complaint").startswith("Say why")
    second_pins.type("the probes were crossed")
    second_pins.strike("Enter")
    assert (newest(second_pins).by, newest(second_pins).content.why) == ("KT", "the probes were crossed")


def test_a_title_in_the_record_is_not_taken_back(second_pins):
    second_pins.strike("Ctrl+L", "Home", "Backspace")
    assert asked() == ""
    assert second_pins.complaint.startswith("Go to an answer first")


def test_taking_back_a_hazard_of_old_equipment_says_who_clears_it_and_how(technician):
    technician.take_unit("TB-001")
    work_until(technician, unit_of(), lambda: technician.page.name == "inspect")
    names = technician.page.names
    technician.mark_rows({"perished-cord": "bad"})
    technician.strike("Ctrl+Z")
    assert "perished-cord" in names
    assert technician.reads("take-back-what") == "take back: bad: perished cord at Old hazards of TB-001"
    assert "A supervisor alone clears what was found, with F9: Cord or wires are perished" in technician.reads(
        "take-back-follows"
    )
    technician.strike("Enter")
    assert technician.said == "Last: Taken back: the answer at Old hazards of TB-001. It stays in the record."
