"""Two halves side by side or in a column, in a page that scrolls."""

import pytest
from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QScrollArea, QVBoxLayout, QWidget

from benchapp.desktop.widgets.split import Split
from benchapp.desktop.widgets.texts import label

MOST_RESIZES = 40
"""of a page that comes to rest; one that does not would go on until the stack is full"""


class Page(QWidget):
    """Counts how often it is made another size."""

    def __init__(self):
        super().__init__()
        self.resizes = 0

    def resizeEvent(self, event):  # noqa: N802 - Qt's own name
        self.resizes += 1
        assert self.resizes < MOST_RESIZES, "it goes to and fro"
        super().resizeEvent(event)


def half(name):
    made = label(name, "", "words that wrap " * 20)
    made.setMinimumWidth(400)
    return made


@pytest.fixture
def page(look, shown):
    made = Page()
    layout = QVBoxLayout(made)
    layout.setContentsMargins(0, 0, 0, 0)
    made.split = Split(look, half("one"), half("other"), shares=(1, 1), narrow=10)
    layout.addWidget(made.split)
    area = QScrollArea()
    area.setWidgetResizable(True)
    area.setWidget(made)
    made.area = shown(area, 1000, 300)
    return made


def side_by_side(page):
    one, other = page.split._halves
    return one.y() == other.y()


@pytest.mark.parametrize("width", [1000, 850, 830, 815, 800, 700, 500, 390, 300])
def test_a_page_of_any_width_comes_to_rest(page, width):
    page.resizes = 0
    page.area.resize(width, 300)
    for _ in range(5):
        QCoreApplication.processEvents()
    assert page.resizes < MOST_RESIZES
    assert side_by_side(page) == (page.width() >= 2 * 400 + page.split.layout().spacing())


def test_it_asks_for_no_more_width_than_in_a_column(page):
    assert page.split.minimumSizeHint().width() == 400
