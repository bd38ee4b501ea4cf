"""What was painted is shown again as it was, until what is seen, its size or the look is another."""

import pytest
from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtWidgets import QWidget

from benchapp.desktop.theme.signs import Shape
from benchapp.desktop.widgets.kept_painting import KEPT, KeptPaintings
from benchapp.desktop.widgets.sign import paint_sign
from benchapp.desktop.widgets.texts import label


@pytest.fixture
def painted(qtbot, look):
    widget = QWidget()
    qtbot.addWidget(widget)
    calls = []
    kept = KeptPaintings(widget, look)

    def of(seen, width=40):
        return kept.of(seen, QSize(width, 20), lambda _painter: calls.append(seen))

    return of, calls


def test_the_same_is_painted_once(painted):
    of, calls = painted
    assert of("face") is of("face")
    assert calls == ["face"]


def test_what_is_seen_its_size_and_the_look_are_each_painted_anew(painted, look):
    of, calls = painted
    of("face")
    of("another face")
    of("face", 41)
    look.set_dark(True)
    of("face")
    look.set_percent(150)
    of("face")
    assert calls == ["face", "another face", "face", "face", "face"]


def test_only_the_last_paintings_are_kept(painted):
    of, calls = painted
    for number in range(KEPT + 1):
        of(number)
    of(KEPT)
    of(0)
    assert calls == [*range(KEPT + 1), 0]


def picture_of(shape, *, scaled):
    image = QImage(64, 64, QImage.Format.Format_ARGB32)
    image.fill(Qt.GlobalColor.white)
    painter = QPainter(image)
    if scaled:  # a painter that is scaled draws the shape itself
        painter.scale(2, 2)
    side = 20.0 if scaled else 40.0
    paint_sign(painter, QRectF(QPointF(6, 6) if scaled else QPointF(12, 12), QSize(side, side)), shape, *COLOURS)
    painter.end()
    return image


COLOURS = (QColor("#205030"), QColor("#ffffff"))


@pytest.mark.parametrize("shape", Shape)
def test_a_sign_that_is_kept_looks_as_the_one_that_is_drawn(qapp, shape):
    kept, drawn = picture_of(shape, scaled=False), picture_of(shape, scaled=True)
    points = [(x, y) for x in range(64) for y in range(64)]
    apart = sum(abs(kept.pixelColor(x, y).green() - drawn.pixelColor(x, y).green()) for x, y in points)
    ink = sum(255 - drawn.pixelColor(x, y).green() for x, y in points)
    assert ink > 0
    assert apart < 0.02 * ink


def test_a_label_keeps_its_height_for_a_width_until_its_words_or_its_font_change(look, shown):
    words = label("said", words="The quick reading of a slow meter is no reading. " * 4)
    shown(words, 300, 200)
    usual = words.heightForWidth(200)
    assert words.heightForWidth(200) == usual
    assert words.heightForWidth(400) < usual
    look.set_percent(200)
    assert words.heightForWidth(200) > 1.5 * usual
    words.setText("OL")
    assert words.heightForWidth(200) < usual
