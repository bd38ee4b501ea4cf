"""Signs carry their meaning by shape and word, not by colour alone."""

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QImage, QPainter

from benchapp.desktop.theme.signs import DISPOSITIONS, JUDGEMENTS, STAGES, Shape, sign_for
from benchapp.desktop.widgets.sign import SignLabel, paint_sign
from benchapp.judgement.statements.statements import Judgement
from benchapp.sequences.planning.entries import Disposition
from benchapp.sequences.planning.state import StageStatus


@pytest.mark.parametrize("group", [STAGES, JUDGEMENTS, DISPOSITIONS], ids=["stages", "judgements", "dispositions"])
def test_signs_that_stand_side_by_side_differ_in_shape_and_in_word(group):
    assert len({sign.shape for sign in group.values()}) == len(group)
    assert len({sign.word for sign in group.values()}) == len(group)


@pytest.mark.parametrize(
    ("states", "group"),
    [(StageStatus, STAGES), (Judgement, JUDGEMENTS), (Disposition, DISPOSITIONS)],
    ids=["stage", "judgement", "disposition"],
)
def test_every_state_of_the_engine_has_its_sign(states, group):
    assert {str(state) for state in states} == set(group)


def test_shapes_differ_in_black_and_white_at_a_small_size(qapp):
    assert len({_drawn(shape) for shape in Shape}) == len(Shape)


def test_a_sign_is_read_aloud_as_its_word(look, shown):
    label = shown(SignLabel(look, "one"))
    label.show_state("conditional fail")
    assert label.accessibleName() == label.words() == "conditional fail"


def test_a_state_without_a_sign_of_its_own_shows_its_word():
    assert sign_for("somewhere else").word == "somewhere else"


def _drawn(shape: Shape) -> bytes:
    image = QImage(14, 14, QImage.Format.Format_Grayscale8)
    image.fill(QColor("white"))
    painter = QPainter(image)
    paint_sign(painter, QRectF(0, 0, 14, 14), shape, QColor("black"), QColor("white"))
    painter.end()
    return bytes(image.constBits())
