"""Which suspect is taken over from the search: the one that is marked, by keys, and none where nothing is wrong."""

import pytest

from tests.desktop.bench.test_search import probe, search
from tests.desktop.bench.test_small_screen import area_of
from tests.desktop.walks import unit_of


@pytest.fixture
def searching(walked_to):
    """The joint at pin 1 is open: three suspects are left."""
    return search(walked_to, "low-a")


def test_the_arrow_keys_mark_another_suspect_and_it_is_the_one_taken_over(searching):
    page = searching.page
    assert page.suspects.row_at_hand() == 0
    searching.strike("Down")
    assert searching.at_keyboard().objectName() == "search-field"
    second = page._search.diagnosis.suspects[1]
    assert page.marked() == second
    searching.type("12.")
    searching.strike("Up", "Up", "Down")
    assert page.field.text() == "12."
    searching.strike("Ctrl+Enter")
    assert searching.page.name == "fault"
    assert searching.page.part.part() == second.part
    words = searching.page.words.text()
    assert words.startswith(f"{second.words[0].upper()}{second.words[1:]}.")
    assert all(reading in words for reading in second.speaks_for)
    assert not any(reading in words for reading in second.speaks_against)


def test_every_suspect_can_be_brought_into_sight_by_keys(searching):
    window, page = searching.window, searching.page
    window.look.set_percent(200)
    window.resize(1024, 700)
    searching.settle()
    for number, _ in enumerate(page.suspects.rows()):
        assert page.suspects.row_at_hand() == number
        searching.strike("Down")
        row = page.suspects.visualRect(page.suspects.currentIndex())
        middle = page.suspects.viewport().mapTo(area_of(page.suspects).viewport(), row.center())
        assert area_of(page.suspects).viewport().rect().contains(middle)
    searching.type("1")
    assert (
        area_of(page.field)
        .viewport()
        .rect()
        .contains(page.field.mapTo(area_of(page.field).viewport(), page.field.rect().center()))
    )


def test_where_nothing_proves_wrong_the_step_that_failed_is_taken_again(searching):
    """The reading that failed was a slip: pins 1 and 2, read once more, are sound, and so is all around them."""
    address = searching.page._from
    for pair in ("outlet.1,outlet.3=13.4", "outlet.2,outlet.3=12.2", "outlet.2,outlet.4=1.4", "outlet.3,outlet.4=13.4"):
        searching.retype(pair)
        searching.strike("Enter")
    for _ in range(8):
        asked = searching.page.asked()
        if asked is None:
            break
        searching.retype(sound(searching, asked))
        searching.strike("Enter")
    assert searching.page._search.diagnosis.suspects[0].part == ""
    assert searching.reads("search-say").startswith("Every reading agrees with a sound unit.")
    assert "the fault" not in searching.reads("search-say")
    agree = next(hint for hint in searching.window.bench.hints.hints() if hint.key == "Ctrl+Enter")
    assert agree.words == "nothing is wrong: take that step again"
    searching.strike("Ctrl+Enter")
    assert (searching.page.name, searching.address) == ("reading", address)
    assert not searching.view.state.faults


def sound(technician, asked):
    """What a sound unit shows between the two terminals that are asked for."""
    return unit_of().probe(technician.view.plan, asked, technician.page.set_up())


def test_the_example_of_a_pair_names_terminals_of_this_unit(searching):
    assert "as in outlet.1,outlet.2=OL" in searching.reads("search-more")


def test_the_field_says_what_it_takes_now(searching):
    assert searching.reads("search-field-head") == "Reading"
    for _ in range(6):
        if searching.page.asked() is None:
            break
        probe(searching)
    assert searching.reads("search-field-head") == "Another pair"


def test_with_large_text_the_field_of_a_probe_has_room_for_its_reading(searching):
    window, field = searching.window, searching.page.field
    window.look.set_percent(200)
    window.resize(1024, 700)
    searching.settle()
    assert field.width() > field.fontMetrics().horizontalAdvance("888.8 ohm")
