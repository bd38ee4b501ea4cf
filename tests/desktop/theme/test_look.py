"""Text size and colour set of the whole application."""

from PySide6.QtGui import QPalette

from benchapp.desktop.theme.look import SIZES
from benchapp.desktop.theme.tokens import DARK, LIGHT


def test_text_grows_to_twice_its_size_and_no_further(look, qapp):
    small = qapp.font().pointSizeF()
    for _ in range(2 * len(SIZES)):
        look.larger()
    assert look.percent == 200
    assert qapp.font().pointSizeF() == 2 * small


def test_text_never_shrinks_below_the_systems_own(look):
    look.smaller()
    assert look.percent == 100


def test_the_dark_set_lies_under_every_control(look, qapp):
    look.set_dark(True)
    assert qapp.palette().color(QPalette.ColorRole.Window).name() == DARK.ground
    look.set_dark(False)
    assert qapp.palette().color(QPalette.ColorRole.Window).name() == LIGHT.ground


def test_a_change_is_told_to_those_who_paint_by_themselves(look, qtbot):
    with qtbot.waitSignal(look.changed, timeout=1000):
        look.set_dark(True)
