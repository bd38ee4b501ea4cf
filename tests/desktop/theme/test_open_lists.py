"""The rows of an open list of choices: the one at hand can be read, light and dark."""

from collections import Counter

import pytest
from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QApplication, QComboBox

from benchapp.desktop.theme.look import Look
from tests.desktop.theme.test_tokens import SHAPE, contrast

AA = 4.5
"""WCAG 2.2, 1.4.3: text against what is behind it"""


@pytest.mark.qt_log_ignore("This plugin does not support", extend=True)
@pytest.mark.parametrize("dark", [False, True])
def test_the_row_at_hand_of_an_open_list_can_be_read(qapp, qtbot, dark):
    look = Look(qapp, dark=dark)
    box = QComboBox()
    qtbot.addWidget(box)
    box.addItems(["Hot plate", "Loudspeaker", "Mains unit"])
    box.resize(300, 40)
    box.show()
    box.showPopup()
    view = box.view()
    view.setCurrentIndex(box.model().index(1, 0))
    QApplication.processEvents()
    picture = view.viewport().grab(view.visualRect(box.model().index(1, 0))).toImage()
    places = [QPoint(x, y) for x in range(4, 120) for y in range(4, picture.height() - 4)]
    colours = Counter(picture.pixelColor(place).name() for place in places)
    ground = colours.most_common(1)[0][0]
    best = max(contrast(ground, one) for one in colours)
    box.hidePopup()
    look.forget()
    assert best >= AA
    assert contrast(ground, look.tokens.sheet) >= SHAPE  # and it can be told from the rows beside it
