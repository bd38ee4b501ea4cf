"""The bar at the top: it marks the screen that is shown, and lets the keyboard go again."""

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from tests.desktop.walks import AT_LIVE


def marked(technician):
    return [name for name, one in technician.window.bar.buttons.items() if one.isChecked()]


def test_a_screen_that_was_not_gone_to_is_not_marked(walked_to):
    technician = walked_to(AT_LIVE)
    QTest.mouseClick(technician.window.bar.buttons["lots"], Qt.MouseButton.LeftButton)
    technician.settle()
    technician.strike("Enter")  # stays with it
    assert marked(technician) == ["bench"]


def test_esc_leads_from_the_bar_back_to_the_page(technician):
    technician.take_unit("TB-001")
    technician.window.bar.buttons["lots"].setFocus()
    technician.strike("Esc")
    assert technician.window.bench.page.isAncestorOf(technician.at_keyboard())
    assert marked(technician) == ["bench"]
