"""The circuit on the pages of search, fault and repair, and two points chosen on it."""

import pytest

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
