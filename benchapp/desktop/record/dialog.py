"""The dialog that says whether the record holds, lists what does not, and checks it again."""

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QHBoxLayout, QListWidget, QVBoxLayout, QWidget

from benchapp.desktop.record.keeper import RecordKeeper
from benchapp.desktop.widgets.room import give_room
from benchapp.desktop.widgets.texts import button, label, restyle
from benchapp.desktop.words import tr

FOLLOW = 250
"""milliseconds between two looks at how far a check is"""


class RecordDialog(QDialog):
    """State, differences, and the ways on: check, stop, accept a file that was set back."""

    def __init__(self, keeper: RecordKeeper, parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName("record-dialog")
        self.setWindowTitle(tr("Is the record as it was recorded?"))
        self._keeper = keeper
        self.state = label("record-state", "quiet")
        self.list = QListWidget()
        self.list.setObjectName("record-differences")
        self.list.setAccessibleName(tr("What does not hold"))
        self.list.setWordWrap(True)
        self.check = button("record-check", tr("&Check the whole record"), "main")
        self.stop = button("record-stop", tr("&Stop"))
        self.accept_older = button("record-accept", tr("&Accept this file as the newest"))
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        self._timer = QTimer(self)
        self._timer.setInterval(FOLLOW)
        self._lay_out()
        self._connect()
        self._show()

    def _lay_out(self) -> None:
        ways = QHBoxLayout()
        for way in (self.check, self.stop, self.accept_older):
            ways.addWidget(way)
        ways.addStretch(1)
        layout = QVBoxLayout(self)
        layout.addWidget(label("record-title", "title", tr("Is the record as it was recorded?")))
        layout.addWidget(self.state)
        layout.addWidget(self.list, 1)
        layout.addLayout(ways)
        layout.addWidget(self.buttons)
        give_room(self, wide=36, high=20)

    def _connect(self) -> None:
        self.check.clicked.connect(self._keeper.check)
        self.stop.clicked.connect(self._keeper.cancel)
        self.accept_older.clicked.connect(self._keeper.accept)
        self.buttons.rejected.connect(self.reject)
        self._keeper.changed.connect(self._show)
        self._timer.timeout.connect(self._show)

    def _show(self) -> None:
        keeper = self._keeper
        self.state.setText(keeper.words)
        restyle(self.state, "complaint" if keeper.worry and not keeper.busy else "quiet")
        lines = [one.words for one in keeper.differences]
        if lines != [self.list.item(row).text() for row in range(self.list.count())]:
            self.list.clear()
            self.list.addItems(lines)
        self.list.setVisible(bool(lines))
        self.check.setEnabled(not keeper.busy)
        self.stop.setEnabled(keeper.busy)
        self.accept_older.setVisible(bool(keeper.set_back))
        (self._timer.start if keeper.busy else self._timer.stop)()
