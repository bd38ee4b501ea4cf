"""A failed reading of safety is taken back by its key only with a reason."""

import pytest
from PySide6.QtWidgets import QApplication

from tests.desktop.bench.test_screen import unit_of, work_until

EARTH = "continuity.earth"


@pytest.fixture
def failed(technician):
    """An earth path of too many ohms, just recorded."""
    technician.take_unit("TB-001")
    work_until(technician, unit_of(), lambda: technician.address == EARTH and technician.page.name == "reading")
    technician.type("2 ohm")
    technician.strike("Enter")
    return technician


def newest(technician):
    return technician.window.context.bench.entries("TB-001")[-1]


def test_a_failed_reading_of_safety_is_taken_back_with_a_reason_and_not_without(failed):
    found = newest(failed)
    assert (found.address, found.content.judgement) == (EARTH, "fail")
    failed.strike("Ctrl+Z")
    assert QApplication.activeModalWidget().objectName() == "reason-dialog"
    failed.strike("Enter")
    assert failed.reads("reason-complaint").startswith("Say why")
    assert newest(failed).number == found.number
    failed.retype("the probe stood on paint")
    failed.strike("Enter")
    assert (newest(failed).kind, newest(failed).content.why) == ("withdrawal", "the probe stood on paint")
