"""Every control can be named, reached and read, whatever the text size: on every page, screen and dialog."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QAbstractScrollArea,
    QComboBox,
    QHeaderView,
    QLabel,
    QLineEdit,
    QScrollBar,
    QWidget,
)

from benchapp.desktop.bench.page_book import page_classes

CONTROLS = (QAbstractButton, QAbstractItemView, QComboBox, QLineEdit)


def controls(parent):
    """The controls that a person works, not the pieces that Qt makes them of."""
    for widget in parent.findChildren(QWidget):
        inner = isinstance(widget, QScrollBar | QHeaderView) or widget.objectName().startswith("qt_")
        popup = isinstance(widget, QAbstractItemView) and not isinstance(widget.parent(), QWidget)
        of_box = any(isinstance(above, QComboBox | QHeaderView) for above in ancestors(widget))
        if isinstance(widget, CONTROLS) and not (inner or popup or of_box):
            yield widget


def ancestors(widget):
    above = widget.parentWidget()
    while above is not None:
        yield above
        above = above.parentWidget()


def called(widget):
    """What a screen reader says of it."""
    interface = QAccessible.queryAccessibleInterface(widget)
    return interface.text(QAccessible.Text.Name) if interface else widget.accessibleName()


@pytest.fixture
def all_pages(every_step):
    every_step.window.bench.pages.make_all()
    every_step.strike("F2", "F11", "Ctrl+S", "F4")
    return every_step


def test_every_control_has_a_name_for_tests_and_one_for_people(all_pages):
    found = list(controls(all_pages.window))
    assert len(found) > 40
    assert [type(widget).__name__ for widget in found if not widget.objectName()] == []
    assert [widget.objectName() for widget in found if not called(widget)] == []


def test_the_new_lot_dialog_too(technician):
    technician.strike("F2", "Ctrl+N")
    dialog = technician.window.findChild(QWidget, "new-lot-dialog")
    found = list(controls(dialog))
    assert len(found) >= 9
    assert [widget.objectName() for widget in found if not called(widget)] == []
    technician.strike("Esc")


def test_tab_reaches_every_control_of_every_page(all_pages):
    bench = all_pages.window.bench
    for page in (page.name for page in page_classes()):
        shown = bench.pages.turn_to(page)
        shown.show_unit(bench.view) if page in ("opening", "outcome") else None
        wanted = {
            widget
            for widget in controls(shown)
            if widget.isVisibleTo(shown) and widget.isEnabled() and widget.focusPolicy() & Qt.FocusPolicy.TabFocus
        }
        assert wanted <= set(reached_by_tab(shown)), page


def reached_by_tab(shown):
    here = shown
    for _ in range(2000):
        here = here.nextInFocusChain()
        if here is shown:
            return
        yield here


@pytest.mark.parametrize("percent", [100, 200])
def test_no_text_of_the_frame_is_cut_off(technician, percent):
    technician.take_unit("TB-001")
    technician.window.look.set_percent(percent)
    technician.settle()
    for name in ("unit", "position", "supply", "unit-title", "caution-say", "caution-words"):
        label = technician.window.findChild(QLabel, name)
        if name == "unit-title" and percent == 200:  # gives way to the work: the mark names the unit
            assert not label.isVisible()
            continue
        needed = label.heightForWidth(label.width()) if label.wordWrap() else label.sizeHint().height()
        assert label.height() >= needed, name
        assert label.wordWrap() or label.width() >= label.sizeHint().width(), name


def test_at_twice_the_size_nothing_has_to_be_scrolled_sideways(all_pages):
    all_pages.window.look.set_percent(200)
    all_pages.settle()
    for area in all_pages.window.bench.pages.findChildren(QAbstractScrollArea):
        if area.objectName().endswith("-area") and area.isVisible():
            assert not area.horizontalScrollBar().isVisible()


def test_at_twice_the_size_the_field_and_the_judgement_stand_in_sight(every_step):
    from tests.desktop.bench.test_pages import go_to

    go_to(every_step, "reading")
    every_step.window.look.set_percent(200)
    every_step.settle()
    page = every_step.page
    area = page.parentWidget()
    field = page.field.mapTo(area, page.field.rect().bottomLeft()).y()
    gauge = page.gauge.mapTo(area, page.gauge.rect().topLeft()).y()
    word = page.gauge.fontMetrics().height() * 2
    assert field < area.height()
    assert gauge + word < area.height()
