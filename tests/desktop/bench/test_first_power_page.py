"""First power in the window: what limits it, where to switch off, and what comes after too much current."""

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

from benchapp.actions.papers.tag_content import tag_content
from tests.desktop.walks import Place, unit_of, work_until

CURRENT = "first-power.current"


@pytest.fixture
def at_current(walked_to):
    return walked_to(Place(at=CURRENT, page="reading"))


def test_off_at_once_above_stands_large_and_first(at_current):
    page = at_current.page
    assert page.stop.isVisibleTo(page)
    assert page.stop.text().startswith("Off at once above 22 mA")
    assert page.stop.property("kind") == "off"
    assert page.stop.mapTo(page, QPoint()).y() < page.field.mapTo(page, QPoint()).y()


def test_the_lamp_that_cannot_tell_is_refused_with_the_one_that_can(walked_to):
    technician = walked_to(Place(at="first-power.lamp-watts"))
    technician.type("500 W")
    technician.strike("Enter")
    assert "The workshop's largest lamp is 150 W" in technician.complaint
    assert technician.address == "first-power.lamp-watts"


def test_after_too_much_current_the_way_back_then_the_search_and_no_power(at_current):
    technician = at_current
    technician.type("300 mA")
    assert technician.reads("reading-sentence").count("Switch off at once, at the wall or by the plug.") == 1
    technician.strike("Enter")
    assert technician.view.state.energised
    technician.strike("F10")
    assert technician.address.startswith("make-safe.")
    why = technician.window.bench.why_here
    assert why.text() == "It may still be live: make it safe first, then the search goes on."
    assert why.mapTo(technician.window, QPoint()).y() < technician.page.mapTo(technician.window, QPoint()).y()
    assert technician.reads("position") == "Make it safe, step 1 of 7"
    work_until(technician, unit_of(), lambda: technician.page.name == "search")
    assert not technician.view.state.energised
    assert not why.isVisible()
    suspects = technician.page.suspects.rows()
    assert suspects
    assert "300 mA" in " ".join(row.detail for row in suspects)
    assert not {row.id: row.holds for row in technician.view.conditions_of("limited")}["cause"]
    due = technician.view.state.due
    assert (str(due.kind), "no power again before the cause is found" in due.words) == ("repair", True)


def test_what_the_search_finds_behind_too_much_current_is_the_fault_on_record_and_on_the_tag(at_current):
    technician = at_current
    technician.type("300 mA")
    technician.strike("Enter", "F10")
    work_until(technician, unit_of(), lambda: technician.page.name == "search")
    assert technician.reads("supply") == "Plug out, in sight"
    found = technician.page.marked()
    assert found.part
    technician.strike("Ctrl+Enter")
    assert technician.page.name == "repair"
    fault = next(one for one in technician.view.state.faults if one.address == CURRENT)
    assert (fault.part, fault.mode) == (found.part, str(found.faults[0].mode))
    assert len([one for one in technician.view.state.faults if one.status == "open"]) == 1
    assert technician.page.part.part() == found.part
    assert fault.mode in technician.reads("repair-say")
    failed = " ".join(tag_content(technician.window.context.bench, "TB-001").failed)
    assert found.words[1:] in failed  # a sentence begins with a capital
    assert "wrong current" not in failed
    assert not {row.id: row.holds for row in technician.view.conditions_of("limited")}["cause"]


@pytest.fixture
def unexplained(at_current):
    """Too much current, the way back gone: the repair page stands there, and no part was found."""
    at_current.type("300 mA")
    at_current.strike("Enter")
    work_until(at_current, unit_of(), lambda: at_current.page.name == "repair")
    return at_current


def test_before_the_part_is_found_the_repair_page_says_so_and_leads_to_the_search(unexplained):
    assert "nobody knows yet" in unexplained.reads("repair-say")
    QTest.mouseClick(unexplained.page.search, Qt.MouseButton.LeftButton)
    unexplained.settle()
    assert unexplained.page.name == "search"


def test_at_the_repair_nothing_is_there_to_switch_off_and_smoke_can_still_be_recorded(unexplained):
    assert unexplained.reads("supply") == "Plug out, in sight"
    assert not unexplained.window.bench.off.isVisible()
    unexplained.strike("F12")
    assert unexplained.page.name == "hazard"


def test_ticks_for_the_part_that_was_suspected_first_are_not_those_of_the_part_that_was_found(unexplained):
    before = unexplained.page.part.part()
    unexplained.strike("Enter", "F10")
    while unexplained.page.marked().part in ("", before):
        unexplained.strike("Down")
    found = unexplained.page.marked().part
    unexplained.strike("Ctrl+Enter")
    assert unexplained.page.name == "repair"
    assert (unexplained.page.part.part(), unexplained.page.marks) == (found, {})
    assert not unexplained.page.search.isVisible()
    fault = next(one for one in unexplained.view.state.faults if one.address == CURRENT)
    assert fault.words[0].isupper()
    assert "entry " not in fault.words


def test_a_number_without_its_unit_is_said_as_what_it_was_taken_for(at_current):
    at_current.type("190")
    assert "“Plug-in mains meter with leakage current” cannot show this on AC current" in at_current.complaint
    assert "it is taken as 190 A: type the unit too" in at_current.complaint
    at_current.type("mA")
    assert at_current.complaint == ""


def test_what_a_sound_one_draws_is_said_in_two_digits(at_current):
    assert at_current.reads("reading-why-head") == "It should read about 7.1 to 22 mA. Why:"


def test_an_example_of_a_reading_is_of_the_size_that_is_read_here(at_current):
    at_current.type("abc")
    assert at_current.complaint.endswith("for example 9.12 mA.")


def test_the_band_is_spelled_in_one_way_and_said_once(at_current):
    assert at_current.reads("reading-why-head") == "It should read about 7.1 to 22 mA. Why:"
    why = at_current.reads("reading-why")
    assert "mA to" not in why
    assert "Off at once" not in why
    assert "No current at all" in why
    at_current.type("15 mA")
    assert at_current.reads("reading-sentence").startswith("15 mA is inside 7.1 to 22 mA, by more than")


def test_at_the_edge_of_the_band_its_exact_limit_is_said(at_current):
    """22.1 mA is inside 22.15 mA, and would be outside "22 mA"."""
    at_current.type("22.1 mA")
    assert at_current.reads("reading-sentence").startswith("22.1 mA is inside 7.1 mA to 22.15 mA")
