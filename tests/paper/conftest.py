"""What the tests of paper share."""

import pytest

from benchapp.paper.tags.labels import read_label_sheet


@pytest.fixture
def a4():
    """The shipped A4 sheet: two labels across, four down."""
    return read_label_sheet("a4-2-by-4")
