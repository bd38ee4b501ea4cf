"""On a screen of 1024 by 700, with text at twice its size, the two lit pins and the field stand in sight."""

import pytest
from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QScrollArea

from tests.desktop.windows import window_on
from tests.journeys.shift import Shift


def area_of(widget):
    above = widget.parentWidget()
    while not isinstance(above, QScrollArea):
        above = above.parentWidget()
    return above


def assert_in_sight(technician):
    """Every lit pin with its ring lies inside what is seen of the page, and the window is no larger than the screen."""
    window, page = technician.window, technician.page
    window.look.set_percent(200)
    window.resize(1024, 700)
    for _ in range(3):
        technician.settle()
    page.take_focus()  # as when the page is turned to
    technician.settle()
    assert window.width() <= 1024
    assert window.height() <= 700
    area = area_of(page.face)
    seen = area.viewport().rect()
    pins = page.face.lit()
    assert len(pins) == 2
    offset = page.face.mapTo(area.viewport(), QPoint(0, 0))
    for pin in pins:
        assert seen.contains(pin.translated(offset).toAlignedRect()), (pin, offset, seen)
    assert seen.contains(page.field.mapTo(area.viewport(), page.field.rect().bottomLeft()))


@pytest.mark.parametrize("page", ["reading", "search"])
def test_a_dead_pair_is_lit_in_sight(look, bench, page):
    with window_on(look, bench, initials="", size=(1024, 700)) as technician:
        shift = Shift(technician, "TB-001", defect={"part": "outlet.2, outlet.3", "mode": "crossed"})
        shift.take_in(count=1)
        shift.work_until_page("fault")
        technician.strike("F10" if page == "search" else "F3")
        assert technician.page.name == page
        assert_in_sight(technician)


@pytest.mark.parametrize("page", ["reading", "search"])
def test_a_live_pair_is_lit_in_sight_above_the_large_key(look, bench, page):
    with window_on(look, bench, initials="", size=(1024, 700)) as technician:
        shift = Shift(technician, "TB-001")
        shift.take_in(count=1)
        shift.work_until(lambda: technician.address.startswith("live-voltage.outputs") and technician.due == "step")
        technician.type("5 V")
        if page == "search":
            technician.strike("F10")
        assert technician.page.name == page
        assert technician.window.bench.off.isVisible()
        assert_in_sight(technician)
