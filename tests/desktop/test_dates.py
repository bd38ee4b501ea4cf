"""Times on screen are written as the people of the place write them; nothing but the screen is."""

import re

import pytest
from PySide6.QtCore import QLocale

from benchapp.desktop.dates import shown_minute


@pytest.fixture
def locale():
    before = QLocale()
    yield lambda name: QLocale.setDefault(QLocale(name))
    QLocale.setDefault(before)


@pytest.mark.parametrize(
    ("name", "date"),
    [("en_GB", "04/05/2026"), ("en_US", "5/4/2026"), ("de_DE", "04.05.2026"), ("sv_SE", "2026-05-04")],
    ids=lambda value: value if "_" in value else "",
)
def test_a_date_is_written_as_the_place_writes_it_with_a_year_of_four_digits(locale, name, date):
    locale(name)
    assert shown_minute("2026-05-04T12:30:00.000Z").startswith(f"{date} ")


def test_the_clock_is_that_of_the_place(locale):
    locale("en_US")
    assert re.search(r"\d:30.(AM|PM)$", shown_minute("2026-05-04T12:30:00.000Z"))
    locale("de_DE")
    assert re.search(r" \d\d:30$", shown_minute("2026-05-04T12:30:00.000Z"))


def test_no_time_is_shown_as_none():
    assert shown_minute("") == ""
