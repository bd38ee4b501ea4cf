"""How a day goes: the text of resources/help, with the keys of the table put in."""

import re

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QVBoxLayout, QWidget

from benchapp.desktop.keys import key_text
from benchapp.desktop.widgets.room import give_room
from benchapp.desktop.widgets.scrolling import scrolling
from benchapp.desktop.widgets.texts import label
from benchapp.desktop.words import tr
from benchapp.files.shipped import shipped_folder

_KEY = re.compile(r"{([a-z ]+)}")


def help_text() -> list[str]:
    """The paragraphs, each with its keys; a heading begins with a number sign."""
    written = (shipped_folder("resources") / "help" / "day.txt").read_text(encoding="utf-8")
    parts = [" ".join(part.split()) for part in written.split("\n\n")]
    return [_KEY.sub(lambda found: key_text(found[1]), tr(part)) for part in parts if part]


class HelpDialog(QDialog):
    """The text, to be scrolled by keys."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName("help-dialog")
        self.setWindowTitle(tr("How a day goes"))
        sheet = QWidget()
        column = QVBoxLayout(sheet)
        for number, part in enumerate(help_text()):
            is_head = part.startswith("# ")
            column.addWidget(label(f"help-{number}", "title" if is_head else "", part.removeprefix("# ")))
        column.addStretch(1)
        area = scrolling(sheet)
        area.setObjectName("help-area")
        area.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        area.setAccessibleName(self.windowTitle())
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        layout = QVBoxLayout(self)
        layout.addWidget(area, 1)
        layout.addWidget(buttons)
        give_room(self, wide=44, high=34)
        area.setFocus()
