"""What is said of a burst that belongs nowhere: once, in the right place, and what to do then."""

import pytest
from PySide6.QtWidgets import QWidget

from benchapp.desktop.scanning.router import BurstRouter


@pytest.fixture
def window(shown):
    return shown(QWidget())


def test_without_a_workbook_what_came_at_once_is_to_be_typed_again(window):
    said = []
    BurstRouter(window, lambda: None, said.append).take("TB-002 \r", window)
    assert said == [
        (
            "“TB-002” came all at once, as a scanner types: nothing was taken. "
            "If you typed it, type it again; to scan, open a workbook first."
        )
    ]


def test_two_keys_in_one_are_told_on_the_page_where_one_is_in_sight_and_nowhere_else(window):
    foot, page = [], []
    router = BurstRouter(window, lambda: None, foot.append)
    router.gate.two_at_once.emit(window)
    router.say_on_page = page.append
    router.gate.two_at_once.emit(window)
    words = "Two keys were struck at once: neither was taken. One key, please."
    assert (foot, page) == ([words], [words])
