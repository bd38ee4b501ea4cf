"""Text size and colour set of the whole application."""

import os
import subprocess
import sys
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QPalette, QRawFont

from benchapp.desktop.theme.look import SIGNS, SIZES, Look
from benchapp.desktop.theme.tokens import DARK, LIGHT

ROOT = Path(__file__).resolve().parents[3]


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


def test_the_system_is_followed_until_the_person_says_otherwise(qapp):
    hints = qapp.styleHints()
    look = Look(qapp)
    try:
        hints.setColorScheme(Qt.ColorScheme.Dark)
        assert look.dark == (hints.colorScheme() == Qt.ColorScheme.Dark)
        assert look.tokens is (DARK if look.dark else LIGHT)
        look.set_dark(False)
        assert look.tokens is LIGHT
    finally:
        hints.unsetColorScheme()
        look.forget()


def test_strong_contrast_is_the_systems_wish_until_the_person_says_otherwise(look, qapp):
    assert look.contrast_chosen == "system"
    assert not look.contrast  # the offscreen platform wishes nothing
    look.set_contrast("strong")
    assert qapp.palette().color(QPalette.ColorRole.WindowText).name() == look.tokens.ink == "#000000"
    look.set_dark(True)
    assert look.tokens.ink == "#ffffff"
    look.set_contrast("system")
    assert not look.contrast


def test_a_font_is_there_that_can_show_the_trades_signs(look):
    raw = QRawFont.fromFont(look.font())
    assert raw.isValid()
    assert [sign for sign in SIGNS if not raw.supportsCharacter(ord(sign))] == []


def test_a_machine_without_any_font_gets_the_bundled_one(tmp_path):
    """In a process of its own, with a font configuration that knows no folder of fonts."""
    empty = tmp_path / "fonts.conf"
    folders = f"<dir>{tmp_path}</dir><cachedir>{tmp_path}/cache</cachedir>"
    empty.write_text(f"<fontconfig>{folders}</fontconfig>", encoding="utf-8")
    program = (
        "from PySide6.QtWidgets import QApplication; from PySide6.QtGui import QRawFont; made = QApplication([]);"
        "from benchapp.desktop.theme.look import SIGNS, Look; look = Look(made); raw = QRawFont.fromFont(look.font());"
        "print(raw.familyName(), all(raw.supportsCharacter(ord(sign)) for sign in SIGNS))"
    )
    done = subprocess.run(
        [sys.executable, "-c", program],
        cwd=ROOT,
        env={**os.environ, "FONTCONFIG_FILE": str(empty), "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )
    assert done.stdout.strip() in ("DejaVu Sans True", "DejaVu Sans Condensed True"), done.stderr
