"""A hazard of old equipment, by keys: told of before the case is opened, recorded with F9, and cleared there."""

from tests.desktop.bench.test_screen import last
from tests.desktop.walks import DEAD, Place


def test_a_hazard_is_found_by_key_and_shuts_the_unit_with_its_own_words(walked_to):
    technician = walked_to(Place(at="visual-inspection.outside"))
    technician.strike("F9", "7")
    assert technician.page.name == "old-hazard"
    technician.strike("1")
    technician.type("round the element")
    technician.strike("Enter")
    content = last(technician).content
    assert (content.old_hazard, content.severity) == ("asbestos", "do not use")
    assert content.words.endswith("Round the element.")
    assert technician.page.name == "outcome"
    assert "two bags" in technician.view.state.due.words


def test_a_supervisor_clears_it_on_the_same_page_with_a_reason(walked_to):
    technician = walked_to(Place(at="visual-inspection.outside"))
    technician.strike("F9", "7", "1")
    technician.strike("Enter")
    technician.give_initials("SV")
    technician.strike("F9", "7", "1")
    technician.strike("Enter")
    assert "Say how it left the unit" in technician.complaint
    technician.type("glass fibre, seen by the surveyor")
    technician.strike("Enter")
    assert str(last(technician).kind) == "hazard-cleared"
    assert [str(one.status) for one in technician.view.state.faults] == ["closed"]


def test_whoever_opens_the_case_is_told_what_may_be_inside(walked_to):
    technician = walked_to(DEAD)
    technician.strike("F9", "4")
    said = technician.page.say.text()
    assert "look for: Asbestos" in said
    assert "Eye protection on" in said
    assert "Lead solder" in said
