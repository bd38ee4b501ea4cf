"""The program's own keys work wherever the keyboard is: no field keeps them for itself."""

import pytest
from PySide6.QtCore import QEvent
from PySide6.QtGui import QAction, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QApplication

from benchapp.desktop.keys import TABLE
from tests.desktop.walks import AT_PINS

SECOND = "continuity.outputs/outlet.1-outlet.3"


@pytest.fixture
def at_pins(walked_to):
    """A technician who has just read one pair of pins and stands before the next, on a page of the same look."""
    technician = walked_to(AT_PINS)
    technician.type("1.3")
    technician.strike("Enter")
    assert (technician.address, technician.page.name) == (SECOND, "reading")
    return technician


def test_the_reading_of_the_pins_before_never_comes_back_into_the_next_field(at_pins):
    field = at_pins.page.field
    assert field.text() == ""
    assert not field.isUndoAvailable()


def test_the_key_that_takes_back_works_in_a_reading_field(at_pins):
    asked = at_pins.window.findChild(QAction, "action-withdraw")
    heard = []
    asked.triggered.connect(lambda _checked=False: heard.append(True))
    at_pins.strike("Ctrl+Z")
    assert heard


def claims(field, sequence):
    key = QKeySequence(sequence)[0]
    asked = QKeyEvent(QEvent.Type.ShortcutOverride, key.key(), key.keyboardModifiers())
    asked.ignore()
    QApplication.sendEvent(field, asked)
    return asked.isAccepted()


def test_a_field_claims_no_key_of_the_program_and_keeps_the_clipboard(at_pins):
    field = at_pins.at_keyboard()
    keys = [one for key in TABLE if not key.typed for one in key.sequences if one.startswith("Ctrl+")]
    assert {one for one in keys if claims(field, one)} == {"Ctrl+V"}
    assert claims(field, "Ctrl+C")
    assert claims(field, "Ctrl+A")
