"""Where pins may be live, a change of meter or dial is confirmed: leads off first, the meter drawn large."""

from benchapp.desktop.pictures.meter_picture import MeterPicture
from benchapp.sequences.interlock.set_up import ON_VOLTS
from tests.desktop.bench.test_pages import go_to
from tests.desktop.walks import AT_LIVE, unit_of, work_until


def test_the_meter_is_drawn_with_its_tips_off_before_volts_are_read(technician):
    technician.take_unit("TB-001")
    work_until(technician, unit_of(), lambda: technician.page.name == "set-up" and ON_VOLTS in technician.page.names)
    page = technician.page
    assert page.names[0] == ON_VOLTS
    shown = page.picture.picture()
    assert isinstance(shown, MeterPicture)
    assert shown.loose
    assert shown.position == str(technician.view.step.read_on)
    technician.strike("Enter")
    assert page.marks == {ON_VOLTS: "done"}


def test_another_meter_for_a_unit_that_may_be_live_comes_with_leads_off_first(walked_to):
    technician = walked_to(AT_LIVE)
    technician.strike("Ctrl+D")
    assert technician.page.name == "meter"
    assert technician.reads("meter-say").startswith("Leads off every pin first")
    assert isinstance(technician.page.picture.picture(), MeterPicture)


def test_before_the_set_up_another_meter_is_not_chosen_and_the_page_says_why(every_step):
    go_to(every_step, "set-up")
    every_step.strike("Ctrl+D")
    assert every_step.page.name == "set-up"
    assert every_step.complaint == "The set-up comes first: make it and confirm it, then take another meter."
