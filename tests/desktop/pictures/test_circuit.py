"""The circuit on the pages of search, fault and repair, and two points chosen on it."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QRectF

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


def test_the_fault_and_its_repair_show_the_part_in_the_circuit(searching):
    searching.strike("Ctrl+Enter")
    assert searching.page.name == "fault"
    assert [part for part, _words in circuit(searching).picture().suspects] == ["low-a"]
    searching.strike("Enter")
    assert searching.page.name == "repair"
    assert [part for part, _words in searching.page.picture.picture().suspects] == ["low-a"]


@pytest.mark.parametrize("size", [(480, 200), (640, 200), (460, 130)])
def test_no_share_covers_the_line_of_another_part_where_there_is_room_beside_it(searching, size):
    """The share of a suspect on the live side stood on the earth line, right above it."""
    look, drawn = searching.window.look, circuit(searching).picture()
    suspects = (("cord-live", "56 %"), ("cord-neutral", "1 %"), ("low-a", "26 %"))
    marked, box = replace(drawn, suspects=suspects), QRectF(0, 0, *size)
    earth = [marked.place(node, box, look) for node in ("plug.E", "chassis")]
    badges = dict(marked.badges(box, look))
    assert set(badges) == {"56 %", "1 %", "26 %"}
    assert all(box.contains(badge) for badge in badges.values())
    below = max(point.y() for point in earth)
    assert badges["56 %"].top() > below
    assert not badges["56 %"].intersects(badges["1 %"])
