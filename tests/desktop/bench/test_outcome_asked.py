"""Scrap and a destroyed plug ask which unit it is and why; no key alone does either, and both are put right by keys."""

import pytest
from PySide6.QtWidgets import QApplication


def last(technician):
    """What was recorded last for the unit at hand; None where nothing was."""
    return next(reversed(technician.window.context.bench.entries(technician.view.mark)), None)


def answer(technician, end, why):
    """Fill in what is asked."""
    assert QApplication.activeModalWidget().objectName() == "sure-dialog"
    technician.retype(end)
    technician.tab_to("sure-why")
    technician.retype(why)
    technician.strike("Enter")


@pytest.fixture
def outcome(technician):
    technician.take_unit("TB-002")
    technician.strike("F6")
    return technician


@pytest.mark.parametrize("key", ["d", "5"])
def test_one_key_alone_does_nothing_for_good(outcome, key):
    outcome.strike(key, "Enter")
    assert QApplication.activeModalWidget().objectName() == "sure-dialog"
    outcome.strike("Esc")
    assert last(outcome) is None
    assert outcome.page.name == "outcome"


def test_the_end_of_another_mark_is_refused_and_a_reason_is_asked(outcome):
    outcome.strike("d")
    answer(outcome, "01", "cracked")
    assert "look at the tag on the unit" in outcome.reads("sure-complaint")
    answer_again = QApplication.activeModalWidget()
    answer_again.end.setText("02")
    answer_again.why.clear()
    answer_again.go()
    assert "Say why" in outcome.reads("sure-complaint")
    answer_again.why.setText("cracked")
    answer_again.go()
    outcome.settle()
    assert (last(outcome).kind, last(outcome).content.note) == ("plug-destroyed", "cracked")


def test_both_are_put_right_by_the_same_keys_with_a_reason(outcome):
    outcome.strike("d")
    answer(outcome, "02", "cracked")
    outcome.strike("5")
    answer(outcome, "02", "charred")
    assert last(outcome).content.disposition == "scrap"
    outcome.strike("6")
    answer(outcome, "02", "only soot")
    assert (last(outcome).content.disposition, last(outcome).content.note) == ("quarantine", "only soot")
    outcome.strike("F6") if outcome.page.name != "outcome" else None
    outcome.strike("d")
    assert "on after all" in QApplication.activeModalWidget().windowTitle()
    answer(outcome, "02", "it was TB-003")
    assert (last(outcome).kind, last(outcome).content.why) == ("plug-kept", "it was TB-003")


def test_a_supervisor_lifts_a_hold_by_keys_with_a_reason(outcome):
    outcome.give_initials("SV")
    outcome.strike("4")
    outcome.settle()
    assert last(outcome).content.disposition == "hold"
    outcome.strike("F6") if outcome.page.name != "outcome" else None
    outcome.strike("6")
    answer(outcome, "02", "the owner was found")
    outcome.settle()
    assert (last(outcome).content.disposition, last(outcome).content.note) == ("quarantine", "the owner was found")
