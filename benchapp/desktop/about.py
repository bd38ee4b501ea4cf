"""What this program is: version, purpose, what to mind, and the licences of all that it holds and rests on."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QHBoxLayout, QListWidget, QPlainTextEdit, QVBoxLayout, QWidget

import benchapp
from benchapp.desktop.icon import program_icon
from benchapp.desktop.licences import Work, all_works
from benchapp.desktop.theme.look import Look
from benchapp.desktop.widgets.room import give_room
from benchapp.desktop.widgets.split import Split
from benchapp.desktop.widgets.texts import PlainLabel, label
from benchapp.desktop.words import tr

PURPOSE = "A workbook that guides the tests of used electrical equipment, records them and prints the tag."
SAFETY = (
    "Mains can kill. This program is a notebook, not a licence: work on mains equipment only as far as you are trained "
    "and allowed, under your local codes and licensed practice."
)
_ICON_LINES = 4
_NARROW = 24
"""below so many heights of a line the text stands under the list"""


class AboutDialog(QDialog):
    """The program, and each work in it with its licence to read."""

    def __init__(self, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName("about-dialog")
        self.setWindowTitle(tr("About this program"))
        self._works: Sequence[Work] = all_works()
        self.list = QListWidget()
        self.list.setObjectName("about-works")
        self.list.setAccessibleName(tr("What is under which licence"))
        self.list.setWordWrap(True)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setTextElideMode(Qt.TextElideMode.ElideNone)
        self.list.setVerticalScrollMode(QListWidget.ScrollMode.ScrollPerPixel)
        self.text = QPlainTextEdit()
        self.text.setObjectName("about-text")
        self.text.setAccessibleName(tr("The licence"))
        self.text.setReadOnly(True)
        self.text.setTabChangesFocus(True)
        self.list.currentRowChanged.connect(self._show_licence)
        for work in self._works:
            self.list.addItem(f"{work.name}\n{work.licence}")
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        layout = QVBoxLayout(self)
        layout.addLayout(self._head())
        layout.addWidget(label("about-safety", "head", tr(SAFETY)))
        layout.addWidget(Split(look, self.list, self.text, shares=(1, 2), narrow=_NARROW), 1)
        layout.addWidget(buttons)
        give_room(self, wide=64, high=34)
        self.list.setCurrentRow(0)
        self.list.setFocus()

    def _head(self) -> QHBoxLayout:
        icon = PlainLabel()
        icon.setObjectName("about-icon")
        icon.setAccessibleName(tr("Icon: a tag with a mains plug"))
        side = self.fontMetrics().height() * _ICON_LINES
        icon.setPixmap(program_icon().pixmap(side, side))
        words = QVBoxLayout()
        words.addWidget(label("about-name", "title", tr("Repair bench")))
        words.addWidget(label("about-version", "quiet", tr("Version {number}").format(number=benchapp.__version__)))
        words.addWidget(label("about-purpose", "", tr(PURPOSE)))
        head = QHBoxLayout()
        head.addWidget(icon)
        head.addLayout(words, 1)
        return head

    def _show_licence(self, row: int) -> None:
        self.text.setPlainText(self._works[row].text)
