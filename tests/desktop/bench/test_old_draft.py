"""A half-typed reading of another day, or of another meter, comes back marked as old and selected."""

from tests.desktop.bench.test_pages import go_to


def count(technician):
    return len(technician.window.context.bench.entries("TB-001"))


def away_and_back(technician):
    technician.strike("F6")
    assert technician.page.name == "outcome"
    technician.strike("F6")
    assert technician.page.name == "reading"


def half_type_and_come_back_tomorrow(technician, clock):
    go_to(technician, "reading")
    technician.type("48")
    technician.strike("F6")
    clock.pass_days(1)
    technician.strike("F6")
    go_to(technician, "reading")  # the caution of the day is read before


def test_what_was_half_typed_today_comes_back_as_it_was(every_step):
    go_to(every_step, "reading")
    every_step.type("48")
    away_and_back(every_step)
    assert every_step.page.field.text() == "48"
    assert not every_step.page.old.isVisible()


def test_what_was_half_typed_another_day_is_marked_selected_and_never_recorded(every_step, clock):
    half_type_and_come_back_tomorrow(every_step, clock)
    page, before = every_step.page, count(every_step)
    assert page.field.selectedText() == "48"
    assert page.old.isVisible()
    assert "Old: half typed" in page.old.text()
    assert "2026" in page.old.text()
    every_step.strike("Enter")
    assert count(every_step) == before
    assert "Old: half typed" in every_step.complaint
    away_and_back(every_step)
    assert page.old.isVisible(), "going away and back makes nothing new"
    every_step.type("4")
    assert page.field.text() == "4"
    assert not page.old.isVisible()
    every_step.type("85.6")
    every_step.strike("Enter")
    assert count(every_step) == before + 1


def test_what_was_half_typed_with_another_meter_is_marked(every_step):
    go_to(every_step, "reading")
    every_step.type("48")
    page = every_step.page
    page.keep_draft()
    drafts = every_step.window.context.drafts
    kept = dict(drafts.take("TB-001", page.address()))
    drafts.keep("TB-001", page.address(), kept | {"with": "tb-m9", "meter": "Meter nine"})
    page.show_unit(every_step.view)
    assert page.field.selectedText() == "48"
    assert "with Meter nine" in page.old.text()


def test_an_old_draft_of_one_step_marks_no_other(every_step, clock):
    half_type_and_come_back_tomorrow(every_step, clock)
    every_step.window.context.drafts.clear("TB-001", every_step.page.address())
    every_step.page.show_unit(every_step.view)
    assert not every_step.page.old.isVisible()
    assert every_step.page.field.text() == ""
