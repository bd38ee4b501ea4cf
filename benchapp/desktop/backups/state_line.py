"""One line that says how the workbook is backed up, in the colours of a complaint where somebody should act."""

from PySide6.QtWidgets import QHBoxLayout, QPushButton, QWidget

from benchapp.desktop.backups.keeper import BackupKeeper
from benchapp.desktop.widgets.texts import label, restyle
from benchapp.desktop.words import tr


class BackupLine(QWidget):
    """The sentence of the keeper's state, and behind it the buttons by which one can act."""

    def __init__(self, keeper: BackupKeeper, name: str, *ways: QPushButton) -> None:
        super().__init__()
        self._keeper = keeper
        self.words = label(f"{name}-backup", "quiet")
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.words, 1)
        for way in ways:
            row.addWidget(way)
        keeper.changed.connect(self._show)
        self._show()

    def _show(self) -> None:
        state = self._keeper.state
        restyle(self.words, "complaint" if state and state.worry and not self._keeper.busy else "quiet")
        if self._keeper.busy:
            self.words.setText(tr("Backing up …"))
        else:
            self.words.setText(state.words if state else "")
