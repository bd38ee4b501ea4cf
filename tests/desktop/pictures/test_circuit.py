"""The circuit on the pages of search, fault and repair, and two points chosen on it."""

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

from tests.desktop.bench.test_search import search


@pytest.fixture
def searching(walked_to):
    return search(walked_to, "low-a")


def circuit(technician):
    return technician.page.circuit


def test_the_suspects_are_marked_with_their_shares_and_the_pair_is_lit(searching):
    drawn, page = circuit(searching).picture(), searching.page
    shares = {suspect.part: f"{max(1, round(100 * suspect.share))} %" for suspect in page._search.diagnosis.suspects}
    assert drawn.suspects
    assert all(shares[part] == words for part, words in drawn.suspects)
    assert drawn.points == (page.asked().a, page.asked().b)
    assert "To touch: pin" in circuit(searching).accessibleDescription()


def click(view, terminal):
    at = view._shown().place(terminal, view._box(), view._look)
    QTest.mouseClick(view, Qt.MouseButton.LeftButton, pos=QPoint(round(at.x()), round(at.y())))


def test_two_points_chosen_by_clicks_are_read_and_recorded(searching):
    click(circuit(searching), "outlet.1")
    click(circuit(searching), "outlet.4")
    assert searching.reads("search-probe") == "Black probe on pin 1 of the outlet, red probe on pin 4 of the outlet."
    assert searching.at_keyboard().objectName() == "search-field"
    assert {touch.spot for part in searching.page.face.parts() for touch in part.touches} == {"1", "4"}
    searching.type("OL")
    searching.strike("Enter")
    content = searching.window.context.bench.entries("TB-001")[-1].content
    assert "outlet.1" in str(content)
    assert "outlet.4" in str(content)


def test_two_points_are_chosen_by_keys(searching):
    view = circuit(searching)
    view.setFocus()
    first = view._shown().diagram.terminals[0]
    searching.strike("Space", "Down", "Space")
    second = view._shown().diagram.terminals[1]
    assert searching.page._own == (first, second)


def test_a_click_beside_every_terminal_chooses_nothing(searching):
    QTest.mouseClick(circuit(searching), Qt.MouseButton.LeftButton, pos=QPoint(circuit(searching).width() // 2, 16))
    assert circuit(searching)._first == ""


def test_the_fault_and_its_repair_show_the_part_in_the_circuit(searching):
    searching.strike("Ctrl+Enter")
    assert searching.page.name == "fault"
    assert [part for part, _words in circuit(searching).picture().suspects] == ["low-a"]
    searching.strike("Enter")
    assert searching.page.name == "repair"
    assert [part for part, _words in searching.page.picture.picture().suspects] == ["low-a"]
