"""Two points of one's own choice in the search: clicked or keyed on the circuit and on the face of a connector."""

import math

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest

from benchapp.desktop.widgets.points import LEAST_TARGET, PointButton
from tests.desktop.bench.test_search import search


@pytest.fixture
def searching(walked_to):
    """The first pair that is asked lies on the outlet alone."""
    return search(walked_to, "low-a")


def place(view, terminal):
    """Where it is drawn."""
    at = next(point.at for point in view.points() if point.terminal == terminal)
    return QPoint(round(at.x()), round(at.y()))


def press_at(technician, view, at):
    """A press of the mouse on the window there, as the window system brings it: it finds its widget by itself."""
    QTest.mouseClick(technician.window.windowHandle(), Qt.MouseButton.LeftButton, pos=view.mapTo(technician.window, at))
    technician.settle()


def click(technician, view, terminal):
    press_at(technician, view, place(view, terminal))


def buttons(view):
    return [one for one in view.findChildren(PointButton) if one.isVisible()]


@pytest.mark.parametrize(("first", "second"), [("face", "face"), ("circuit", "circuit"), ("face", "circuit")])
def test_two_points_chosen_by_clicks_are_read_and_recorded(searching, first, second):
    page = searching.page
    click(searching, getattr(page, first), "outlet.1")
    click(searching, getattr(page, second), "outlet.4")
    assert searching.reads("search-probe") == "Black probe on pin 1 of the outlet, red probe on pin 4 of the outlet."
    assert searching.at_keyboard().objectName() == "search-field"
    assert {touch.spot for part in page.face.parts() for touch in part.touches} == {"1", "4"}
    searching.type("OL")
    searching.strike("Enter")
    content = searching.window.context.bench.entries("TB-001")[-1].content
    assert "outlet.1" in str(content)
    assert "outlet.4" in str(content)


def test_a_pin_that_is_lit_on_the_face_can_be_chosen_too(searching):
    lit = searching.page.asked().a
    click(searching, searching.page.face, lit)
    assert searching.page.pair.first == lit


@pytest.mark.parametrize("name", ["face", "circuit"])
def test_two_points_are_chosen_by_keys(searching, name):
    view = getattr(searching.page, name)
    terminals = [point.terminal for point in view.points()]
    view.setFocus()
    searching.strike("Space", "Down", "Space")
    assert searching.page._own == (terminals[0], terminals[1])
    assert searching.at_keyboard().objectName() == "search-field"


@pytest.mark.parametrize("name", ["face", "circuit"])
def test_tab_reaches_one_point_and_arrows_the_others(searching, name):
    view = getattr(searching.page, name)
    searching.tab_to(buttons(view)[0].objectName())
    walked = []
    for _ in buttons(view):
        walked.append(searching.at_keyboard().accessibleName())
        searching.strike("Right")
    assert walked == [point.words for point in view.points()]
    assert sum(bool(one.focusPolicy() & Qt.FocusPolicy.TabFocus) for one in buttons(view)) == 1


@pytest.mark.parametrize("percent", [100, 200])
@pytest.mark.parametrize("name", ["face", "circuit"])
def test_each_point_is_a_named_button_of_the_least_size(searching, name, percent):
    searching.window.look.set_percent(percent)
    searching.settle()
    view = getattr(searching.page, name)
    found = buttons(view)
    assert found or (name, percent) == ("circuit", 200)  # the circuit gives way to large text
    for one, point in zip(found, view.points() if found else (), strict=True):
        told = QAccessible.queryAccessibleInterface(one)
        assert told.role() == QAccessible.Role.Button
        assert told.text(QAccessible.Text.Name) == point.words
        assert min(one.width(), one.height()) >= LEAST_TARGET
        assert one.geometry().contains(QPoint(round(point.at.x()), round(point.at.y())))


@pytest.mark.parametrize("size", [(1200, 800), (1366, 768), (1920, 1080)])
def test_neighbouring_pins_of_the_face_leave_each_other_a_whole_target(searching, size):
    searching.window.resize(*size)
    searching.settle()
    places = [point.at.toTuple() for point in searching.page.face.points()]
    assert min(math.dist(a, b) for i, a in enumerate(places) for b in places[i + 1 :]) >= LEAST_TARGET


@pytest.mark.parametrize("name", ["face", "circuit"])
@pytest.mark.parametrize("beside", [(0, 0), (11, 0), (0, -11), (-8, 8)])
def test_a_click_within_the_least_target_chooses_its_pin(searching, name, beside):
    view = getattr(searching.page, name)
    press_at(searching, view, place(view, "outlet.1") + QPoint(*beside))
    assert searching.page.pair.first == "outlet.1"


def test_a_click_beside_every_point_chooses_nothing(searching):
    page = searching.page
    press_at(searching, page.circuit, QPoint(page.circuit.width() // 2, 16))
    press_at(searching, page.face, QPoint(4, 4))
    assert page.pair.first == ""


def test_the_first_point_chosen_once_more_is_let_go(searching):
    click(searching, searching.page.face, "outlet.1")
    click(searching, searching.page.circuit, "outlet.1")
    assert searching.page.pair.first == ""
    assert searching.page._own is None


def test_the_first_point_is_marked_wherever_it_is_drawn_and_said(searching, heard):
    page = searching.page
    click(searching, page.face, "outlet.1")
    marked = [one.accessibleName() for view in (page.face, page.circuit) for one in buttons(view) if one._marked]
    assert len(marked) == 2
    assert all(words.replace(",", "").split() for words in marked)
    assert heard[-1].startswith("First point: ")


def test_no_point_can_be_chosen_while_the_search_weighs(searching):
    page = searching.page
    page._weigh(searching.view)
    assert not page.pair.open
    click(searching, page.face, "outlet.1")  # the weighing is over by the end of this
    assert page._own is None


def test_the_face_of_a_reading_page_has_no_points_to_choose(every_step):
    from tests.desktop.bench.test_pages import go_to

    go_to(every_step, "reading")
    assert buttons(every_step.page.face) == []
